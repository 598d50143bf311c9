//! Rows of `trials`. What is compared, and what lies where.

use sea_orm::entity::prelude::*;

/// The status of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Status {
    /// `draft`
    #[sea_orm(string_value = "draft")]
    Draft,
    /// `running`
    #[sea_orm(string_value = "running")]
    Running,
    /// `closed`
    #[sea_orm(string_value = "closed")]
    Closed,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "trials")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub field_id: Uuid,
    pub planter_id: Uuid,
    #[sea_orm(column_type = "Text")]
    pub name: String,
    pub status: Status,
    #[sea_orm(column_type = "JsonBinary")]
    pub design: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub layout: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub replications: Json,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    pub started_at: Option<DateTimeUtc>,
    pub started_by: Option<Uuid>,
    pub closed_at: Option<DateTimeUtc>,
    pub closed_by: Option<Uuid>,
    pub version: i32,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
