//! What a records system and the practice both changed, until somebody says which holds.

use std::collections::BTreeMap;

use chrono::{DateTime, Utc};
use sea_orm::sea_query::{Expr, ExprTrait, Query};
use sea_orm::{ConnectionTrait, FromQueryResult};
use uuid::Uuid;

use super::words::{ago, listed};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency};
use crate::exchange::intake::{Kind, Member};
use crate::http::ApiError;

/// What settings and amounts rest on.
const WEIGHS: [Member; 4] = [Member::Boundary, Member::Area, Member::Rows, Member::RowSpacing];

#[derive(Debug, FromQueryResult)]
struct Conflict {
    id: Uuid,
    external_id: Uuid,
    grower_id: Option<Uuid>,
    member: String,
    created_at: DateTime<Utc>,
    updated_at: DateTime<Utc>,
    system: String,
    kind: Kind,
    their_id: String,
    object_id: Uuid,
}

/// One entry an object, whatever of it is in conflict.
pub(super) async fn undecided(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    let mut of_object: BTreeMap<Uuid, Vec<Conflict>> = BTreeMap::new();
    for conflict in conflicts(asking).await? {
        of_object.entry(conflict.external_id).or_default().push(conflict);
    }
    Ok(of_object.values().filter_map(|conflicts| one(asking, conflicts)).collect())
}

fn one(asking: &Asking<'_>, conflicts: &[Conflict]) -> Option<Found> {
    let first = conflicts.iter().min_by_key(|it| (it.created_at, it.id))?;
    let weighs = |it: &Conflict| WEIGHS.iter().any(|member| member.word() == it.member);
    let members: Vec<String> = conflicts.iter().map(|it| it.member.replace('_', " ")).collect();
    let of_kind = |kind| (first.kind == kind).then_some(first.object_id);
    let Conflict { system, their_id, created_at, .. } = first;
    Some(Found {
        kind: AttentionKind::RecordsDiffer,
        matter: first.external_id,
        object: (AttentionObjectKind::RecordConflict, first.id),
        grower_id: first.grower_id,
        field_id: of_kind(Kind::Field),
        planter_id: of_kind(Kind::Planter),
        event_at: conflicts.iter().map(|it| it.updated_at).max()?,
        from: *created_at,
        due: asking.calendar.today(*created_at),
        urgency: if conflicts.iter().any(weighs) { Urgency::Soon } else { Urgency::WhenYouCan },
        reason: format!(
            "Changed here and in {system} too: {} of {} {their_id}. Ours holds, and nobody has decided for {}.",
            listed(&members),
            first.kind.word(),
            ago(asking, *created_at),
        ),
        next: "Say which side holds, with the grower if it is about his land.",
    })
}

/// Those of the growers that are asked for; of each what stands in it is not read.
async fn conflicts(asking: &Asking<'_>) -> Result<Vec<Conflict>, ApiError> {
    let same = |one, other| Expr::col(("c", one)).equals(("e", other));
    let mut rows = Query::select()
        .columns([
            ("c", "id"),
            ("c", "external_id"),
            ("c", "grower_id"),
            ("c", "member"),
            ("c", "created_at"),
            ("c", "updated_at"),
            ("e", "system"),
            ("e", "kind"),
            ("e", "their_id"),
            ("e", "object_id"),
        ])
        .from_as("record_conflicts", "c")
        .join_as(
            sea_orm::JoinType::InnerJoin,
            "external_ids",
            "e",
            same("practice_id", "practice_id").and(same("external_id", "id")),
        )
        .and_where(Expr::col(("c", "practice_id")).eq(asking.scope.practice_id))
        .order_by(("c", "id"), sea_orm::Order::Asc)
        .to_owned();
    asking.of_growers(&mut rows, ("c", "grower_id"));
    let rows = asking.db.query_all(&rows).await?;
    Ok(rows.iter().map(|row| Conflict::from_query_result(row, "")).collect::<Result<_, _>>()?)
}
