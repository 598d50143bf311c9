//! A settings sheet with all that it refers to.

use sea_orm::{ConnectionTrait, EntityTrait};

use super::settings::Settings;
use crate::auth::Scope;
use crate::entities::{farms, fields, growers, planters, practices, recommendations};
use crate::http::ApiError;
use crate::v1::recommendations::store;
use crate::v1::{
    farms as farm_rows, fields as field_rows, growers as grower_rows, planters as planter_rows,
};

/// A settings sheet with all that it refers to.
#[derive(Debug)]
pub struct SheetFacts {
    /// The practice.
    pub practice: practices::Model,
    /// The grower.
    pub grower: growers::Model,
    /// The farm.
    pub farm: farms::Model,
    /// The field.
    pub field: fields::Model,
    /// The planter.
    pub planter: planters::Model,
    /// The sheet.
    pub row: recommendations::Model,
    /// Its figures.
    pub settings: Settings,
}

impl SheetFacts {
    /// Reads what a sheet refers to. The caller may see the sheet, and so that.
    pub async fn of(
        db: &impl ConnectionTrait,
        row: recommendations::Model,
    ) -> Result<Self, ApiError> {
        let scope = Scope::of_practice(row.practice_id);
        let practice = practices::Entity::find_by_id(row.practice_id).one(db).await?;
        let practice = practice.ok_or_else(|| ApiError::internal("a sheet without a practice"))?;
        let field = field_rows::store::find(db, scope, row.field_id).await?;
        let farm = farm_rows::store::find(db, scope, field.farm_id).await?;
        let grower = grower_rows::store::find(db, scope, farm.grower_id).await?;
        let planter = planter_rows::store::find(db, scope, row.planter_id).await?;
        let settings = Settings::of(&store::inputs_of(&row)?, &store::result_of(&row)?);
        Ok(Self { practice, grower, farm, field, planter, row, settings })
    }
}
