//! Trials in the database. Every query starts from the caller's scope.

use domain::trial::{Design, Layout, lay_out};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction,
    EntityTrait, QueryFilter, QuerySelect, Select,
};
use uuid::Uuid;

use super::design::TrialDesign;
use super::parse::member_of;
use super::replications::{Replications, replications};
use crate::auth::Scope;
use crate::entities::planters;
use crate::entities::trials::{ActiveModel, Column, Entity, Model, Status};
use crate::http::etag::{self, Expected};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::{ApiError, BadMember, ProblemCode};
use crate::v1::author::Author;
use crate::v1::coefficients::figures_in_force;
use crate::v1::{farms, fields, planters as planters_of};

/// Which trials are listed.
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
}

/// A trial to be stored.
#[derive(Debug)]
pub struct NewTrial {
    /// The field.
    pub field_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// Name, checked.
    pub name: String,
    /// The design, with units and seed.
    pub design: TrialDesign,
}

/// The trials that a caller sees: a grower's account never sees a draft.
pub fn visible(scope: Scope) -> Select<Entity> {
    let rows = scope.trials();
    if scope.hides_drafts() { rows.filter(Column::Status.ne(Status::Draft)) } else { rows }
}

/// Finds a trial in scope. Someone else's is not found, nor a draft by a grower.
pub async fn find(db: &impl ConnectionTrait, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = visible(scope).filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("trial"))
}

/// The same, held against changes until the transaction ends.
pub async fn hold(tx: &DatabaseTransaction, scope: Scope, id: Uuid) -> Result<Model, ApiError> {
    let found = visible(scope).filter(Column::Id.eq(id)).lock_exclusive().one(tx).await?;
    found.ok_or_else(|| ApiError::not_found("trial"))
}

/// A page of the trials in scope.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    filter: Filter,
    page: &PageRequest,
) -> Result<Page<Model>, ApiError> {
    let Filter { grower_id, field_id, planter_id, status } = filter;
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
    let place = |row: &Model| RowPlace { updated_at: row.updated_at, id: row.id };
    page.read(db, rows, (Column::Id, Column::UpdatedAt), place).await
}

/// Lays a trial out and stores it as a draft.
///
/// # Errors
/// 422 for what can't be laid out, and for a planter of another grower.
pub async fn insert(
    tx: &DatabaseTransaction,
    scope: Scope,
    by: Author,
    new: &NewTrial,
) -> Result<Model, ApiError> {
    let field = fields::store::find_reference(tx, scope, new.field_id).await?;
    let planter = planters_of::store::find_reference(tx, scope, new.planter_id).await?;
    let farm = farms::store::find(tx, scope, field.farm_id).await?;
    if farm.grower_id != planter.grower_id {
        let detail = "The planter belongs to another grower than the field.";
        return Err(BadMember::new("/planter_id", detail).given(planter.id).into());
    }
    let layout = laid_out(tx, scope, &planter, &new.design).await?;
    let row = ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(by.id),
        field_id: Set(field.id),
        planter_id: Set(planter.id),
        name: Set(new.name.clone()),
        status: Set(Status::Draft),
        design: Set(serde_json::to_value(&new.design).map_err(ApiError::internal)?),
        layout: Set(serde_json::to_value(&layout).map_err(ApiError::internal)?),
        replications: Set(planned(&new.design)?),
        created_at: Set(by.now),
        created_by: Set(by.account_id),
        started_at: Set(None),
        started_by: Set(None),
        closed_at: Set(None),
        closed_by: Set(None),
        version: Set(1),
        updated_at: Set(by.now),
    };
    Ok(row.insert(tx).await?)
}

/// The layout of a design on a planter, with the figures in force.
pub async fn laid_out(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter: &planters::Model,
    design: &TrialDesign,
) -> Result<Layout, ApiError> {
    let asked = parsed(planter, design)?;
    let k = figures_in_force(db, scope).await?;
    lay_out(&asked, &k).map_err(|faults| {
        let members: Vec<BadMember> =
            faults.iter().map(|fault| member_of(fault, "/design")).collect();
        members.into()
    })
}

/// A design as the domain knows it.
pub fn parsed(planter: &planters::Model, design: &TrialDesign) -> Result<Design, ApiError> {
    let makeup = planters_of::store::makeup(planter)?;
    let planter =
        makeup.parse("/makeup", None).map_err(|bad| ApiError::internal(format!("{bad:?}")))?;
    Ok(design.parse(&planter)?)
}

