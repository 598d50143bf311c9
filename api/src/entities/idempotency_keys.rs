//! Rows of `idempotency_keys`. Requests that were carried out, with their answers, for a while.

use sea_orm::entity::prelude::*;

/// A row. The id is a hash of account, operation and key.
#[sea_orm::model]
#[derive(Debug, Clone, PartialEq, Eq, DeriveEntityModel)]
#[sea_orm(table_name = "idempotency_keys")]
pub struct Model {
    #[sea_orm(primary_key, auto_increment = false)]
    pub practice_id: Uuid,
    #[sea_orm(primary_key, auto_increment = false)]
    pub id: Uuid,
    /// None where the answer is not kept.
    #[sea_orm(column_type = "Text", nullable)]
    pub fingerprint: Option<String>,
    pub status: i32,
    #[sea_orm(column_type = "Text", nullable)]
    pub etag: Option<String>,
    #[sea_orm(column_type = "Text", nullable)]
    pub location: Option<String>,
    #[sea_orm(column_type = "Text", nullable)]
    pub body: Option<String>,
    pub expires_at: DateTimeUtc,
}

impl ActiveModelBehavior for ActiveModel {}
