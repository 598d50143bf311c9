//! Rows of `recommendations`. Settings for one planter in one field; one row a revision.

use sea_orm::entity::prelude::*;

/// The status of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Status {
    /// `draft`
    #[sea_orm(string_value = "draft")]
    Draft,
    /// `issued`
    #[sea_orm(string_value = "issued")]
    Issued,
    /// `acknowledged`
    #[sea_orm(string_value = "acknowledged")]
    Acknowledged,
    /// `superseded`
    #[sea_orm(string_value = "superseded")]
    Superseded,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "recommendations")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub field_id: Uuid,
    pub planter_id: Uuid,
    pub conditions_id: Uuid,
    pub calibration_id: Option<Uuid>,
    pub series_id: Uuid,
    pub revision: i32,
    pub replaces_id: Option<Uuid>,
    pub status: Status,
    #[sea_orm(column_type = "JsonBinary")]
    pub goals: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub inputs: Json,
    #[sea_orm(column_type = "JsonBinary")]
    pub result: Json,
    #[sea_orm(column_type = "Text")]
    pub engine_version: String,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
    pub issued_at: Option<DateTimeUtc>,
    pub issued_by: Option<Uuid>,
    pub acknowledged_at: Option<DateTimeUtc>,
    pub acknowledged_by: Option<Uuid>,
    pub version: i32,
    pub coefficient_set_id: Option<Uuid>,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
