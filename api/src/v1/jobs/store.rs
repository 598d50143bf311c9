//! Jobs in the database, as the lead sees them.

use sea_orm::sea_query::Expr;
use sea_orm::{ActiveEnum, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use crate::app::AppState;
use crate::entities::jobs::{Column, Entity, Model, Status};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};

/// Finds a job of the practice.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = Entity::find_by_id((practice_id, id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("job"))
}

/// A page of the jobs of the practice.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    status: Option<Status>,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let mut rows = Entity::find().filter(Column::PracticeId.eq(practice_id));
    if let Some(status) = status {
        rows = rows.filter(Column::Status.eq(status));
    }
    let rows = page.of(rows, Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// Has a dead job tried again, from the start.
///
/// # Errors
/// 409 when it is not dead.
pub(super) async fn retry(
    tx: &impl ConnectionTrait,
    app: &AppState,
    row: &Model,
) -> Result<Model, ApiError> {
    let done = Entity::update_many()
        .col_expr(Column::Status, Expr::value(Status::Waiting.to_value()))
        .col_expr(Column::RunAt, Expr::value(app.clock.now()))
        .col_expr(Column::Attempts, Expr::value(0))
        .col_expr(Column::FinishedAt, Expr::value(None::<chrono::DateTime<chrono::Utc>>))
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Status.eq(Status::Dead))
        .exec(tx)
        .await?;
    only_dead(done.rows_affected)?;
    find(tx, row.practice_id, row.id).await
}

/// Deletes a dead job.
///
/// # Errors
/// 409 when it is not dead.
pub(super) async fn delete(tx: &impl ConnectionTrait, row: &Model) -> Result<(), ApiError> {
    let done = Entity::delete_many()
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Status.eq(Status::Dead))
        .exec(tx)
        .await?;
    only_dead(done.rows_affected)
}

fn only_dead(rows_affected: u64) -> Result<(), ApiError> {
    if rows_affected == 1 {
        return Ok(());
    }
    Err(ApiError::new(ProblemCode::WrongState, "Only a job that is dead can be so treated."))
}
