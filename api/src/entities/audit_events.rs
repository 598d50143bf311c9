//! Rows of `audit_events`. Who did what, when; never changed.

use sea_orm::entity::prelude::*;

use crate::auth::role::Role;

/// A row.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, DeriveEntityModel)]
#[sea_orm(table_name = "audit_events")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    pub at: DateTimeUtc,
    pub account_id: Uuid,
    pub role: Role,
    /// The machine client; none for people.
    pub client_id: Option<Uuid>,
    #[sea_orm(column_type = "Text")]
    pub request_id: String,
    /// The operation's id in the API document.
    #[sea_orm(column_type = "Text")]
    pub operation: String,
    #[sea_orm(column_type = "Text")]
    pub object_kind: String,
    /// Id of the object, or its name where it has no id.
    #[sea_orm(column_type = "Text")]
    pub object_id: String,
    /// The grower whose object it is, where it is one's.
    pub grower_id: Option<Uuid>,
    /// Names of the members that a change set.
    #[sea_orm(column_type = "JsonBinary", nullable)]
    pub changed: Option<Json>,
}

impl ActiveModelBehavior for ActiveModel {}
