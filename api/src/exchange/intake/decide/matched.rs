//! Which object of ours a record is.

use chrono::NaiveDate;
use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{
    ActiveValue::Set, ColumnTrait, DatabaseTransaction, EntityTrait, QueryFilter, QueryOrder,
};

use super::erased::decide_erased;
use super::tied::tie_to;
use super::{Decided, Decision, incoming, not_done};
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::record_matches;
use crate::exchange::intake::apply::{By, apply};
use crate::exchange::intake::outcome::{Beside, Counts, Outcome, Plan, Source, Waiting};
use crate::exchange::intake::plan::plan;
use crate::exchange::intake::report::{IntakeReport, IntakeWait};
use crate::exchange::intake::system::System;
use crate::http::{ApiError, etag};

/// Carries out what a person said of a record that waits, and takes up what waited for it.
///
/// # Errors
/// 422 when it can't be so, with the members; 409 when what it belongs to waits still; 412 when
/// somebody else decided it meanwhile.
pub async fn decide_match(
    tx: &DatabaseTransaction,
    app: &AppState,
    by: &By,
    (scope, today): (Scope, NaiveDate),
    waiting: record_matches::Model,
    decision: Decision,
) -> Result<Decided, ApiError> {
    let system = System::parse("/system", &waiting.system)?;
    let mut source = Source { system, today, beside: Beside::Waits };
    claim(tx, &waiting).await?;
    if waiting.erased_at.is_some() {
        return decide_erased(tx, app, by, (scope, &source), (&waiting, decision)).await;
    }
    let mut record = incoming(&waiting)?;
    match decision {
        Decision::Same(object_id) => {
            tie_to(tx, app, scope, (&waiting, &record), object_id).await?;
            record_matches::Entity::delete_by_id((waiting.practice_id, waiting.id))
                .exec(tx)
                .await?;
        }
        Decision::New(makeup) => {
            source.beside = Beside::Creates;
            if makeup.is_some() {
                record.said.makeup = makeup.map(|makeup| *makeup);
            }
        }
    }
    let planned = plan(tx, scope, &source, vec![record]).await?;
    if let Some(error) = planned.rows.first().and_then(not_done) {
        return Err(error);
    }
    let Plan { system, mut rows, .. } = apply(tx, app, by, planned).await?;
    source.system = system;
    source.beside = Beside::Waits;
    let row =
        rows.pop().ok_or_else(|| ApiError::internal("the record that was decided is lost"))?;
    let followed = take_up(tx, app, by, (scope, &source)).await?;
    let record = IntakeReport::of(&row).done(&row);
    Ok(Decided { record, grower_id: row.grower_id, followed })
}

/// Of two people who decide at once, one does.
async fn claim(tx: &DatabaseTransaction, waiting: &record_matches::Model) -> Result<(), ApiError> {
    use record_matches::{Column, Entity};
    let done = Entity::update_many()
        .col_expr(Column::Version, Expr::col(Column::Version).add(1))
        .filter(Column::PracticeId.eq(waiting.practice_id))
        .filter(Column::Id.eq(waiting.id))
        .filter(Column::Version.eq(waiting.version))
        .exec(tx)
        .await?;
    etag::one_row(done.rows_affected)
}

/// Takes up records that waited for what they belong to. One that is refused now waits for a
/// person, who sees why when he says that it is new.
async fn take_up(
    tx: &DatabaseTransaction,
    app: &AppState,
    by: &By,
    (scope, source): (Scope, &Source),
) -> Result<Counts, ApiError> {
    use record_matches::{ActiveModel, Column, Entity};
    let waiting = Entity::find()
        .filter(Column::PracticeId.eq(scope.practice_id))
        .filter(Column::System.eq(source.system.as_str()))
        .filter(Column::WaitsFor.eq(IntakeWait::Parent))
        .filter(Column::ErasedAt.is_null())
        .order_by_asc(Column::Id)
        .all(tx)
        .await?;
    let records = waiting.iter().map(incoming).collect::<Result<Vec<_>, _>>()?;
    let planned = plan(tx, Scope::of_practice(scope.practice_id), source, records).await?;
    let done = apply(tx, app, by, planned).await?;
    let mut followed = Counts::default();
    for row in &done.rows {
        if row.outcome == Outcome::Waits(Waiting::ForParent) {
            continue;
        }
        followed.add(&row.outcome);
        if let (Outcome::Refused(_), Some(id)) = (&row.outcome, row.match_id) {
            let change = ActiveModel {
                waits_for: Set(IntakeWait::Decision),
                updated_at: Set(app.clock.now()),
                ..Default::default()
            };
            Entity::update_many()
                .set(change)
                .col_expr(Column::Version, Expr::col(Column::Version).add(1))
                .filter(Column::PracticeId.eq(scope.practice_id))
                .filter(Column::Id.eq(id))
                .exec(tx)
                .await?;
        }
    }
    Ok(followed)
}
