//! `POST /v1/sessions`

use actix_web::post;
use actix_web::web::Data;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};

use super::dto::{Session, SignIn};
use crate::app::AppState;
use crate::auth::network::Network;
use crate::auth::sessions::{self, SignedInBy};
use crate::entities::accounts;
use crate::http::responses::SignInErrors;
use crate::http::{Answer, ApiError, Body, ProblemCode, text};
use crate::v1::accounts::store;
use crate::writes::{Done, Touched, Write, Written};

/// Sign in.
///
/// Opens a session for an e-mail address and a password, with an access token for the next minutes
/// and a refresh token for the next one. After five wrong passwords within 15 minutes an address
/// has to wait, and so has a network from which many wrong ones come.
#[utoipa::path(
    tag = "sessions", operation_id = "create_session", security(()),
    request_body(content = SignIn, description = "Who signs in."),
    responses((status = 201, description = "Signed in.", body = Session), SignInErrors),
)]
#[post("/sessions")]
pub(super) async fn create(
    app: Data<AppState>,
    network: Network,
    write: Write,
    body: Body<SignIn>,
) -> Result<Written<Session>, ApiError> {
    let SignIn { email, password } = body.into_inner();
    let email = text::email("/email", &email)?;
    let account = prove(&app, network, &email, password).await?;
    write
        .run(&app, &account, async |tx| {
            if !sessions::credentials_still_hold(tx, &account).await? {
                return Err(wrong());
            }
            let now = app.clock.now();
            let opened = sessions::open(tx, &app, &account, SignedInBy::Password, now).await?;
            let place = format!("/v1/sessions/{}", opened.id);
            let touched = Touched::new("session", opened.id);
            let account = store::with_practice(tx, account.clone()).await?;
            Ok(Done::new(touched, Answer::created(place, Session::of(opened, account)).secret()))
        })
        .await
}

/// The account whose password this is.
async fn prove(
    app: &AppState,
    network: Network,
    email: &str,
    password: String,
) -> Result<accounts::Model, ApiError> {
    let now = app.clock.now();
    app.throttle.begin(email, network.0, now).map_err(|seconds| {
        let detail = format!("Too many wrong passwords. Try again in {seconds} seconds.");
        ApiError::try_later(ProblemCode::TooManyRequests, detail, seconds)
    })?;
    let account = accounts::Entity::find()
        .filter(accounts::Column::Email.eq(email))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?;
    let hash = account.as_ref().map(|account| account.password_hash.clone());
    let right = app.passwords.is_right(password, hash).await?;
    let account = account.filter(|_| right).ok_or_else(wrong)?;
    app.throttle.succeeded(email, network.0, now);
    Ok(account)
}

fn wrong() -> ApiError {
    ApiError::new(ProblemCode::WrongCredentials, ProblemCode::WrongCredentials.meaning())
}
