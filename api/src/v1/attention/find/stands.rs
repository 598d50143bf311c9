//! Stands that are to be counted.

use std::collections::HashMap;

use sea_orm::sea_query::{Expr, ExprTrait, Query};
use sea_orm::{ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::words::{count, day};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};
use crate::http::ApiError;
use crate::v1::stand_counts::due::{StandDue, stands_due};

#[derive(Debug, FromQueryResult)]
struct Field {
    id: Uuid,
    grower_id: Uuid,
}

/// The plantings whose stand nobody has counted.
pub(super) async fn due(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    let due = stands_due(asking.db, asking.scope, asking.today).await?;
    if due.is_empty() {
        return Ok(Vec::new());
    }
    let growers = growers_of_fields(asking).await?;
    let found =
        due.iter().filter_map(|stand| Some(one(asking, stand, *growers.get(&stand.field_id)?)));
    Ok(found.collect())
}

fn one(asking: &Asking<'_>, stand: &StandDue, grower_id: Uuid) -> Found {
    let left = (stand.to - asking.today).num_days();
    let days = (asking.today - stand.planted_on).num_days();
    let when = if left >= 0 {
        format!("a count tells most from {} to {}", day(stand.from), day(stand.to))
    } else {
        format!("the best days for a count ended on {}", day(stand.to))
    };
    Found {
        kind: AttentionKind::StandDue,
        matter: stand.planting_id,
        object: (AttentionObjectKind::Planting, stand.planting_id),
        grower_id: Some(grower_id),
        field_id: Some(stand.field_id),
        planter_id: None,
        event_at: asking.calendar.begins(stand.planted_on),
        from: asking.calendar.begins(stand.from),
        due: stand.to,
        urgency: if left <= 2 { Urgency::Soon } else { Urgency::WhenYouCan },
        reason: format!(
            "Planted on {}, {} ago, and not counted; {when}.",
            day(stand.planted_on),
            count(days, "day")
        ),
        next: match asking.voice {
            Voice::Advisor => "Count the stand at several places, or have it counted.",
            Voice::Grower => "Count the plants at several places and send the counts.",
        },
    }
}

async fn growers_of_fields(asking: &Asking<'_>) -> Result<HashMap<Uuid, Uuid>, ApiError> {
    let mut rows = Query::select()
        .columns([("f", "id"), ("a", "grower_id")])
        .from_as("fields", "f")
        .join_as(
            sea_orm::JoinType::InnerJoin,
            "farms",
            "a",
            Expr::col(("a", "practice_id"))
                .equals(("f", "practice_id"))
                .and(Expr::col(("a", "id")).equals(("f", "farm_id"))),
        )
        .and_where(Expr::col(("f", "practice_id")).eq(asking.scope.practice_id))
        .to_owned();
    asking.of_growers(&mut rows, ("a", "grower_id"));
    let rows = asking.db.query_all(&rows).await?;
    let rows = rows.iter().map(|row| Field::from_query_result(row, ""));
    let rows = rows.collect::<Result<Vec<_>, _>>()?;
    Ok(rows.into_iter().map(|row| (row.id, row.grower_id)).collect())
}
