//! One tie: found, ended, forgotten.

use std::collections::HashMap;

use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter};
use serde_json::{Map, Value, json};
use uuid::Uuid;

use super::incoming::{Kind, TheirRef};
use super::plan::objects_of;
use super::system::System;
use crate::auth::Scope;
use crate::entities::{external_ids, record_conflicts, record_matches};
use crate::http::ApiError;

/// The tie of one of their ids, if it is in scope.
///
/// # Errors
/// When the database fails.
pub async fn find_tie(
    db: &impl ConnectionTrait,
    scope: Scope,
    system: &System,
    record: &TheirRef,
) -> Result<Option<external_ids::Model>, ApiError> {
    use external_ids::Column;
    let found = scope
        .external_ids()
        .filter(Column::System.eq(system.as_str()))
        .filter(Column::Kind.eq(record.kind))
        .filter(Column::TheirId.eq(record.their_id.as_str()))
        .one(db)
        .await?;
    Ok(found)
}

/// The version of the object of a tie; `None` when it was deleted.
///
/// # Errors
/// When the database fails.
pub async fn version_of(
    db: &impl ConnectionTrait,
    scope: Scope,
    (kind, object_id): (Kind, Uuid),
) -> Result<Option<i32>, ApiError> {
    let mut found = objects_of(db, scope, kind, vec![object_id]).await?;
    Ok(found.remove(&object_id).map(|ours| ours.version))
}

/// Ends a tie. Our object stays; conflicts of the tie go with it.
///
/// # Errors
/// When the database fails.
pub async fn end_tie(tx: &DatabaseTransaction, tie: &external_ids::Model) -> Result<(), ApiError> {
    record_conflicts::Entity::delete_many()
        .filter(record_conflicts::Column::PracticeId.eq(tie.practice_id))
        .filter(record_conflicts::Column::ExternalId.eq(tie.id))
        .exec(tx)
        .await?;
    external_ids::Entity::delete_by_id((tie.practice_id, tie.id)).exec(tx).await?;
    Ok(())
}

/// Lets go of what was said of a grower who is deleted. Ids stay, so that he does not come back with
/// the next listing.
///
/// # Errors
/// When the database fails.
pub async fn forget_grower(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    grower_id: Uuid,
) -> Result<(), ApiError> {
    record_conflicts::Entity::delete_many()
        .filter(record_conflicts::Column::PracticeId.eq(practice_id))
        .filter(record_conflicts::Column::GrowerId.eq(grower_id))
        .exec(db)
        .await?;
    record_matches::Entity::delete_many()
        .filter(record_matches::Column::PracticeId.eq(practice_id))
        .filter(record_matches::Column::GrowerId.eq(grower_id))
        .exec(db)
        .await?;
    external_ids::Entity::update_many()
        .col_expr(external_ids::Column::GrowerId, Expr::value(None::<Uuid>))
        .col_expr(external_ids::Column::Taken, Expr::value(json!({})))
        .filter(external_ids::Column::PracticeId.eq(practice_id))
        .filter(external_ids::Column::GrowerId.eq(grower_id))
        .exec(db)
        .await?;
    Ok(())
}

/// Our objects of a kind, said in the members of records.
///
/// # Errors
/// When the database fails.
pub async fn members_now(
    db: &impl ConnectionTrait,
    scope: Scope,
    kind: Kind,
    ids: Vec<Uuid>,
) -> Result<HashMap<Uuid, Map<String, Value>>, ApiError> {
    let found = objects_of(db, scope, kind, ids).await?;
    Ok(found.into_iter().map(|(id, ours)| (id, ours.members)).collect())
}
