//! Adjustments in the database. Every query starts from the caller's scope.

use domain::dig::Proposal;
use domain::learning::Learned;
use domain::provenance::Coefficients;
use domain::quantity::System;
use domain::settings::Inputs;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseConnection, DatabaseTransaction,
    EntityTrait, QueryFilter, QuerySelect, QueryTrait,
};
use uuid::Uuid;

use super::apply::{Before, next_goals};
use super::open::{open, still_counts};
use crate::app::AppState;
use crate::auth::Scope;
use crate::db;
use crate::entities::adjustments::{ActiveModel, Column, Entity, Model, Status};
use crate::entities::recommendations;
use crate::http::ApiError;
use crate::http::etag::{self, Expected};
use crate::http::page::PageRequest;
use crate::learned::season_of;
use crate::v1::author::Author;
use crate::v1::coefficients::figures_in_force;
use crate::v1::recommendations::goals::GoalsIn;
use crate::v1::recommendations::store::{self as sheets, NewRevision, Place};
use crate::v1::recommendations::{compute, steps};

/// Which adjustments are listed.
#[derive(Debug, Clone, Copy, Default)]
pub struct Filter {
    /// Only of this status.
    pub status: Option<Status>,
    /// Only for this field.
    pub field_id: Option<Uuid>,
    /// Only from digs behind this recommendation.
    pub recommendation_id: Option<Uuid>,
}

/// Who decides on which adjustment, as they read it.
#[derive(Debug, Clone, Copy)]
pub struct Decision<'a> {
    /// The adjustment.
    pub id: Uuid,
    /// The versions that the decision was made on.
    pub expected: &'a Expected,
    /// Who, when; the id is for the next revision.
    pub by: Author,
}

/// Finds an adjustment in scope. Someone else's is not found.
pub async fn find(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = scope.adjustments().filter(Column::Id.eq(id)).one(db).await?;
    let found = found.ok_or_else(|| ApiError::not_found("adjustment"))?;
    let mut rows = hide_drafts(db, scope, vec![found]).await?;
    rows.pop().ok_or_else(|| ApiError::not_found("adjustment"))
}

/// A page of the adjustments in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    filter: Filter,
    page: PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let Filter { status, field_id, recommendation_id } = filter;
    let mut rows = scope.adjustments();
    if let Some(status) = status {
        rows = rows.filter(Column::Status.eq(status));
    }
    if let Some(field_id) = field_id {
        let of_field = scope
            .recommendations()
            .select_only()
            .column(recommendations::Column::Id)
            .filter(recommendations::Column::FieldId.eq(field_id));
        rows = rows.filter(Column::RecommendationId.in_subquery(of_field.into_query()));
    }
    if let Some(recommendation_id) = recommendation_id {
        rows = rows.filter(Column::RecommendationId.eq(recommendation_id));
    }
    let rows = page.of(rows, Column::Id).all(db).await?;
    let (rows, next) = page.cut(rows, |row| row.id);
    Ok((hide_drafts(db, scope, rows).await?, next))
}

/// A grower's account does not learn of a revision before it is issued.
async fn hide_drafts(
    db: &impl ConnectionTrait,
    scope: Scope,
    mut rows: Vec<Model>,
) -> Result<Vec<Model>, ApiError> {
    if scope.grower_id.is_none() {
        return Ok(rows);
    }
    let next: Vec<Uuid> = rows.iter().filter_map(|row| row.next_recommendation_id).collect();
    let drafts: Vec<Uuid> = scope
        .recommendations()
        .select_only()
        .column(recommendations::Column::Id)
        .filter(recommendations::Column::Id.is_in(next))
        .filter(recommendations::Column::Status.eq(recommendations::Status::Draft))
        .into_tuple()
        .all(db)
        .await?;
    for row in &mut rows {
        row.next_recommendation_id = row.next_recommendation_id.filter(|id| !drafts.contains(id));
    }
    Ok(rows)
}

/// What an adjustment proposes.
pub fn proposal_of(row: &Model) -> Result<Proposal, ApiError> {
    serde_json::from_value(row.proposal.clone()).map_err(ApiError::internal)
}

