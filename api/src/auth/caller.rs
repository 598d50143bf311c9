//! The caller of an operation, with the permission the operation asks for.

use std::marker::PhantomData;

use actix_web::dev::Payload;
use actix_web::http::header::AUTHORIZATION;
use actix_web::web::Data;
use actix_web::{FromRequest, HttpRequest};
use futures_util::future::LocalBoxFuture;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::permission::Permission;
use super::role::Role;
use super::scope::Scope;
use super::token::{self, Claims};
use crate::app::AppState;
use crate::entities::accounts;
use crate::http::{ApiError, ProblemCode};
use crate::v1::units::Units;

/// Someone who is signed in and has permission `P`.
#[derive(Debug)]
pub struct Caller<P> {
    account: accounts::Model,
    permission: PhantomData<P>,
}

impl<P> Caller<P> {
    /// What the caller may see: the start of every query.
    pub fn scope(&self) -> Scope {
        Scope {
            practice_id: self.account.practice_id,
            // A grower's account that has no grower yet sees nothing.
            grower_id: match self.account.role {
                Role::Grower => Some(self.account.grower_id.unwrap_or(Uuid::nil())),
                Role::Lead | Role::Advisor | Role::RecordsSystem | Role::ReadOnly => None,
            },
        }
    }

    /// The practice of the caller.
    pub fn practice_id(&self) -> Uuid {
        self.account.practice_id
    }

    /// The account of the caller.
    pub fn account_id(&self) -> Uuid {
        self.account.id
    }

    /// The role of the caller.
    pub fn role(&self) -> Role {
        self.account.role
    }

    /// The units of computed answers: those asked for, else those of the account.
    pub fn units(&self, asked: Option<Units>) -> Units {
        asked.unwrap_or(self.account.units)
    }

    /// The whole row of the account.
    pub fn into_account(self) -> accounts::Model {
        self.account
    }
}

impl<P: Permission> FromRequest for Caller<P> {
    type Error = ApiError;
    type Future = LocalBoxFuture<'static, Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        // What needs no waiting is checked at once, so that it comes before a look at the body.
        let checked = begin::<P>(request);
        Box::pin(async move {
            let account = match checked? {
                Begun::Known(app, claims) => find_account(&app, &claims).await?,
                Begun::UnknownKey(app, token) => {
                    let claims = check_with_new_keys(&app, &token).await?;
                    allow::<P>(claims.role)?;
                    find_account(&app, &claims).await?
                }
            };
            allow::<P>(account.role)?;
            Ok(Self { account, permission: PhantomData })
        })
    }
}

enum Begun {
    Known(Data<AppState>, Claims),
    UnknownKey(Data<AppState>, String),
}

fn begin<P: Permission>(request: &HttpRequest) -> Result<Begun, ApiError> {
    let app = request
        .app_data::<Data<AppState>>()
        .ok_or_else(|| ApiError::internal("the application state is not set"))?
        .clone();
    let token = bearer(request)?;
    let kid = token::kid_of(&token)?;
    let Some(key) = app.keys.find(&kid) else {
        return Ok(Begun::UnknownKey(app, token));
    };
    let claims = token::check(&token, &key, app.clock.now())?;
    allow::<P>(claims.role)?;
    Ok(Begun::Known(app, claims))
}

/// Another process may have made the key after this one started.
async fn check_with_new_keys(app: &AppState, token: &str) -> Result<Claims, ApiError> {
    app.keys.reload(&app.db).await.map_err(ApiError::internal)?;
    let key = app
        .keys
        .find(&token::kid_of(token)?)
        .ok_or_else(|| ApiError::unauthenticated("The access token is not one of ours."))?;
    token::check(token, &key, app.clock.now())
}

fn bearer(request: &HttpRequest) -> Result<String, ApiError> {
    let header = request.headers().get(AUTHORIZATION).and_then(|value| value.to_str().ok());
    let parts = header.and_then(|header| header.split_once(' '));
    match parts {
        Some((scheme, token)) if scheme.eq_ignore_ascii_case("bearer") => {
            Ok(token.trim().to_owned())
        }
        _ => Err(ApiError::unauthenticated(
            "Send the access token of POST /v1/sessions as Authorization: Bearer.",
        )),
    }
}

fn allow<P: Permission>(role: Role) -> Result<(), ApiError> {
    if P::allows(role) {
        Ok(())
    } else {
        Err(ApiError::new(ProblemCode::Forbidden, ProblemCode::Forbidden.meaning()))
    }
}

/// The account as it is now: a disabled one is out at once, whatever its token says.
async fn find_account(app: &AppState, claims: &Claims) -> Result<accounts::Model, ApiError> {
    accounts::Entity::find_by_id((claims.practice, claims.sub))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?
        .ok_or_else(|| ApiError::unauthenticated("The account is not there, or was disabled."))
}
