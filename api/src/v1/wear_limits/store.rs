//! What the manuals say, in the database: every change is a row of its own.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use domain::planter::Planter;
use domain::planter::inspection::OwnerLimits;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder,
};
use uuid::Uuid;

use super::dto::WearLimitsIn;
use crate::auth::Scope;
use crate::entities::planters;
use crate::entities::wear_limits::{ActiveModel, Column, Model};
use crate::http::ApiError;
use crate::v1::author::Author;

/// What was entered last.
#[derive(Debug, Clone, Default)]
pub struct InForce {
    /// What was entered.
    pub entered: WearLimitsIn,
    /// Counts the changes; 0 without one.
    pub version: i32,
    /// When, and by whom.
    pub set: Option<(DateTime<Utc>, Uuid)>,
}

impl InForce {
    fn of(row: Model) -> Result<Self, ApiError> {
        let Model { entered, version, created_at, created_by, .. } = row;
        let entered = serde_json::from_value(entered).map_err(ApiError::internal)?;
        Ok(Self { entered, version, set: Some((created_at, created_by)) })
    }

    /// In the domain. Parts that the planter has no more are left out.
    pub fn owner(&self, planter: &Planter) -> OwnerLimits {
        let mut kept = self.entered.clone();
        kept.parts.retain(|part| {
            let alone = WearLimitsIn { parts: vec![part.clone()], ..self.entered.clone() };
            alone.parse(planter).is_ok()
        });
        kept.parse(planter).unwrap_or_default()
    }
}

/// What was entered last for a planter.
pub async fn in_force(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
) -> Result<InForce, ApiError> {
    let rows = scope.wear_limits().filter(Column::PlanterId.eq(planter_id));
    let newest = rows.order_by_desc(Column::Version).one(db).await?;
    newest.map_or_else(|| Ok(InForce::default()), InForce::of)
}

/// What was entered last for each of some planters.
pub async fn of_planters(
    db: &impl ConnectionTrait,
    scope: Scope,
    planters: impl IntoIterator<Item = Uuid>,
) -> Result<HashMap<Uuid, InForce>, ApiError> {
    let rows = scope.wear_limits().filter(Column::PlanterId.is_in(planters));
    let rows = rows.order_by_asc(Column::Version).all(db).await?;
    // The last of each planter wins.
    rows.into_iter().map(|row| Ok((row.planter_id, InForce::of(row)?))).collect()
}

/// Stores what is in force from now on.
pub async fn append(
    db: &impl ConnectionTrait,
    planter: &planters::Model,
    author: Author,
    (entered, before): (&WearLimitsIn, i32),
) -> Result<(), ApiError> {
    let row = ActiveModel {
        practice_id: Set(planter.practice_id),
        id: Set(author.id),
        planter_id: Set(planter.id),
        version: Set(before + 1),
        entered: Set(serde_json::to_value(entered).map_err(ApiError::internal)?),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
    };
    row.insert(db).await?;
    Ok(())
}
