//! `POST /v1/sessions`

use actix_web::post;
use actix_web::web::Data;
use chrono::TimeDelta;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};

use super::dto::{Session, SignIn};
use crate::app::AppState;
use crate::auth::token::{self, Subject};
use crate::entities::accounts;
use crate::http::responses::SignInErrors;
use crate::http::{Answer, ApiError, Body, ProblemCode, text};
use crate::v1::accounts::store;

/// Sign in.
///
/// Gives an access token for an e-mail address and a password. After five wrong passwords within
/// 15 minutes an address has to wait.
#[utoipa::path(
    tag = "sessions", operation_id = "create_session", security(()),
    request_body(content = SignIn, description = "Who signs in."),
    responses((status = 201, description = "Signed in.", body = Session), SignInErrors),
)]
#[post("/sessions")]
pub(super) async fn create(
    app: Data<AppState>,
    body: Body<SignIn>,
) -> Result<Answer<Session>, ApiError> {
    let SignIn { email, password } = body.into_inner();
    let email = text::email("/email", &email)?;
    let now = app.clock.now();
    if let Some(seconds) = app.throttle.wait(&email, now) {
        let detail = format!("Too many wrong passwords. Try again in {seconds} seconds.");
        return Err(ApiError::try_later(ProblemCode::TooManyRequests, detail, seconds));
    }
    let account = accounts::Entity::find()
        .filter(accounts::Column::Email.eq(&email))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?;
    let hash = account.as_ref().map(|account| account.password_hash.clone());
    let right = app.passwords.is_right(password, hash).await?;
    match account {
        Some(account) if right => {
            app.throttle.forget(&email);
            session(&app, account).await
        }
        _ => {
            app.throttle.note_failure(&email, now);
            Err(ApiError::new(
                ProblemCode::WrongCredentials,
                ProblemCode::WrongCredentials.meaning(),
            ))
        }
    }
}

async fn session(app: &AppState, account: accounts::Model) -> Result<Answer<Session>, ApiError> {
    let key = app.keys.newest().ok_or_else(|| ApiError::internal("there is no signing key"))?;
    let subject =
        Subject { account_id: account.id, practice_id: account.practice_id, role: account.role };
    let lifetime = app.settings.token_lifetime;
    let access_token = token::sign(
        &key,
        subject,
        app.ids.next(),
        app.clock.now(),
        TimeDelta::seconds(i64::from(lifetime)),
    )?;
    let session = Session {
        access_token,
        token_type: "Bearer".to_owned(),
        expires_in: lifetime,
        account: store::with_practice(&app.db, account).await?,
    };
    Ok(Answer::created("/v1/accounts/me".to_owned(), session).secret())
}
