//! Repairs in the database. Every query starts from the caller's scope.

use chrono::NaiveDate;
use domain::planter::inspection::ItemCode;
use sea_orm::{ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, QueryFilter};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::planters;
use crate::entities::repairs::{ActiveModel, Column, Model};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};
use crate::v1::author::Author;
use crate::v1::cost::Cost;

/// A repair to be stored.
#[derive(Debug)]
pub struct NewRepair {
    /// The item.
    pub item: ItemCode,
    /// Rows; empty for what the planter has once.
    pub rows: Vec<u16>,
    /// The day.
    pub repaired_on: NaiveDate,
    /// Whether a new part was put in.
    pub new_part: bool,
    /// What it cost.
    pub cost: Option<Cost>,
    /// Notes.
    pub notes: Option<String>,
}

/// A page of the repairs of a planter.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = scope.repairs().filter(Column::PlanterId.eq(planter_id));
    let rows = page.of(rows, Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// Stores a repair, unless the same was done on one of its rows on the same day.
pub async fn insert(
    db: &impl ConnectionTrait,
    planter: &planters::Model,
    author: Author,
    new: NewRepair,
) -> Result<Model, ApiError> {
    let NewRepair { item, rows, repaired_on, new_part, cost, notes } = new;
    let that_day = Scope::of_practice(planter.practice_id)
        .repairs()
        .filter(Column::PlanterId.eq(planter.id))
        .filter(Column::Item.eq(item.code()))
        .filter(Column::RepairedOn.eq(repaired_on));
    for before in that_day.all(db).await? {
        let done: Vec<u16> = serde_json::from_value(before.rows).map_err(ApiError::internal)?;
        if rows.is_empty() || rows.iter().any(|row| done.contains(row)) {
            return Err(ApiError::new(
                ProblemCode::AlreadyExists,
                format!("This was entered for that day before, as {}.", before.id),
            ));
        }
    }
    let row = ActiveModel {
        practice_id: Set(planter.practice_id),
        id: Set(author.id),
        planter_id: Set(planter.id),
        item: Set(item.code().to_owned()),
        rows: Set(serde_json::to_value(rows).map_err(ApiError::internal)?),
        repaired_on: Set(repaired_on),
        new_part: Set(new_part),
        notes: Set(notes),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
        cost_amount: Set(cost.as_ref().map(|cost| cost.amount)),
        cost_currency: Set(cost.map(|cost| cost.currency)),
    };
    Ok(row.insert(db).await?)
}
