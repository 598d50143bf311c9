//! Which side of a conflict holds.

use chrono::NaiveDate;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, Condition, DatabaseTransaction, EntityTrait, QueryFilter,
};
use serde_json::Value;

use super::{Keep, not_done, place};
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::{external_ids, record_conflicts};
use crate::exchange::intake::apply::{By, apply};
use crate::exchange::intake::incoming::Incoming;
use crate::exchange::intake::outcome::{Beside, PlannedRow, Source};
use crate::exchange::intake::plan::{objects_of, plan};
use crate::exchange::intake::system::System;
use crate::exchange::intake::work::Members;
use crate::http::{ApiError, ProblemCode, etag};

/// Carries out what a person said of a conflict. Gives the record when theirs was taken.
///
/// # Errors
/// 422 when theirs can't be taken, with the member; 409 when our object was deleted; 412 when
/// somebody else decided it meanwhile, or they say something else by now.
pub async fn decide_conflict(
    tx: &DatabaseTransaction,
    app: &AppState,
    by: &By,
    (scope, today): (Scope, NaiveDate),
    conflict: record_conflicts::Model,
    keep: Keep,
) -> Result<Option<PlannedRow>, ApiError> {
    let as_it_was = Condition::all()
        .add(record_conflicts::Column::PracticeId.eq(conflict.practice_id))
        .add(record_conflicts::Column::Id.eq(conflict.id))
        .add(record_conflicts::Column::Version.eq(conflict.version));
    if keep == Keep::Ours {
        let done = record_conflicts::Entity::delete_many().filter(as_it_was).exec(tx).await?;
        etag::one_row(done.rows_affected)?;
        return Ok(None);
    }
    let tie = scope.external_ids().filter(external_ids::Column::Id.eq(conflict.external_id));
    let tie = tie.one(tx).await?.ok_or_else(|| ApiError::not_found("conflict"))?;
    let ours = objects_of(tx, scope, tie.kind, vec![tie.object_id]).await?.remove(&tie.object_id);
    let ours = ours.ok_or_else(|| {
        let detail = "The object was deleted here, so nothing can be taken into it.";
        ApiError::new(ProblemCode::WrongState, detail)
    })?;
    // What is here counts as taken before, so that theirs is the only change.
    let done = record_conflicts::Entity::update_many()
        .set(record_conflicts::ActiveModel {
            base: Set(ours.members.get(conflict.member.as_str()).cloned()),
            ..Default::default()
        })
        .filter(as_it_was)
        .exec(tx)
        .await?;
    etag::one_row(done.rows_affected)?;
    let said = Members::from_iter([(conflict.member, conflict.theirs)]);
    let mut record = Incoming::new(tie.kind, place());
    record.their_id = Some(tie.their_id.clone());
    record.their_version.clone_from(&tie.their_version);
    record.updated_at = tie.their_updated_at;
    record.said = serde_json::from_value(Value::Object(said)).map_err(ApiError::internal)?;
    let system = System::parse("/system", &tie.system)?;
    let source = Source { system, today, beside: Beside::Waits };
    let planned = plan(tx, scope, &source, vec![record]).await?;
    if let Some(error) = planned.rows.first().and_then(not_done) {
        return Err(error);
    }
    Ok(apply(tx, app, by, planned).await?.rows.pop())
}
