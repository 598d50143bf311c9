//! Rows of `sessions`. Who is signed in.

use sea_orm::entity::prelude::*;

/// How somebody signed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum WayIn {
    /// `password`
    #[sea_orm(string_value = "password")]
    Password,
    /// `access_link`
    #[sea_orm(string_value = "access_link")]
    AccessLink,
    /// `outside`
    #[sea_orm(string_value = "outside")]
    Outside,
}

/// Why a session ended before its time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, EnumIter, DeriveActiveEnum)]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum WayOut {
    /// `signed_out`
    #[sea_orm(string_value = "signed_out")]
    SignedOut,
    /// `token_reused`
    #[sea_orm(string_value = "token_reused")]
    TokenReused,
    /// `password_changed`
    #[sea_orm(string_value = "password_changed")]
    PasswordChanged,
    /// `account_disabled`
    #[sea_orm(string_value = "account_disabled")]
    AccountDisabled,
    /// `link_revoked`
    #[sea_orm(string_value = "link_revoked")]
    LinkRevoked,
}

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "sessions")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub account_id: Uuid,
    pub signed_in_by: WayIn,
    pub access_link_id: Option<Uuid>,
    pub created_at: DateTimeUtc,
    pub refreshed_at: DateTimeUtc,
    pub idle_expires_at: DateTimeUtc,
    pub expires_at: DateTimeUtc,
    pub ended_at: Option<DateTimeUtc>,
    pub ended_because: Option<WayOut>,
}

impl ActiveModelBehavior for ActiveModel {}
