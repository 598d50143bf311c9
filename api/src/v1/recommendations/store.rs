//! Recommendations in the database. Every query starts from the caller's scope.

use chrono::{DateTime, Utc};
use domain::provenance::Coefficients;
use domain::settings::{Inputs, Recommendation};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction,
    QueryFilter, Select,
};
use uuid::Uuid;

use super::goals::GoalsIn;
use crate::auth::Scope;
use crate::entities::recommendations::{self, Column, Status};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::{ApiError, ProblemCode};
use crate::v1::author::Author;
use crate::v1::coefficient_sets;
use crate::v1::coefficients::figures_in_force;

/// A revision to be stored as a draft.
#[derive(Debug)]
pub struct NewRevision {
    /// The field.
    pub field_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The conditions report it rests on.
    pub conditions_id: Uuid,
    /// The calibration it rests on.
    pub calibration_id: Option<Uuid>,
    /// Where it stands in its series.
    pub place: Place,
    /// What the advisor wants, as entered.
    pub goals: GoalsIn,
    /// What went into the engine.
    pub inputs: Inputs,
    /// The figures that it was worked out with.
    pub figures: Box<Coefficients>,
    /// What came out.
    pub result: Recommendation,
}

/// The place of a revision in its series.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The first of a new series.
    First,
    /// The next after this one.
    After {
        /// The series.
        series_id: Uuid,
        /// The revision that is replaced.
        id: Uuid,
        /// Its number.
        revision: i32,
    },
}

impl Place {
    /// The place after a revision that is issued or acknowledged.
    ///
    /// # Errors
    /// 409 when it is a draft or was superseded.
    pub fn after(row: &recommendations::Model) -> Result<Self, ApiError> {
        match row.status {
            Status::Issued | Status::Acknowledged => {
                Ok(Self::After { series_id: row.series_id, id: row.id, revision: row.revision })
            }
            Status::Draft | Status::Superseded => {
                Err(wrong_state(row.status, "Only what was issued and still counts is revised."))
            }
        }
    }
}

/// Which recommendations are listed.
#[derive(Debug, Clone, Copy, Default)]
pub struct Filter {
    /// Only of this grower.
    pub grower_id: Option<Uuid>,
    /// Only of this field.
    pub field_id: Option<Uuid>,
    /// Only of this planter.
    pub planter_id: Option<Uuid>,
    /// Only of this status.
    pub status: Option<Status>,
    /// Only those made in this span of time: a season.
    pub made_within: Option<(DateTime<Utc>, DateTime<Utc>)>,
}

/// The recommendations that a caller sees: a grower's account never sees a draft.
pub fn visible(scope: Scope) -> Select<recommendations::Entity> {
    let rows = scope.recommendations();
    if scope.hides_drafts() { rows.filter(Column::Status.ne(Status::Draft)) } else { rows }
}

/// Finds a recommendation in scope. Someone else's is not found, nor a draft by a grower.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<recommendations::Model, ApiError> {
    let found = visible(scope).filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("recommendation"))
}

/// A page of the recommendations in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    filter: Filter,
    page: &PageRequest,
) -> Result<Page<recommendations::Model>, ApiError> {
    let Filter { grower_id, field_id, planter_id, status, made_within: span } = filter;
    let mut rows = visible(scope);
    if let Some(grower_id) = grower_id {
        rows = rows.filter(Column::FieldId.in_subquery(scope.field_ids_of(grower_id)));
    }
    if let Some(field_id) = field_id {
        rows = rows.filter(Column::FieldId.eq(field_id));
    }
    if let Some(planter_id) = planter_id {
        rows = rows.filter(Column::PlanterId.eq(planter_id));
    }
    if let Some(status) = status {
        rows = rows.filter(Column::Status.eq(status));
    }
    if let Some(span) = span {
        rows = made_within(rows, span);
    }
    let place = |row: &recommendations::Model| RowPlace { updated_at: row.updated_at, id: row.id };
    page.read(db, rows, (Column::Id, Column::UpdatedAt), place).await
}

