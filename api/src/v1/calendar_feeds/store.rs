//! Calendar feeds in the database. An account sees its own only.

use sea_orm::sea_query::Expr;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, EntityTrait, PaginatorTrait,
    QueryFilter, Select,
};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::secret;
use crate::entities::calendar_entries;
use crate::entities::calendar_feeds::{ActiveModel, Column, Entity, Model};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};

/// Most feeds of an account.
pub(super) const MOST: u64 = 20;

/// Whose feeds: the practice and the account.
pub(super) type Owner = (Uuid, Uuid);

/// The feeds of an account that work.
fn own((practice_id, account_id): Owner) -> Select<Entity> {
    Entity::find()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::AccountId.eq(account_id))
        .filter(Column::RevokedAt.is_null())
}

/// Finds a feed of the account. Someone else's is not found.
pub(super) async fn find(
    db: &impl ConnectionTrait,
    owner: Owner,
    id: Uuid,
) -> Result<Model, ApiError> {
    let found = own(owner).filter(Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("calendar feed"))
}

/// A page of the feeds of the account.
pub(super) async fn page(
    db: &impl ConnectionTrait,
    owner: Owner,
    page: &PageRequest,
) -> Result<(Vec<Model>, Option<String>), ApiError> {
    let rows = page.of(own(owner), Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// Stores a feed and gives its secret.
///
/// # Errors
/// 409 when the account has as many as it may have.
pub(super) async fn insert(
    tx: &impl ConnectionTrait,
    app: &AppState,
    owner: Owner,
    (grower_id, note): (Option<Uuid>, Option<String>),
) -> Result<(Model, String), ApiError> {
    if own(owner).count(tx).await? >= MOST {
        let detail = format!("You have {MOST} calendar feeds. Revoke one that nobody reads.");
        return Err(ApiError::new(ProblemCode::WrongState, detail));
    }
    let secret = secret::new();
    let row = ActiveModel {
        practice_id: Set(owner.0),
        id: Set(app.ids.next()),
        account_id: Set(owner.1),
        grower_id: Set(grower_id),
        secret_hash: Set(secret::hash(&secret)),
        note: Set(note),
        created_at: Set(app.clock.now()),
        revoked_at: Set(None),
    };
    Ok((row.insert(tx).await?, secret))
}

/// Revokes a feed; what it showed is forgotten. Says whether it worked before.
pub(super) async fn revoke(
    tx: &impl ConnectionTrait,
    app: &AppState,
    row: &Model,
) -> Result<bool, ApiError> {
    let done = Entity::update_many()
        .col_expr(Column::RevokedAt, Expr::value(app.clock.now()))
        .filter(Column::PracticeId.eq(row.practice_id))
        .filter(Column::Id.eq(row.id))
        .filter(Column::RevokedAt.is_null())
        .exec(tx)
        .await?;
    calendar_entries::Entity::delete_many()
        .filter(calendar_entries::Column::PracticeId.eq(row.practice_id))
        .filter(calendar_entries::Column::FeedId.eq(row.id))
        .exec(tx)
        .await?;
    Ok(done.rows_affected == 1)
}
