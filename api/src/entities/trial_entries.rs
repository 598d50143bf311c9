//! Rows of `trial_entries`. What was found on the plots of a trial.

use sea_orm::entity::prelude::*;

/// What an entry says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Kind {
    /// `values`: readings of one response.
    #[sea_orm(string_value = "values")]
    Values,
    /// `planted`: which treatment it got.
    #[sea_orm(string_value = "planted")]
    Planted,
    /// `lost`: that nothing can be read from it.
    #[sea_orm(string_value = "lost")]
    Lost,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "trial_entries")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub trial_id: Uuid,
    pub plot: i32,
    pub kind: Kind,
    #[sea_orm(column_type = "Text")]
    pub response: String,
    pub revision: i32,
    #[sea_orm(column_type = "JsonBinary")]
    pub content: Json,
    pub created_at: DateTimeUtc,
    pub created_by: Uuid,
}

impl ActiveModelBehavior for ActiveModel {}
