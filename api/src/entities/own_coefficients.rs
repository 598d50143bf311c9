//! Rows of `own_coefficients`. A practice's own figures; one row a change, never changed.

use sea_orm::entity::prelude::*;

/// A row. Without a figure it goes back to the standard.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "own_coefficients")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub name: String,
    pub version: i32,
    pub value: Option<f64>,
    pub low: Option<f64>,
    pub high: Option<f64>,
    #[sea_orm(column_type = "Text", nullable)]
    pub source: Option<String>,
    #[sea_orm(column_type = "Text", nullable)]
    pub note: Option<String>,
    pub set_at: DateTimeUtc,
    pub set_by: Uuid,
}

impl ActiveModelBehavior for ActiveModel {}
