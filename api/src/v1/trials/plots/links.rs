//! Whether the dig checks and stand counts that readings name are in the field of the trial.

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect, QueryTrait};
use uuid::Uuid;

use super::dto::PlotIn;
use super::state::Found;
use crate::auth::Scope;
use crate::entities::{dig_checks, recommendations, stand_counts};
use crate::http::{ApiError, BadMember, Refused};

/// Refuses what is not there, or not in this field.
pub(super) async fn check(
    db: &impl ConnectionTrait,
    scope: Scope,
    found: &Found,
    sent: &PlotIn,
) -> Result<(), ApiError> {
    let mut refused = Refused::default();
    for (place, it) in sent.readings.iter().enumerate() {
        let digs = digs_in(db, scope, found.row.field_id, &it.dig_check_ids).await?;
        let counts = counts_in(db, scope, found.row.field_id, &it.stand_count_ids).await?;
        let lists = [
            ("dig_check_ids", &it.dig_check_ids, digs),
            ("stand_count_ids", &it.stand_count_ids, counts),
        ];
        for (member, ids, there) in lists {
            for (at, id) in ids.iter().enumerate().filter(|(_, id)| !there.contains(id)) {
                let pointer = format!("/readings/{place}/{member}/{at}");
                let detail = "There is no such one in the field of the trial.";
                refused.add(BadMember::new(pointer, detail).given(id));
            }
        }
    }
    refused.finish()
}

async fn digs_in(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    ids: &[Uuid],
) -> Result<Vec<Uuid>, ApiError> {
    if ids.is_empty() {
        return Ok(Vec::new());
    }
    let sheets = scope
        .recommendations()
        .filter(recommendations::Column::FieldId.eq(field_id))
        .select_only()
        .column(recommendations::Column::Id)
        .into_query();
    let rows = scope
        .dig_checks()
        .filter(dig_checks::Column::Id.is_in(ids.iter().copied()))
        .filter(dig_checks::Column::RecommendationId.in_subquery(sheets))
        .select_only()
        .column(dig_checks::Column::Id);
    Ok(rows.into_tuple().all(db).await?)
}

async fn counts_in(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    ids: &[Uuid],
) -> Result<Vec<Uuid>, ApiError> {
    if ids.is_empty() {
        return Ok(Vec::new());
    }
    let rows = scope
        .stand_counts()
        .filter(stand_counts::Column::Id.is_in(ids.iter().copied()))
        .filter(stand_counts::Column::FieldId.eq(field_id))
        .select_only()
        .column(stand_counts::Column::Id);
    Ok(rows.into_tuple().all(db).await?)
}
