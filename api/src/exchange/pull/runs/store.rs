//! Runs in the database.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect,
};
use uuid::Uuid;

use crate::entities::records_links;
use crate::entities::records_runs::{ActiveModel, Column, Entity, Mode, Model, Status};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};

/// A run to be stored.
#[derive(Debug, Clone, Copy)]
pub struct NewRun {
    /// Its id.
    pub id: Uuid,
    /// What it does with what it fetched.
    pub mode: Mode,
    /// Whether also what did not change is fetched.
    pub everything: bool,
    /// Who asked for it.
    pub asked_by: Uuid,
    /// When.
    pub now: DateTime<Utc>,
}

/// Stores a run of a link, unless one is not finished; says whether it did.
///
/// # Errors
/// When the database fails.
pub async fn insert(
    tx: &impl ConnectionTrait,
    link: &records_links::Model,
    new: NewRun,
) -> Result<bool, ApiError> {
    let NewRun { id, mode, everything, asked_by, now } = new;
    let row = ActiveModel {
        practice_id: Set(link.practice_id),
        id: Set(id),
        link_id: Set(link.id),
        mode: Set(mode),
        everything: Set(everything),
        status: Set(Status::Waiting),
        asked_by: Set(asked_by),
        created_at: Set(now),
        started_at: Set(None),
        finished_at: Set(None),
        due_at: Set(now),
        attempts: Set(0),
        lease: Set(None),
        pages: Set(0),
        records: Set(0),
        counts: Set(None),
        report: Set(None),
    };
    let once = OnConflict::new().do_nothing().to_owned();
    let stored = Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    Ok(stored > 0)
}

/// The same for somebody who asks for it.
///
/// # Errors
/// 409 when a run of the link is not finished.
pub async fn ask(
    tx: &impl ConnectionTrait,
    link: &records_links::Model,
    new: NewRun,
) -> Result<Model, ApiError> {
    if !insert(tx, link, new).await? {
        let detail = "A run of this link is not finished; there is one at a time.";
        return Err(ApiError::new(ProblemCode::WrongState, detail));
    }
    find(tx, link, new.id).await
}

/// Finds a run of a link.
pub async fn find(
    db: &impl ConnectionTrait,
    link: &records_links::Model,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = Entity::find_by_id((link.practice_id, id)).filter(Column::LinkId.eq(link.id));
    found.one(db).await?.ok_or_else(|| ApiError::not_found("run"))
}

/// A page of the runs of a link, without what is kept of each.
pub async fn page(
    db: &impl ConnectionTrait,
    link: &records_links::Model,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = Entity::find()
        .filter(Column::PracticeId.eq(link.practice_id))
        .filter(Column::LinkId.eq(link.id))
        .select_only()
        .columns(ALL_BUT_THE_REPORT)
        .expr_as(sea_orm::sea_query::Expr::cust("NULL"), "report");
    let rows = page.of(rows, Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

const ALL_BUT_THE_REPORT: [Column; 16] = [
    Column::PracticeId,
    Column::Id,
    Column::LinkId,
    Column::Mode,
    Column::Everything,
    Column::Status,
    Column::AskedBy,
    Column::CreatedAt,
    Column::StartedAt,
    Column::FinishedAt,
    Column::DueAt,
    Column::Attempts,
    Column::Lease,
    Column::Pages,
    Column::Records,
    Column::Counts,
];

/// Empties what is kept of the runs of a practice: it may name somebody who is erased.
///
/// # Errors
/// When the database fails.
pub async fn forget_reports(tx: &impl ConnectionTrait, practice_id: Uuid) -> Result<(), ApiError> {
    Entity::update_many()
        .col_expr(Column::Report, sea_orm::sea_query::Expr::cust("NULL"))
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::Report.is_not_null())
        .exec(tx)
        .await?;
    Ok(())
}

/// Deletes what ended before this time, in all practices.
///
/// # Errors
/// When the database fails.
pub async fn sweep(db: &impl ConnectionTrait, before: DateTime<Utc>) -> Result<u64, ApiError> {
    let swept = Entity::delete_many().filter(Column::FinishedAt.lt(before)).exec(db).await?;
    Ok(swept.rows_affected)
}
