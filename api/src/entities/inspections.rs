//! Rows of `inspections`. What was seen and measured on a planter in the shed. Kept, never changed.

use sea_orm::entity::prelude::*;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "inspections")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub planter_id: Uuid,
    pub inspected_on: Date,
    #[sea_orm(column_type = "JsonBinary")]
    pub entered: Json,
    #[sea_orm(column_type = "Text", nullable)]
    pub fingerprint: Option<String>,
    pub replaces_id: Option<Uuid>,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
}

impl ActiveModelBehavior for ActiveModel {}