/// Only those made in a span of time: from its first moment to before its last.
pub fn made_within(
    rows: Select<recommendations::Entity>,
    (from, to): (DateTime<Utc>, DateTime<Utc>),
) -> Select<recommendations::Entity> {
    rows.filter(Column::CreatedAt.gte(from)).filter(Column::CreatedAt.lt(to))
}

/// Stores a revision as a draft, and the figures that it was worked out with.
///
/// # Errors
/// 409 when the series has a revision of this number already: someone else was faster.
pub async fn insert_revision(
    tx: &DatabaseTransaction,
    scope: Scope,
    by: Author,
    new: &NewRevision,
) -> Result<recommendations::Model, ApiError> {
    let set_id = coefficient_sets::store::keep(tx, scope, by.now, &new.figures).await?;
    let row = draft(scope, by, new, set_id).map_err(ApiError::internal)?;
    row.insert(tx).await.map_err(|error| match ApiError::from(error) {
        taken if taken.code() == ProblemCode::AlreadyExists => ApiError::new(
            ProblemCode::WrongState,
            "The revision after this one is there already. Look at it first.",
        )
        .caused_by(taken),
        other => other,
    })
}

fn draft(
    scope: Scope,
    by: Author,
    new: &NewRevision,
    set_id: Uuid,
) -> serde_json::Result<recommendations::ActiveModel> {
    let (series_id, revision, replaces_id) = match new.place {
        Place::First => (by.id, 1, None),
        Place::After { series_id, id, revision } => {
            (series_id, revision.saturating_add(1), Some(id))
        }
    };
    Ok(recommendations::ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(by.id),
        field_id: Set(new.field_id),
        planter_id: Set(new.planter_id),
        conditions_id: Set(new.conditions_id),
        calibration_id: Set(new.calibration_id),
        series_id: Set(series_id),
        revision: Set(revision),
        replaces_id: Set(replaces_id),
        status: Set(Status::Draft),
        goals: Set(serde_json::to_value(&new.goals)?),
        inputs: Set(serde_json::to_value(&new.inputs)?),
        result: Set(serde_json::to_value(&new.result)?),
        engine_version: Set(new.result.engine.to_string()),
        created_at: Set(by.now),
        created_by: Set(by.account_id),
        updated_at: Set(by.now),
        issued_at: Set(None),
        issued_by: Set(None),
        acknowledged_at: Set(None),
        acknowledged_by: Set(None),
        version: Set(1),
        coefficient_set_id: Set(Some(set_id)),
    })
}

/// What went into the engine, from a stored recommendation.
pub fn inputs_of(row: &recommendations::Model) -> Result<Inputs, ApiError> {
    serde_json::from_value(row.inputs.clone()).map_err(ApiError::internal)
}

/// What came out of the engine, from a stored recommendation.
pub fn result_of(row: &recommendations::Model) -> Result<Recommendation, ApiError> {
    serde_json::from_value(row.result.clone()).map_err(ApiError::internal)
}

/// The figures that a stored recommendation was worked out with: its digs are held against the same.
/// Those in force where it was made before sets were kept, or where this version can't read its set.
pub async fn figures_of(
    db: &impl ConnectionTrait,
    row: &recommendations::Model,
) -> Result<Box<Coefficients>, ApiError> {
    let scope = Scope::of_practice(row.practice_id);
    if let Some(id) = row.coefficient_set_id {
        let set = coefficient_sets::store::find(db, scope, id).await?;
        match coefficient_sets::store::coefficients_of(&set)? {
            Ok(figures) => return Ok(figures),
            Err(fault) => tracing::warn!(set = %id, %fault, "a stored set can't be read"),
        }
    }
    figures_in_force(db, scope).await
}

/// The recommendation is not in a state for this step.
pub(super) fn wrong_state(status: Status, why: &str) -> ApiError {
    let word = match status {
        Status::Draft => "a draft",
        Status::Issued => "issued",
        Status::Acknowledged => "acknowledged",
        Status::Superseded => "superseded by a later revision",
    };
    ApiError::new(ProblemCode::WrongState, format!("The recommendation is {word}. {why}"))
}
