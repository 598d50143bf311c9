//! Rows of `mail_wishes`. What an account or a grower wants to get by mail; nothing without a row.

use sea_orm::entity::prelude::*;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How often an account gets its attention list by mail.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema, EnumIter, DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
#[schema(example = "daily")]
pub enum Digest {
    /// Never.
    #[sea_orm(string_value = "none")]
    None,
    /// Each day on which something needs the account.
    #[sea_orm(string_value = "daily")]
    Daily,
    /// Once a week, if something needs the account then.
    #[sea_orm(string_value = "weekly")]
    Weekly,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "mail_wishes")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub account_id: Option<Uuid>,
    pub grower_id: Option<Uuid>,
    pub digest: Digest,
    pub digest_hour: i32,
    /// 1 is Monday.
    pub digest_weekday: i32,
    /// Whether a grower gets mail when a sheet is ready.
    pub sheets: bool,
    pub next_digest_at: Option<DateTimeUtc>,
    /// Stands in each mail and turns mail off. All it can do is that, so it is kept as it is.
    #[sea_orm(column_type = "Text")]
    pub stop_key: String,
    pub updated_by: Option<Uuid>,
    pub updated_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
