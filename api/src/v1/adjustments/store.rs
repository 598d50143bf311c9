//! Adjustments in the database. Every query starts from the caller's scope.

use std::sync::Arc;

use domain::dig::Proposal;
use domain::learning::Learned;
use domain::provenance::Coefficients;
use domain::quantity::System;
use domain::settings::Inputs;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter,
    QuerySelect, QueryTrait,
};
use uuid::Uuid;

use super::apply::{Before, next_goals};
use super::open::{open, still_counts};
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::adjustments::{ActiveModel, Column, Entity, Model, Status};
use crate::entities::recommendations;
use crate::http::ApiError;
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::season;
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
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
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
    let place = |row: &Model| RowPlace { updated_at: row.updated_at, id: row.id };
    let found = page.read(db, rows, (Column::Id, Column::UpdatedAt), place).await?;
    Ok(Page { rows: hide_drafts(db, scope, found.rows).await?, ..found })
}

/// A grower's account does not learn of a revision before it is issued.
async fn hide_drafts(
    db: &impl ConnectionTrait,
    scope: Scope,
    mut rows: Vec<Model>,
) -> Result<Vec<Model>, ApiError> {
    if !scope.hides_drafts() {
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

/// What a new revision rests on beside the sheet before.
#[derive(Debug)]
pub struct InForce {
    figures: Box<Coefficients>,
    learned: Arc<Learned>,
}

/// What a new revision rests on now. Ask before the transaction begins.
pub async fn in_force(app: &AppState, scope: Scope, by: Author) -> Result<InForce, ApiError> {
    let figures = figures_in_force(&app.db, scope).await?;
    let learned = app.lessons.of(&app.db, scope, &figures, by.season).await?;
    Ok(InForce { figures, learned })
}

/// What the advisor wants beside the change, in which units, and whether at once.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'a> {
    /// The goals that go before those of the change.
    pub otherwise: &'a GoalsIn,
    /// The units of new quantities.
    pub system: System,
    /// Whether the next revision is issued at once.
    pub issue: bool,
}

/// An adjustment that was accepted.
#[derive(Debug)]
pub struct Accepted {
    /// The adjustment as it is now.
    pub row: Model,
    /// The next revision.
    pub next_id: Uuid,
    /// The revisions that it supersedes, when it was issued at once.
    pub superseded: Vec<Uuid>,
}

/// Accepts an adjustment and makes the next revision.
///
/// # Errors
/// 409 when it was decided already, when the recommendation does not count any more, or when its
/// series has a draft; 412 when it was read in another version.
pub async fn accept(
    tx: &DatabaseTransaction,
    scope: Scope,
    decision: Decision<'_>,
    wanted: Wanted<'_>,
    in_force: InForce,
) -> Result<Accepted, ApiError> {
    let row = open(tx, scope, decision).await?;
    let sheet = still_counts(tx, scope, row.recommendation_id).await?;
    let new = revision(&sheet, &proposal_of(&row)?, wanted, in_force)?;
    let next = sheets::insert_revision(tx, scope, decision.by, &new).await?;
    let superseded =
        if wanted.issue { steps::issue_draft(tx, &next, decision.by).await? } else { Vec::new() };
    let change = ActiveModel {
        status: Set(Status::Accepted),
        next_recommendation_id: Set(Some(next.id)),
        ..Default::default()
    };
    decide(tx, &row, decision, change).await?;
    let row = find(tx, scope, decision.id).await?;
    Ok(Accepted { row, next_id: next.id, superseded })
}

/// Declines an adjustment.
///
/// # Errors
/// 409 when it was decided already; 412 when it was read in another version.
pub async fn decline(
    tx: &DatabaseTransaction,
    scope: Scope,
    decision: Decision<'_>,
    reason: String,
) -> Result<Model, ApiError> {
    let row = open(tx, scope, decision).await?;
    let change = ActiveModel {
        status: Set(Status::Declined),
        reason: Set(Some(reason)),
        ..Default::default()
    };
    decide(tx, &row, decision, change).await?;
    find(tx, scope, decision.id).await
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
        updated_at: Set(decision.by.now),
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
    etag::one_row(done.rows_affected)?;
    season::keep_decision(tx, row.practice_id, row.dig_check_id).await
}

/// The next revision: everything as it was, but for the change. Like any new sheet it rests on the
/// figures in force now.
fn revision(
    sheet: &recommendations::Model,
    proposal: &Proposal,
    wanted: Wanted<'_>,
    InForce { figures, learned }: InForce,
) -> Result<Box<NewRevision>, ApiError> {
    let place = Place::after(sheet)?;
    let before = Before {
        goals: GoalsIn::stored(sheet)?,
        inputs: sheets::inputs_of(sheet)?,
        result: sheets::result_of(sheet)?,
    };
    let goals = next_goals(&before, proposal, wanted.otherwise, wanted.system)?;
    let plain = Inputs { goals: goals.parse("/goals")?, ..before.inputs };
    let inputs = compute::with_lessons(plain, (sheet.planter_id, sheet.field_id), &learned);
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
