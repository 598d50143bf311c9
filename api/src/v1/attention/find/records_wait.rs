//! Records that wait for a person: to say whether they are here already, or may come again although they
//! were erased, or what a planter is made up of.

use std::collections::{BTreeMap, HashMap};

use chrono::{DateTime, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Func, Order, Query, SelectStatement, WindowStatement};
use sea_orm::{ActiveEnum, ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::words::{ago, count, listed};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency};
use crate::exchange::intake::{IntakeWait, Kind};
use crate::http::ApiError;

/// How many records of a kind wait for the same.
#[derive(Debug, FromQueryResult)]
struct Waiting {
    grower_id: Option<Uuid>,
    kind: Kind,
    waits_for: IntakeWait,
    number: i64,
    /// Those of them that were erased here.
    erased: i64,
    oldest: DateTime<Utc>,
    newest: DateTime<Utc>,
}

#[derive(Debug, FromQueryResult)]
struct First {
    grower_id: Option<Uuid>,
    id: Uuid,
}

/// One entry a grower, and one for those of nobody known. What waits for its parent needs nobody.
pub(super) async fn undecided(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    let mut of_grower: BTreeMap<Option<Uuid>, Vec<Waiting>> = BTreeMap::new();
    for waiting in counted(asking).await? {
        of_grower.entry(waiting.grower_id).or_default().push(waiting);
    }
    if of_grower.is_empty() {
        return Ok(Vec::new());
    }
    let firsts = firsts(asking).await?;
    let found = of_grower.iter().filter_map(|(grower, waiting)| {
        let first = firsts.get(grower)?;
        one(asking, *grower, *first, waiting)
    });
    Ok(found.collect())
}

fn one(
    asking: &Asking<'_>,
    grower_id: Option<Uuid>,
    first: Uuid,
    waiting: &[Waiting],
) -> Option<Found> {
    let oldest = waiting.iter().map(|it| it.oldest).min()?;
    Some(Found {
        kind: AttentionKind::RecordsWait,
        matter: grower_id.unwrap_or(asking.scope.practice_id),
        object: (AttentionObjectKind::RecordMatch, first),
        grower_id,
        field_id: None,
        planter_id: None,
        event_at: waiting.iter().map(|it| it.newest).max()?,
        from: oldest,
        due: asking.calendar.today(oldest),
        urgency: Urgency::Soon,
        reason: reason(waiting, &ago(asking, oldest)),
        next: "Say of each which of ours it is, or that it is new.",
    })
}

fn reason(waiting: &[Waiting], since: &str) -> String {
    let of = |waits_for, number: fn(&Waiting) -> i64, words: &str| {
        let those = waiting.iter().filter(|it| it.waits_for == waits_for && number(it) > 0);
        let those: Vec<String> = those.map(|it| count(number(it), it.kind.word())).collect();
        (!those.is_empty()).then(|| format!("{} {words}", listed(&those)))
    };
    let new = |it: &Waiting| it.number - it.erased;
    let said = [
        of(IntakeWait::Decision, new, "of which nobody has said what they are"),
        of(IntakeWait::Decision, |it| it.erased, "erased here and sent again"),
        of(IntakeWait::Makeup, |it| it.number, "without make-up"),
    ];
    let said: Vec<String> = said.into_iter().flatten().collect();
    format!("Records that wait: {}. The first has waited for {since}.", said.join("; "))
}

/// The records that wait for a person, of the growers that are asked for. An index has all that is read.
fn for_people(asking: &Asking<'_>) -> SelectStatement {
    let people = [IntakeWait::Decision, IntakeWait::Makeup].map(|it| it.to_value());
    let mut rows = Query::select()
        .column("grower_id")
        .from("record_matches")
        .and_where(Expr::col("practice_id").eq(asking.scope.practice_id))
        .and_where(Expr::col("waits_for").is_in(people))
        .to_owned();
    asking.of_growers(&mut rows, ("record_matches", "grower_id"));
    rows
}

async fn counted(asking: &Asking<'_>) -> Result<Vec<Waiting>, ApiError> {
    let rows = for_people(asking)
        .columns(["kind", "waits_for"])
        .expr_as(Func::count(Expr::col("id")), "number")
        .expr_as(Func::count(Expr::col("erased_at")), "erased")
        .expr_as(Func::min(Expr::col("created_at")), "oldest")
        .expr_as(Func::max(Expr::col("updated_at")), "newest")
        .group_by_columns(["grower_id", "kind", "waits_for"])
        .order_by("kind", Order::Asc)
        .to_owned();
    let rows = asking.db.query_all(&rows).await?;
    Ok(rows.iter().map(|row| Waiting::from_query_result(row, "")).collect::<Result<_, _>>()?)
}

/// The record of each grower that has waited longest.
async fn firsts(asking: &Asking<'_>) -> Result<HashMap<Option<Uuid>, Uuid>, ApiError> {
    let oldest_first = WindowStatement::partition_by("grower_id")
        .order_by("created_at", Order::Asc)
        .order_by("id", Order::Asc)
        .to_owned();
    let all = for_people(asking)
        .column("id")
        .expr_window_as(Expr::cust("ROW_NUMBER()"), oldest_first, "nth")
        .to_owned();
    let first = Query::select()
        .columns(["grower_id", "id"])
        .from_subquery(all, "waiting")
        .and_where(Expr::col("nth").eq(1))
        .to_owned();
    let rows = asking.db.query_all(&first).await?;
    let rows = rows.iter().map(|row| First::from_query_result(row, ""));
    let rows = rows.collect::<Result<Vec<_>, _>>()?;
    Ok(rows.into_iter().map(|row| (row.grower_id, row.id)).collect())
}

#[cfg(test)]
mod tests {
    use super::{IntakeWait, Kind, Waiting, reason};

    fn waiting(kind: Kind, waits_for: IntakeWait, number: i64) -> Waiting {
        let at = "2027-04-20T12:00:00Z".parse().expect("a time");
        Waiting { grower_id: None, kind, waits_for, number, erased: 0, oldest: at, newest: at }
    }

    #[test]
    fn the_reason_counts_by_kind_and_by_what_is_waited_for() {
        let farms = waiting(Kind::Farm, IntakeWait::Decision, 1);
        let fields = waiting(Kind::Field, IntakeWait::Decision, 12);
        let planters = waiting(Kind::Planter, IntakeWait::Makeup, 2);
        let erased = Waiting { erased: 1, ..waiting(Kind::Grower, IntakeWait::Decision, 1) };
        assert_eq!(
            reason(&[erased, farms, fields, planters], "3 days"),
            "Records that wait: 1 farm and 12 fields of which nobody has said what they are; 1 grower \
             erased here and sent again; 2 planters without make-up. The first has waited for 3 days."
        );
        assert_eq!(
            reason(&[waiting(Kind::Planter, IntakeWait::Makeup, 1)], "1 hour"),
            "Records that wait: 1 planter without make-up. The first has waited for 1 hour."
        );
    }
}