/// Stores a change of a draft that still has a version that is expected.
pub async fn update(
    tx: &DatabaseTransaction,
    scope: Scope,
    before: Model,
    expected: &Expected,
    (by, name, design): (Author, Option<String>, Option<TrialDesign>),
) -> Result<Model, ApiError> {
    expected.check(before.version)?;
    if before.status != Status::Draft {
        return Err(wrong_state(
            before.status,
            "Only a draft can be changed: its layout is frozen.",
        ));
    }
    let mut change = ActiveModel { updated_at: Set(by.now), ..Default::default() };
    if let Some(name) = name {
        change.name = Set(name);
    }
    if let Some(design) = design {
        let planter = planters_of::store::find(tx, scope, before.planter_id).await?;
        let layout = laid_out(tx, scope, &planter, &design).await?;
        change.design = Set(serde_json::to_value(&design).map_err(ApiError::internal)?);
        change.layout = Set(serde_json::to_value(&layout).map_err(ApiError::internal)?);
        change.replications = Set(planned(&design)?);
    }
    step(tx, &before, change).await
}

/// Freezes the layout of a draft.
pub async fn start(
    tx: &DatabaseTransaction,
    before: Model,
    expected: &Expected,
    by: Author,
) -> Result<Model, ApiError> {
    expected.check(before.version)?;
    if before.status != Status::Draft {
        return Err(wrong_state(before.status, "Only a draft can be started."));
    }
    let change = ActiveModel {
        status: Set(Status::Running),
        started_at: Set(Some(by.now)),
        started_by: Set(Some(by.account_id)),
        updated_at: Set(by.now),
        ..Default::default()
    };
    step(tx, &before, change).await
}

/// Ends a trial: nothing more is taken.
pub async fn close(
    tx: &DatabaseTransaction,
    before: Model,
    expected: &Expected,
    by: Author,
) -> Result<Model, ApiError> {
    expected.check(before.version)?;
    if before.status != Status::Running {
        return Err(wrong_state(before.status, "Only a trial that runs can be closed."));
    }
    let change = ActiveModel {
        status: Set(Status::Closed),
        closed_at: Set(Some(by.now)),
        closed_by: Set(Some(by.account_id)),
        updated_at: Set(by.now),
        ..Default::default()
    };
    step(tx, &before, change).await
}

/// Deletes a draft.
pub async fn delete(
    tx: &DatabaseTransaction,
    row: &Model,
    expected: &Expected,
) -> Result<(), ApiError> {
    expected.check(row.version)?;
    if row.status != Status::Draft {
        return Err(wrong_state(row.status, "Only a draft can be deleted."));
    }
    let done = Entity::delete_many()
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Status.eq(Status::Draft))
        .filter(Column::Version.eq(row.version))
        .exec(tx)
        .await?;
    etag::one_row(done.rows_affected)
}

async fn step(
    tx: &DatabaseTransaction,
    row: &Model,
    change: ActiveModel,
) -> Result<Model, ApiError> {
    let change = ActiveModel { version: Set(row.version.saturating_add(1)), ..change };
    let done = Entity::update_many()
        .set(change)
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Status.eq(row.status))
        .filter(Column::Version.eq(row.version))
        .exec(tx)
        .await?;
    etag::one_row(done.rows_affected)?;
    find(tx, Scope::of_practice(row.practice_id), row.id).await
}

/// The design of a stored trial.
pub fn design_of(row: &Model) -> Result<TrialDesign, ApiError> {
    serde_json::from_value(row.design.clone()).map_err(ApiError::internal)
}

/// What so many blocks can show, for the database.
fn planned(design: &TrialDesign) -> Result<serde_json::Value, ApiError> {
    serde_json::to_value(replications(design)).map_err(ApiError::internal)
}

/// What so many blocks can show, of a stored trial.
pub fn replications_of(row: &Model) -> Result<Vec<Replications>, ApiError> {
    serde_json::from_value(row.replications.clone()).map_err(ApiError::internal)
}

/// The layout of a stored trial.
pub fn layout_of(row: &Model) -> Result<Layout, ApiError> {
    serde_json::from_value(row.layout.clone()).map_err(ApiError::internal)
}

/// The trial is not in a state for this step.
pub fn wrong_state(status: Status, why: &str) -> ApiError {
    let word = match status {
        Status::Draft => "a draft",
        Status::Running => "running",
        Status::Closed => "closed",
    };
    ApiError::new(ProblemCode::WrongState, format!("The trial is {word}. {why}"))
}
