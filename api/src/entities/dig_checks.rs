//! Rows of `dig_checks`. What was found when the grower dug behind the planter.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "dig_checks")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub recommendation_id: Uuid,
    pub dug_at: DateTimeUtc,
    #[sea_orm(column_type = "JsonBinary")]
    pub observation: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub result: Json,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    #[sea_orm(column_type = "Text", nullable)]
    pub fingerprint: Option<String>,
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub notices: Option<Json>,
    /// Where the mean depth lies against its tolerance, as in the judgement.
    #[sea_orm(column_type = "Text", nullable)]
    pub depth_side: Option<String>,
    /// The kind of change that is proposed, as in the judgement.
    #[sea_orm(column_type = "Text", nullable)]
    pub asks: Option<String>,
}

impl ActiveModelBehavior for ActiveModel {}
