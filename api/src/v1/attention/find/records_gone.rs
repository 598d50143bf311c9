//! What a records system listed once and lists no longer. Nothing of ours is deleted for that; somebody
//! should know.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use sea_orm::sea_query::{
    Condition, Expr, ExprTrait, Order, Query, SelectStatement, WindowStatement,
};
use sea_orm::{ActiveEnum, ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::words::{count, day, listed};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency};
use crate::exchange::intake::Kind;
use crate::http::ApiError;

/// How many are named; the rest is counted.
const NAMED: i64 = 3;

#[derive(Debug, FromQueryResult)]
struct Gone {
    grower_id: Uuid,
    kind: Kind,
    system: String,
    their_id: String,
    /// How many of the grower there are, when the first of them went and when the last.
    number: i64,
    oldest: DateTime<Utc>,
    newest: DateTime<Utc>,
}

/// One entry a grower. What was deleted here too needs nobody.
pub(super) async fn missing(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    let mut of_grower: BTreeMap<Uuid, Vec<Gone>> = BTreeMap::new();
    for gone in first_few(asking).await? {
        of_grower.entry(gone.grower_id).or_default().push(gone);
    }
    Ok(of_grower.values().filter_map(|gone| one(asking, gone)).collect())
}

fn one(asking: &Asking<'_>, gone: &[Gone]) -> Option<Found> {
    let Gone { grower_id, number, oldest, newest, .. } = gone.first()?;
    Some(Found {
        kind: AttentionKind::RecordsGone,
        matter: *grower_id,
        object: (AttentionObjectKind::Grower, *grower_id),
        grower_id: Some(*grower_id),
        field_id: None,
        planter_id: None,
        event_at: *newest,
        from: *oldest,
        due: asking.calendar.today(*oldest),
        urgency: Urgency::WhenYouCan,
        reason: reason(gone, *number, &day(asking.calendar.today(*oldest))),
        next: "Ask what became of it; delete it here if it is gone, or end the tie of their id.",
    })
}

fn reason(gone: &[Gone], number: i64, since: &str) -> String {
    let one = |it: &Gone| format!("{} {} of {}", it.kind.word(), it.their_id, it.system);
    let mut named: Vec<String> = gone.iter().map(one).collect();
    if number > NAMED {
        named.push(format!("{} more", number.saturating_sub(NAMED)));
    }
    format!("{} no longer listed, since {since}: {}.", count(number, "record"), listed(&named))
}

/// The first few of each grower that is asked for, with how many there are. An index has all that is read.
async fn first_few(asking: &Asking<'_>) -> Result<Vec<Gone>, ApiError> {
    let of_grower = || WindowStatement::partition_by("grower_id");
    let first_gone =
        of_grower().order_by("gone_since", Order::Asc).order_by("id", Order::Asc).to_owned();
    let columns = ["grower_id", "kind", "system", "their_id"];
    let mut gone = Query::select()
        .columns(columns)
        .expr_window_as(Expr::cust("ROW_NUMBER()"), first_gone, "nth")
        .expr_window_as(Expr::cust("COUNT(*)"), of_grower(), "number")
        .expr_window_as(Expr::cust("MIN(gone_since)"), of_grower(), "oldest")
        .expr_window_as(Expr::cust("MAX(gone_since)"), of_grower(), "newest")
        .from("external_ids")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .and_where(Expr::col("gone_since").is_not_null())
        .and_where(Expr::col("grower_id").is_not_null())
        .cond_where(is_here())
        .to_owned();
    asking.of_growers(&mut gone, ("external_ids", "grower_id"));
    let few = Query::select()
        .columns(columns)
        .columns(["number", "oldest", "newest"])
        .from_subquery(gone, "gone")
        .and_where(Expr::col("nth").lte(NAMED))
        .order_by("nth", Order::Asc)
        .to_owned();
    let rows = asking.db.query_all(&few).await?;
    Ok(rows.iter().map(|row| Gone::from_query_result(row, "")).collect::<Result<_, _>>()?)
}

/// Whether our object is still here: ids outlive what they are of.
fn is_here() -> Condition {
    let tables = [
        (Kind::Grower, "growers"),
        (Kind::Farm, "farms"),
        (Kind::Field, "fields"),
        (Kind::Planter, "planters"),
        (Kind::Yield, "yields"),
    ];
    tables.into_iter().fold(Condition::any(), |any, (kind, table)| {
        let of_kind = Expr::col(("external_ids", "kind")).eq(kind.to_value());
        any.add(of_kind.and(Expr::exists(object(table))))
    })
}

fn object(table: &'static str) -> SelectStatement {
    let same = |one, other| Expr::col((table, one)).equals(("external_ids", other));
    Query::select()
        .expr(Expr::val(1))
        .from(table)
        .and_where(same("practice_id", "practice_id"))
        .and_where(same("id", "object_id"))
        .to_owned()
}

#[cfg(test)]
mod tests {
    use super::{Gone, Kind, reason};
    use uuid::Uuid;

    fn gone(kind: Kind, their_id: &str) -> Gone {
        let at = "2027-04-20T12:00:00Z".parse().expect("a time");
        let (system, their_id) = ("records".to_owned(), their_id.to_owned());
        let grower_id = Uuid::from_u128(7);
        Gone { grower_id, kind, system, their_id, number: 1, oldest: at, newest: at }
    }

    #[test]
    fn the_reason_names_a_few_and_counts_the_rest() {
        assert_eq!(
            reason(&[gone(Kind::Field, "F-1")], 1, "4 May"),
            "1 record no longer listed, since 4 May: field F-1 of records."
        );
        let some = [gone(Kind::Field, "F-1"), gone(Kind::Field, "F-2"), gone(Kind::Planter, "P")];
        assert!(reason(&some, 3, "4 May").ends_with("F-2 of records and planter P of records."));
        assert!(reason(&some, 9, "4 May").ends_with("planter P of records and 6 more."));
    }
}
