//! `/sheets/{secret}`: one settings sheet for whoever holds its address, as it stands in a mail.
//!
//! A phone in a tractor has no account at hand. The address shows that one sheet and nothing else,
//! for a while; it changes nothing, so that a program that follows it does no harm.

use actix_web::http::header::CACHE_CONTROL;
use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get};
use chrono::TimeDelta;
use sea_orm::{ActiveValue::Set, ColumnTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::{Scope, secret};
use crate::db;
use crate::entities::sheet_links::{ActiveModel, Column, Entity};
use crate::http::ApiError;
use crate::v1::recommendations::{self, sheet};
use crate::v1::units::Units;

/// How long an address works.
pub const GOOD_FOR: TimeDelta = TimeDelta::days(14);

/// An address that was just made.
#[derive(Debug)]
pub struct NewLink {
    /// Its id.
    pub id: Uuid,
    /// Its secret part.
    pub secret: String,
}

/// Makes an address for a sheet. What ran out goes on the way.
///
/// # Errors
/// When the database fails.
pub async fn make(
    app: &AppState,
    (practice_id, recommendation_id): (Uuid, Uuid),
) -> Result<NewLink, ApiError> {
    let (now, secret, id) = (app.clock.now(), secret::new(), app.ids.next());
    let tx = db::begin(&app.db).await?;
    Entity::delete_many()
        .filter(Column::PracticeId.eq(practice_id))
        .filter(Column::RecommendationId.eq(recommendation_id))
        .filter(Column::ExpiresAt.lte(now))
        .exec(&tx)
        .await?;
    let row = ActiveModel {
        practice_id: Set(practice_id),
        id: Set(id),
        recommendation_id: Set(recommendation_id),
        secret_hash: Set(secret::hash(&secret)),
        created_at: Set(now),
        expires_at: Set(now + GOOD_FOR),
    };
    Entity::insert(row).exec_without_returning(&tx).await?;
    tx.commit().await?;
    Ok(NewLink { id, secret })
}

/// Takes an address back that nobody got.
///
/// # Errors
/// When the database fails.
pub async fn withdraw(app: &AppState, key: (Uuid, Uuid)) -> Result<(), ApiError> {
    Entity::delete_by_id(key).exec(&app.db).await?;
    Ok(())
}

/// Shows the sheet.
#[get("/sheets/{secret}")]
pub(crate) async fn show(
    app: Data<AppState>,
    secret: Path<String>,
) -> Result<HttpResponse, ApiError> {
    let link = Entity::find()
        .filter(Column::SecretHash.eq(secret::hash(&secret)))
        .filter(Column::ExpiresAt.gt(app.clock.now()))
        .one(&app.db)
        .await?
        .ok_or_else(|| ApiError::not_found("sheet"))?;
    let scope = Scope::of_practice(link.practice_id);
    let row = recommendations::store::find(&app.db, scope, link.recommendation_id).await?;
    let mut answer = sheet::respond(&app.db, row, Units::default()).await?;
    answer.headers_mut().insert(
        CACHE_CONTROL,
        actix_web::http::header::HeaderValue::from_static("private, no-store"),
    );
    Ok(answer)
}
