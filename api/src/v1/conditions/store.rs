//! Conditions reports in the database. Every query starts from the caller's scope.

use domain::conditions::Conditions;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder,
};
use uuid::Uuid;

use super::dto::ConditionsIn;
use crate::auth::Scope;
use crate::entities::{conditions_reports, fields};
use crate::http::ApiError;
use crate::http::page::PageRequest;
use crate::v1::author::Author;

/// Stores a report as it was entered. It has been parsed already.
pub async fn insert(
    db: &impl ConnectionTrait,
    field: &fields::Model,
    by: Author,
    given: &ConditionsIn,
) -> Result<conditions_reports::Model, ApiError> {
    let row = conditions_reports::ActiveModel {
        practice_id: Set(field.practice_id),
        id: Set(by.id),
        field_id: Set(field.id),
        observed_at: Set(given.observed_at),
        observations: Set(serde_json::to_value(given).map_err(ApiError::internal)?),
        created_at: Set(by.now),
        created_by: Set(by.account_id),
    };
    Ok(row.insert(db).await?)
}

/// Finds a report in scope. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<conditions_reports::Model, ApiError> {
    let found =
        scope.conditions_reports().filter(conditions_reports::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("conditions report"))
}

/// The report of a field with the latest time of looking; of two at one time the later made.
pub async fn newest(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Option<conditions_reports::Model>, ApiError> {
    let rows = scope
        .conditions_reports()
        .filter(conditions_reports::Column::FieldId.eq(field_id))
        .order_by_desc(conditions_reports::Column::ObservedAt)
        .order_by_desc(conditions_reports::Column::Id);
    Ok(rows.one(db).await?)
}

/// A page of the reports of a field.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
    page: &PageRequest,
) -> Result<(Vec<conditions_reports::Model>, Option<String>), ApiError> {
    let rows = scope.conditions_reports().filter(conditions_reports::Column::FieldId.eq(field_id));
    let rows = page.of(rows, conditions_reports::Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// What the engine works with, from a stored report.
///
/// # Errors
/// A fault on our side when the stored report does not parse any more.
pub fn conditions_of(row: &conditions_reports::Model) -> Result<Conditions, ApiError> {
    let entered = ConditionsIn::stored(row)?;
    // The time was checked when the report came in.
    entered.parse(row.observed_at).map_err(ApiError::internal)
}
