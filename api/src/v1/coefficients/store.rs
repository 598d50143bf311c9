//! A practice's own figures in the database: a row a change, never changed. Every query starts
//! from the caller's scope.

use domain::provenance::OwnFigure;
use sea_orm::sea_query::{Expr, ExprTrait, Query};
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder,
};

use crate::auth::Scope;
use crate::entities::own_coefficients::{ActiveModel, Column, Entity, Model};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode, etag};
use crate::v1::author::Author;

/// The version of a coefficient that the practice never changed.
pub const UNCHANGED: i32 = 0;

/// The newest change of each coefficient that the practice ever changed.
pub async fn newest(db: &impl ConnectionTrait, scope: Scope) -> Result<Vec<Model>, ApiError> {
    let last = Query::select()
        .column(Column::Name)
        .expr(Expr::col(Column::Version).max())
        .from(Entity)
        .and_where(Expr::col(Column::PracticeId).eq(scope.practice_id))
        .group_by_col(Column::Name)
        .to_owned();
    let name_and_version = Expr::tuple([Expr::col(Column::Name), Expr::col(Column::Version)]);
    let rows = scope.own_coefficients().filter(name_and_version.in_subquery(last));
    Ok(rows.order_by_asc(Column::Name).all(db).await?)
}

/// The newest change of one coefficient.
pub async fn newest_of(
    db: &impl ConnectionTrait,
    scope: Scope,
    name: &str,
) -> Result<Option<Model>, ApiError> {
    let rows = scope.own_coefficients().filter(Column::Name.eq(name));
    Ok(rows.order_by_desc(Column::Version).one(db).await?)
}

/// A page of the changes of one coefficient, oldest first.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    name: &str,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = scope.own_coefficients().filter(Column::Name.eq(name));
    let rows = page.of(rows, Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// The own figure of a change; none where it goes back to the standard.
pub fn figure_of(row: &Model) -> Option<OwnFigure> {
    Some(OwnFigure {
        name: row.name.clone(),
        value: row.value?,
        low: row.low?,
        high: row.high?,
        source: row.source.clone()?,
    })
}

/// The number of the newest change.
pub fn version_of(newest: Option<&Model>) -> i32 {
    newest.map_or(UNCHANGED, |row| row.version)
}

/// Stores a change: an own figure with a note, or none to go back to the standard.
///
/// # Errors
/// 412 when someone else was faster.
pub async fn append(
    db: &impl ConnectionTrait,
    scope: Scope,
    by: Author,
    (name, before): (&str, i32),
    (figure, note): (Option<OwnFigure>, Option<String>),
) -> Result<Model, ApiError> {
    let row = ActiveModel {
        practice_id: Set(scope.practice_id),
        id: Set(by.id),
        name: Set(name.to_owned()),
        version: Set(before.saturating_add(1)),
        value: Set(figure.as_ref().map(|own| own.value)),
        low: Set(figure.as_ref().map(|own| own.low)),
        high: Set(figure.as_ref().map(|own| own.high)),
        source: Set(figure.map(|own| own.source)),
        note: Set(note),
        set_at: Set(by.now),
        set_by: Set(by.account_id),
    };
    row.insert(db).await.map_err(|error| match ApiError::from(error) {
        taken if taken.code() == ProblemCode::AlreadyExists => etag::stale().caused_by(taken),
        other => other,
    })
}
