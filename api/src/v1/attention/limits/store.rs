//! Limits in the database: one row a practice, made at the first change.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::OnConflict;
use sea_orm::{ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::Limits;
use crate::entities::attention_limits::{ActiveModel, Column, Entity};
use crate::http::ApiError;
use crate::http::etag::{self, Expected};

/// Those of a practice, with their version; 0 where they are ours.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
) -> Result<(Limits, i32), ApiError> {
    let kept = Entity::find_by_id(practice_id).one(db).await?;
    Ok(kept.map_or((Limits::OURS, 0), |row| (Limits::of(&row), row.version)))
}

/// Stores limits if those that are there still have a version that is expected.
pub(super) async fn change(
    tx: &impl ConnectionTrait,
    (practice_id, version): (Uuid, i32),
    expected: &Expected,
    (limits, now): (Limits, DateTime<Utc>),
) -> Result<(Limits, i32), ApiError> {
    expected.check(version)?;
    let small = |number: i64| i32::try_from(number).unwrap_or(i32::MAX);
    let row = ActiveModel {
        practice_id: Set(practice_id),
        sheet_unseen_hours: Set(small(limits.sheet_unseen_hours)),
        dig_after_planting_hours: Set(small(limits.dig_after_planting_hours)),
        dig_after_seen_days: Set(small(limits.dig_after_seen_days)),
        conditions_days: Set(small(limits.conditions_days)),
        calibration_months: Set(small(limits.calibration_months.into())),
        inspection_days: Set(small(limits.inspection_days)),
        planting_begins: Set(limits.begins.to_string()),
        version: Set(version.saturating_add(1)),
        updated_at: Set(now),
    };
    let rows = if version == 0 {
        let once = OnConflict::column(Column::PracticeId).do_nothing().to_owned();
        Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?
    } else {
        let done = Entity::update_many()
            .set(row)
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Version.eq(version))
            .exec(tx)
            .await?;
        done.rows_affected
    };
    etag::one_row(rows)?;
    find(tx, practice_id).await
}
