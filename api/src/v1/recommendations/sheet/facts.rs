//! What the sheet says, gathered from the rows it rests on.

use chrono::{DateTime, Utc};
use domain::quantity::System;
use domain::settings::Inputs;
use sea_orm::{ConnectionTrait, EntityTrait};

use crate::auth::Scope;
use crate::entities::{practices, recommendations};
use crate::http::ApiError;
use crate::v1::recommendations::answer::Recommendation;
use crate::v1::recommendations::in_shed::Sheds;
use crate::v1::recommendations::store;
use crate::v1::{conditions, farms, fields, growers, planters};

/// What the sheet says.
#[derive(Debug)]
pub(in crate::v1::recommendations) struct Facts {
    /// The advisory organisation.
    pub practice: String,
    /// The grower.
    pub grower: String,
    /// The farm.
    pub farm: String,
    /// The field.
    pub field: String,
    /// The planter.
    pub planter: String,
    /// When the field was looked at.
    pub seen_at: DateTime<Utc>,
    /// The units of the sheet.
    pub system: System,
    /// What went into the engine.
    pub inputs: Inputs,
    /// The recommendation in the units of the sheet.
    pub told: Recommendation,
}

impl Facts {
    /// Reads the names. The caller may see the recommendation, and so what it names.
    pub(in crate::v1::recommendations) async fn of(
        db: &impl ConnectionTrait,
        row: recommendations::Model,
        system: System,
    ) -> Result<Self, ApiError> {
        let scope = Scope::of_practice(row.practice_id);
        let practice = practices::Entity::find_by_id(row.practice_id).one(db).await?;
        let field = fields::store::find(db, scope, row.field_id).await?;
        let farm = farms::store::find(db, scope, field.farm_id).await?;
        let grower = growers::store::find(db, scope, farm.grower_id).await?;
        let planter = planters::store::find(db, scope, row.planter_id).await?;
        let report = conditions::store::find(db, scope, row.conditions_id).await?;
        let beside = Sheds::default().beside(db, &row, system).await?;
        Ok(Self {
            practice: practice.map(|row| row.name).unwrap_or_default(),
            grower: grower.name,
            farm: farm.name,
            field: field.name,
            planter: planter.name,
            seen_at: report.observed_at,
            system,
            inputs: store::inputs_of(&row)?,
            told: Recommendation::of(&row, system, beside)?,
        })
    }
}
