//! Accounts in the database.

use sea_orm::{ActiveModelTrait, ActiveValue::Set, ConnectionTrait, EntityTrait, IntoActiveModel};

use super::dto::Account;
use crate::entities::{accounts, practices};
use crate::http::ApiError;
use crate::v1::units::Units;

/// The account as it goes over the wire, with the name of its practice.
pub async fn with_practice(
    db: &impl ConnectionTrait,
    row: accounts::Model,
) -> Result<Account, ApiError> {
    let practice = practices::Entity::find_by_id(row.practice_id)
        .one(db)
        .await?
        .ok_or_else(|| ApiError::internal("an account without a practice"))?;
    Ok(Account {
        id: row.id,
        email: row.email,
        display_name: row.display_name,
        role: row.role,
        grower_id: row.grower_id,
        practice: practice.name,
        units: row.units,
    })
}

/// Stores a new display name and units.
pub async fn change(
    db: &impl ConnectionTrait,
    row: accounts::Model,
    display_name: Option<String>,
    units: Option<Units>,
) -> Result<accounts::Model, ApiError> {
    if display_name.is_none() && units.is_none() {
        return Ok(row);
    }
    let mut active = row.into_active_model();
    if let Some(display_name) = display_name {
        active.display_name = Set(display_name);
    }
    if let Some(units) = units {
        active.units = Set(units);
    }
    Ok(active.update(db).await?)
}
