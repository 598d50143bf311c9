//! Rows of `practices`. The advisory organisations.

use sea_orm::entity::prelude::*;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Which growers the advisors of a practice see.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(example = "assigned")]
pub enum AdvisorsSee {
    /// All growers of the practice.
    #[sea_orm(string_value = "all")]
    All,
    /// Only the growers that they look after.
    #[sea_orm(string_value = "assigned")]
    Assigned,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "practices")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub name: String,
    pub created_at: DateTimeUtc,
    pub advisors_see: AdvisorsSee,
    pub version: i32,
    pub updated_at: DateTimeUtc,
    #[sea_orm(column_type = "Text")]
    pub time_zone: String,
    #[sea_orm(column_type = "Text")]
    pub season_starts: String,
    /// What hashes of erased records are keyed with; none before the first erasure.
    #[sea_orm(column_type = "Text", nullable)]
    pub erasure_salt: Option<String>,
}

impl ActiveModelBehavior for ActiveModel {}
