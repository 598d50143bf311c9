//! The steps of a recommendation from one status to the next, in the database.
//!
//! Each step is one `UPDATE` that is tied to the version that was read: of two callers one wins.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{
    ActiveEnum, ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait,
    QueryFilter, QuerySelect,
};
use uuid::Uuid;

use super::store::{find, wrong_state};
use crate::auth::Scope;
use crate::entities::recommendations::{ActiveModel, Column, Entity, Model, Status};
use crate::http::ApiError;
use crate::http::etag::{self, Expected};
use crate::season::{self, Changed, Land};
use crate::v1::author::Author;

/// Issues a draft; the revision of the series that counted until now is superseded. Gives the sheet
/// and the ids of what it supersedes.
pub async fn issue(
    tx: &DatabaseTransaction,
    row: &Model,
    expected: &Expected,
    by: Author,
) -> Result<(Model, Vec<Uuid>), ApiError> {
    expected.check(row.version)?;
    let superseded = issue_draft(tx, row, by).await?;
    let issued = find(tx, Scope::of_practice(row.practice_id), row.id).await?;
    Ok((issued, superseded))
}

/// The same for a draft that was just made; gives the ids of what it supersedes.
pub async fn issue_draft(
    tx: &DatabaseTransaction,
    row: &Model,
    by: Author,
) -> Result<Vec<Uuid>, ApiError> {
    if row.status != Status::Draft {
        return Err(wrong_state(row.status, "Only a draft can be issued."));
    }
    let change = ActiveModel {
        status: Set(Status::Issued),
        issued_at: Set(Some(by.now)),
        issued_by: Set(Some(by.account_id)),
        updated_at: Set(by.now),
        ..Default::default()
    };
    step(tx, row, change).await?;
    let superseded = supersede_others(tx, row, by.now).await?;
    let land = Land { planter_id: row.planter_id, field_id: row.field_id };
    season::keep(tx, row.practice_id, land, &[Changed::At(by.now)]).await?;
    Ok(superseded)
}

/// Notes that an issued recommendation was seen.
pub async fn acknowledge(
    tx: &DatabaseTransaction,
    row: &Model,
    expected: &Expected,
    by: Author,
) -> Result<Model, ApiError> {
    expected.check(row.version)?;
    if row.status != Status::Issued {
        return Err(wrong_state(row.status, "Only what is issued can be acknowledged."));
    }
    let change = ActiveModel {
        status: Set(Status::Acknowledged),
        acknowledged_at: Set(Some(by.now)),
        acknowledged_by: Set(Some(by.account_id)),
        updated_at: Set(by.now),
        ..Default::default()
    };
    step(tx, row, change).await?;
    let seen = find(tx, Scope::of_practice(row.practice_id), row.id).await?;
    season::keep_sheet(tx, &seen).await?;
    Ok(seen)
}

/// Deletes a draft.
pub async fn delete(
    db: &impl ConnectionTrait,
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
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}

async fn step(db: &impl ConnectionTrait, row: &Model, change: ActiveModel) -> Result<(), ApiError> {
    let change = ActiveModel { version: Set(row.version.saturating_add(1)), ..change };
    let done = Entity::update_many()
        .set(change)
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::Status.eq(row.status))
        .filter(Column::Version.eq(row.version))
        .exec(db)
        .await?;
    etag::one_row(done.rows_affected)
}

async fn supersede_others(
    db: &impl ConnectionTrait,
    row: &Model,
    now: DateTime<Utc>,
) -> Result<Vec<Uuid>, ApiError> {
    let counted: Vec<Uuid> = Entity::find()
        .select_only()
        .column(Column::Id)
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::SeriesId.eq(row.series_id))
        .filter(Column::Id.ne(row.id))
        .filter(Column::Status.is_in([Status::Issued, Status::Acknowledged]))
        .lock_exclusive()
        .into_tuple()
        .all(db)
        .await?;
    Entity::update_many()
        .col_expr(Column::Status, Expr::value(Status::Superseded.to_value()))
        .col_expr(Column::Version, Expr::col(Column::Version).add(1))
        .col_expr(Column::UpdatedAt, Expr::value(now))
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.is_in(counted.iter().copied()))
        .exec(db)
        .await?;
    Ok(counted)
}