/// Accepts an adjustment and makes the next revision, both or neither.
///
/// # Errors
/// 409 when it was decided already, when the recommendation does not count any more, or when its
/// series has a draft; 412 when it was read in another version.
pub async fn accept(
    app: &AppState,
    scope: Scope,
    decision: Decision<'_>,
    otherwise: &GoalsIn,
    system: System,
    issue: bool,
) -> Result<Model, ApiError> {
    let figures = figures_in_force(&app.db, scope).await?;
    let season = season_of(decision.by.now);
    let learned = app.lessons.of(&app.db, scope, &figures, season).await?;
    let tx = db::begin(&app.db).await?;
    let row = open(&tx, scope, decision).await?;
    let sheet = still_counts(&tx, scope, row.recommendation_id).await?;
    let wanted = Wanted { otherwise, system };
    let new = revision(&sheet, &proposal_of(&row)?, wanted, figures, &learned)?;
    let next = sheets::insert_revision(&tx, scope, decision.by, &new).await?;
    if issue {
        steps::issue_in(&tx, &next, decision.by).await?;
    }
    let change = ActiveModel {
        status: Set(Status::Accepted),
        next_recommendation_id: Set(Some(next.id)),
        ..Default::default()
    };
    decide(&tx, &row, decision, change).await?;
    tx.commit().await?;
    find(&app.db, scope, decision.id).await
}

/// Declines an adjustment.
///
/// # Errors
/// 409 when it was decided already; 412 when it was read in another version.
pub async fn decline(
    db: &DatabaseConnection,
    scope: Scope,
    decision: Decision<'_>,
    reason: String,
) -> Result<Model, ApiError> {
    let tx = db::begin(db).await?;
    let row = open(&tx, scope, decision).await?;
    let change = ActiveModel {
        status: Set(Status::Declined),
        reason: Set(Some(reason)),
        ..Default::default()
    };
    decide(&tx, &row, decision, change).await?;
    tx.commit().await?;
    find(db, scope, decision.id).await
}

async fn decide(
    tx: &DatabaseTransaction,
    row: &Model,
    decision: Decision<'_>,
    change: ActiveModel,
) -> Result<(), ApiError> {
    let change = ActiveModel {
        decided_at: Set(Some(decision.by.now)),
        decided_by: Set(Some(decision.by.account_id)),
        version: Set(row.version.saturating_add(1)),
        ..change
    };
    let done = Entity::update_many()
        .set(change)
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Status.eq(Status::Proposed))
        .filter(Column::Version.eq(row.version))
        .exec(tx)
        .await?;
    etag::one_row(done.rows_affected)
}

/// What the advisor wants beside the change, in which units.
#[derive(Clone, Copy)]
struct Wanted<'a> {
    otherwise: &'a GoalsIn,
    system: System,
}

/// The next revision: everything as it was, but for the change. Like any new sheet it rests on the
/// figures in force now.
fn revision(
    sheet: &recommendations::Model,
    proposal: &Proposal,
    wanted: Wanted<'_>,
    figures: Box<Coefficients>,
    learned: &Learned,
) -> Result<Box<NewRevision>, ApiError> {
    let place = Place::after(sheet)?;
    let before = Before {
        goals: GoalsIn::stored(sheet)?,
        inputs: sheets::inputs_of(sheet)?,
        result: sheets::result_of(sheet)?,
    };
    let goals = next_goals(&before, proposal, wanted.otherwise, wanted.system)?;
    let plain = Inputs { goals: goals.parse("/goals")?, ..before.inputs };
    let inputs = compute::with_lessons(plain, (sheet.planter_id, sheet.field_id), learned);
    let result = compute::result(&inputs, &figures);
    Ok(Box::new(NewRevision {
        field_id: sheet.field_id,
        planter_id: sheet.planter_id,
        conditions_id: sheet.conditions_id,
        calibration_id: sheet.calibration_id,
        place,
        goals,
        inputs,
        figures,
        result,
    }))
}
