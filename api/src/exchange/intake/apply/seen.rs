//! What is missing upstream.

use std::collections::HashSet;
use std::hash::BuildHasher;

use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{
    ColumnTrait, ConnectionTrait, DatabaseTransaction, EntityTrait, QueryFilter, QuerySelect,
};
use uuid::Uuid;

use super::By;
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::{external_ids, record_matches};
use crate::exchange::intake::incoming::{Kind, TheirRef};
use crate::exchange::intake::plan::AT_ONCE;
use crate::exchange::intake::system::System;
use crate::http::ApiError;

/// What would be marked as gone; stores nothing.
///
/// # Errors
/// When the database fails.
pub async fn missing(
    db: &impl ConnectionTrait,
    scope: Scope,
    system: &System,
    kind: Kind,
    seen: &HashSet<String, impl BuildHasher>,
) -> Result<Vec<TheirRef>, ApiError> {
    let gone = not_seen(db, scope, (system, kind), seen).await?;
    Ok(gone.into_iter().map(|(_, their_id)| TheirRef { kind, their_id }).collect())
}

/// Marks as gone what is tied and was not among what a full listing showed. Deletes no object of ours;
/// what is seen again is marked no more. A record that waited for a person and is gone waits no more.
/// Gives how many were marked.
///
/// # Errors
/// When the database fails.
pub async fn mark_missing(
    tx: &DatabaseTransaction,
    app: &AppState,
    by: &By,
    system: &System,
    kind: Kind,
    seen: &HashSet<String, impl BuildHasher>,
) -> Result<u64, ApiError> {
    use external_ids::{Column, Entity};
    let practice_id = by.actor.practice_id;
    let gone = not_seen(tx, Scope::of_practice(practice_id), (system, kind), seen).await?;
    let ids: Vec<Uuid> = gone.into_iter().map(|(id, _)| id).collect();
    let mut marked = 0;
    for some in ids.chunks(AT_ONCE) {
        let done = Entity::update_many()
            .col_expr(Column::GoneSince, Expr::value(app.clock.now()))
            .col_expr(Column::Version, Expr::col(Column::Version).add(1))
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Id.is_in(some.iter().copied()))
            .exec(tx)
            .await?;
        marked += done.rows_affected;
    }
    forget_waiting(tx, practice_id, (system, kind), seen).await?;
    Ok(marked)
}

/// Ids of what is tied, not marked yet, and not among these.
async fn not_seen(
    db: &impl ConnectionTrait,
    scope: Scope,
    (system, kind): (&System, Kind),
    seen: &HashSet<String, impl BuildHasher>,
) -> Result<Vec<(Uuid, String)>, ApiError> {
    use external_ids::{Column, Entity};
    let tied = Entity::find()
        .select_only()
        .columns([Column::Id, Column::TheirId])
        .filter(Column::PracticeId.eq(scope.practice_id))
        .filter(Column::System.eq(system.as_str()))
        .filter(Column::Kind.eq(kind))
        .filter(Column::GoneSince.is_null())
        .into_tuple::<(Uuid, String)>()
        .all(db)
        .await?;
    Ok(tied.into_iter().filter(|(_, their_id)| !seen.contains(their_id)).collect())
}

async fn forget_waiting(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    (system, kind): (&System, Kind),
    seen: &HashSet<String, impl BuildHasher>,
) -> Result<(), ApiError> {
    use record_matches::{Column, Entity};
    let waiting = Entity::find()
        .select_only()
        .columns([Column::Id, Column::TheirId])
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::System.eq(system.as_str()))
        .filter(Column::Kind.eq(kind))
        .into_tuple::<(Uuid, String)>()
        .all(tx)
        .await?;
    let gone = waiting.into_iter().filter(|(_, their_id)| !seen.contains(their_id));
    let gone: Vec<Uuid> = gone.map(|(id, _)| id).collect();
    for some in gone.chunks(AT_ONCE) {
        Entity::delete_many()
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Id.is_in(some.iter().copied()))
            .exec(tx)
            .await?;
    }
    Ok(())
}
