//! Rows of `plantings`. What was planted where, when and with which planter.

use sea_orm::entity::prelude::*;

/// The crop of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Crop {
    /// `corn`
    #[sea_orm(string_value = "corn")]
    Corn,
    /// `soybean`
    #[sea_orm(string_value = "soybean")]
    Soybean,
}

impl From<domain::conditions::Crop> for Crop {
    fn from(crop: domain::conditions::Crop) -> Self {
        match crop {
            domain::conditions::Crop::Corn => Self::Corn,
            domain::conditions::Crop::Soybean => Self::Soybean,
        }
    }
}

impl From<Crop> for domain::conditions::Crop {
    fn from(crop: Crop) -> Self {
        match crop {
            Crop::Corn => Self::Corn,
            Crop::Soybean => Self::Soybean,
        }
    }
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "plantings")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub field_id: Uuid,
    pub planter_id: Uuid,
    pub recommendation_id: Option<Uuid>,
    pub planted_on: Date,
    pub crop: Crop,
    pub area_m2: Option<f64>,
    pub seeds_per_m2: Option<f64>,
    pub depth_m: Option<f64>,
    pub hours: Option<f64>,
    #[sea_orm(column_type = "JsonBinary")]
    pub entered: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub notices: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub need: Json,
    #[sea_orm(column_type = "Text", nullable)]
    pub note: Option<String>,
    #[sea_orm(column_type = "Text")]
    pub fingerprint: String,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    pub updated_at: DateTimeUtc,
    pub version: i32,
    pub cost_amount: Option<f64>,
    #[sea_orm(column_type = "Text", nullable)]
    pub cost_currency: Option<String>,
}

impl ActiveModelBehavior for ActiveModel {}
