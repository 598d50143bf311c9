//! Secrets of machine clients in the database.

use chrono::{DateTime, Utc};
use sea_orm::sea_query::Expr;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter,
    QueryOrder,
};
use uuid::Uuid;

use super::dto::NewClientSecret;
use super::store;
use crate::app::AppState;
use crate::auth::secret;
use crate::entities::{client_secrets, machine_clients};
use crate::http::{ApiError, ProblemCode};

/// Most secrets of a client at once: the one in use, and the next one.
pub const MOST: usize = 2;

/// The secrets of a client, oldest first.
pub async fn of_client(
    db: &impl ConnectionTrait,
    client: &machine_clients::Model,
) -> Result<Vec<client_secrets::Model>, ApiError> {
    let rows = client_secrets::Entity::find()
        .filter(client_secrets::Column::PracticeId.eq(client.practice_id))
        .filter(client_secrets::Column::ClientId.eq(client.id))
        .order_by_asc(client_secrets::Column::Id);
    Ok(rows.all(db).await?)
}

/// Makes the first secret of a client that was just stored.
pub async fn first(
    db: &impl ConnectionTrait,
    app: &AppState,
    client: &machine_clients::Model,
) -> Result<NewClientSecret, ApiError> {
    let (id, text, now) = (app.ids.next(), secret::new(), app.clock.now());
    let row = client_secrets::ActiveModel {
        practice_id: Set(client.practice_id),
        id: Set(id),
        client_id: Set(client.id),
        secret_hash: Set(secret::hash(&text)),
        created_at: Set(now),
        last_used_at: Set(None),
    };
    row.insert(db).await?;
    Ok(NewClientSecret { id, client_secret: text, created_at: now })
}

/// Makes a further secret.
///
/// # Errors
/// 409 when the client has two already, 412 when it was changed at the same time.
pub async fn further(
    db: &impl ConnectionTrait,
    app: &AppState,
    client: &machine_clients::Model,
) -> Result<NewClientSecret, ApiError> {
    // Takes the client's row: of two at once the second sees the secret of the first.
    store::touch(db, client, app.clock.now()).await?;
    if of_client(db, client).await?.len() >= MOST {
        let detail = "The client has two secrets. Delete the one that is no longer used.";
        return Err(ApiError::new(ProblemCode::WrongState, detail));
    }
    first(db, app, client).await
}

/// Deletes a secret: from now on no token is got with it.
///
/// # Errors
/// 404 when the client has no such secret.
pub async fn delete(
    db: &impl ConnectionTrait,
    app: &AppState,
    client: &machine_clients::Model,
    id: Uuid,
) -> Result<(), ApiError> {
    let done = client_secrets::Entity::delete_many()
        .filter(client_secrets::Column::PracticeId.eq(client.practice_id))
        .filter(client_secrets::Column::ClientId.eq(client.id))
        .filter(client_secrets::Column::Id.eq(id))
        .exec(db)
        .await?;
    if done.rows_affected == 0 {
        return Err(ApiError::not_found("secret"));
    }
    store::touch(db, client, app.clock.now()).await
}

/// Notes that a token was got with a secret.
pub async fn note_use(
    db: &impl ConnectionTrait,
    secret: &client_secrets::Model,
    now: DateTime<Utc>,
) -> Result<(), ApiError> {
    client_secrets::Entity::update_many()
        .col_expr(client_secrets::Column::LastUsedAt, Expr::value(now))
        .filter(client_secrets::Column::PracticeId.eq(secret.practice_id))
        .filter(client_secrets::Column::Id.eq(secret.id))
        .exec(db)
        .await?;
    Ok(())
}
