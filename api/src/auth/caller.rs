//! The caller of an operation, with the permission the operation asks for.
//!
//! What counts is what the role and the scope of the token both allow. One query reads the account
//! as it is now, the setting of its practice, and whether its session goes on: who was disabled or
//! signed out is out at once, whatever the token says.

use std::marker::PhantomData;

use actix_web::dev::Payload;
use actix_web::http::header::AUTHORIZATION;
use actix_web::web::Data;
use actix_web::{FromRequest, HttpRequest};
use futures_util::future::LocalBoxFuture;
use sea_orm::{ColumnTrait, EntityTrait, JoinType, QueryFilter, QuerySelect, RelationDef};
use uuid::Uuid;

use super::external;
use super::permission::Permission;
use super::role::Role;
use super::scope::Scope;
use super::sessions;
use super::token::{self, Claims};
use crate::app::AppState;
use crate::entities::practices::AdvisorsSee;
use crate::entities::{accounts, practices};
use crate::http::ApiError;
use crate::v1::practice::SeasonCalendar;
use crate::v1::units::Units;

/// Someone who is signed in and has permission `P`.
#[derive(Debug)]
pub struct Caller<P> {
    account: accounts::Model,
    advisors_see: AdvisorsSee,
    calendar: SeasonCalendar,
    session_id: Option<Uuid>,
    client_id: Option<Uuid>,
    permission: PhantomData<P>,
}

impl<P> Caller<P> {
    /// What the caller may see: the start of every query.
    pub fn scope(&self) -> Scope {
        Scope::of_account(&self.account, self.advisors_see)
    }

    /// The practice of the caller.
    pub fn practice_id(&self) -> Uuid {
        self.account.practice_id
    }

    /// The seasons of the practice.
    pub fn calendar(&self) -> SeasonCalendar {
        self.calendar
    }

    /// The account of the caller.
    pub fn account_id(&self) -> Uuid {
        self.account.id
    }

    /// The role of the caller.
    pub fn role(&self) -> Role {
        self.account.role
    }

    /// The session that the token belongs to; none of machine clients and outside tokens.
    pub fn session_id(&self) -> Option<Uuid> {
        self.session_id
    }

    /// The machine client that the token was given to; none for people.
    pub fn client_id(&self) -> Option<Uuid> {
        self.client_id
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
            match checked? {
                Begun::Outside(app, token) => Self::of_outside(&app, &token).await,
                Begun::Known(app, claims) => Self::of_claims(&app, &claims).await,
                Begun::UnknownKey(app, token) => {
                    let claims = check_with_new_keys(&app, &token).await?;
                    allow_token::<P>(&claims)?;
                    Self::of_claims(&app, &claims).await
                }
            }
        })
    }
}

impl<P: Permission> Caller<P> {
    /// Outside tokens grant what the role allows.
    async fn of_outside(app: &AppState, token: &str) -> Result<Self, ApiError> {
        let account = external::account_of(app, token).await?;
        let account = account
            .ok_or_else(|| ApiError::unauthenticated("The access token is not one of ours."))?;
        let (account, practice) = find(app, account.practice_id, account.id, None).await?;
        app.rates.outside.note(token, account.id);
        allow_role::<P>(account.role)?;
        Ok(Self {
            account,
            advisors_see: practice.advisors_see,
            calendar: SeasonCalendar::of(&practice)?,
            session_id: None,
            client_id: None,
            permission: PhantomData,
        })
    }

    async fn of_claims(app: &AppState, claims: &Claims) -> Result<Self, ApiError> {
        app.keys.renew_if_due(&app.db, app.clock.now()).await;
        let (account, practice) = find(app, claims.practice, claims.sub, claims.sid).await?;
        allow_role::<P>(account.role)?;
        Ok(Self {
            account,
            advisors_see: practice.advisors_see,
            calendar: SeasonCalendar::of(&practice)?,
            session_id: claims.sid,
            client_id: claims.client_id.parse().ok(),
            permission: PhantomData,
        })
    }
}

enum Begun {
    Outside(Data<AppState>, String),
    Known(Data<AppState>, Claims),
    UnknownKey(Data<AppState>, String),
}

fn begin<P: Permission>(request: &HttpRequest) -> Result<Begun, ApiError> {
    let app = request
        .app_data::<Data<AppState>>()
        .ok_or_else(|| ApiError::internal("the application state is not set"))?
        .clone();
    let token = bearer(request)?;
    if app.outside.issued(&token) {
        return Ok(Begun::Outside(app, token));
    }
    let kid = token::kid_of(&token)?;
    let Some(key) = app.keys.find(&kid, app.clock.now()) else {
        return Ok(Begun::UnknownKey(app, token));
    };
    let claims = token::check(&token, &key, app.settings.public_url.as_str(), app.clock.now())?;
    allow_token::<P>(&claims)?;
    Ok(Begun::Known(app, claims))
}

/// Another process may have made the key after this one started.
async fn check_with_new_keys(app: &AppState, token: &str) -> Result<Claims, ApiError> {
    let (kid, now) = (token::kid_of(token)?, app.clock.now());
    let found = app.keys.look_for(&app.db, &kid, now).await.map_err(ApiError::internal)?;
    let key =
        found.ok_or_else(|| ApiError::unauthenticated("The access token is not one of ours."))?;
    token::check(token, &key, app.settings.public_url.as_str(), now)
}

fn bearer(request: &HttpRequest) -> Result<String, ApiError> {
    let header = request.headers().get(AUTHORIZATION).and_then(|value| value.to_str().ok());
    let parts = header.and_then(|header| header.split_once(' '));
    match parts {
        Some((scheme, token)) if scheme.eq_ignore_ascii_case("bearer") => {
            Ok(token.trim().to_owned())
        }
        _ => Err(ApiError::no_token()),
    }
}

/// The role of the account when the token was made, and the scope that was granted.
fn allow_token<P: Permission>(claims: &Claims) -> Result<(), ApiError> {
    allow_role::<P>(claims.role)?;
    let granted = claims.scope.as_deref();
    if granted.is_none_or(|scope| scope.split(' ').any(|name| name == P::NAME)) {
        return Ok(());
    }
    let why = format!("The scope of the access token does not hold `{}`.", P::NAME);
    Err(ApiError::forbidden(why, P::NAME))
}

fn allow_role<P: Permission>(role: Role) -> Result<(), ApiError> {
    if P::allows(role) {
        Ok(())
    } else {
        Err(ApiError::forbidden(
            "Your role may not do this. Ask the lead of your practice.",
            P::NAME,
        ))
    }
}

/// The account and its practice as they are now; not found when disabled, or when the session of
/// the token has ended.
async fn find(
    app: &AppState,
    practice_id: Uuid,
    account_id: Uuid,
    session_id: Option<Uuid>,
) -> Result<(accounts::Model, practices::Model), ApiError> {
    let known = accounts::Entity::find_by_id((practice_id, account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .filter(sessions::still_open(practice_id, account_id, session_id))
        .join(JoinType::InnerJoin, its_practice())
        .select_also(practices::Entity);
    match known.one(&app.db).await? {
        Some((account, Some(practice))) => Ok((account, practice)),
        _ => Err(ApiError::unauthenticated("The account is not there, or was disabled.")),
    }
}

fn its_practice() -> RelationDef {
    accounts::Entity::belongs_to(practices::Entity)
        .from(accounts::Column::PracticeId)
        .to(practices::Column::Id)
        .into()
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;
    use std::sync::atomic::{AtomicUsize, Ordering};

    use actix_web::FromRequest;
    use actix_web::test::TestRequest;
    use actix_web::web::Data;

    use super::{Caller, Permission};
    use crate::app::{App, AppState, Config};
    use crate::auth::accounts::{self, NewAccount};
    use crate::auth::role::Role;
    use crate::auth::sessions::{self, SignedInBy, WayOut};
    use crate::auth::{CanManage, CanRead};
    use crate::config::Settings;
    use crate::entities;
    use crate::http::{ApiError, ProblemCode};
    use crate::v1::units::Units;

    async fn state() -> (AppState, Arc<AtomicUsize>) {
        let settings = Settings::on("sqlite::memory:".parse().expect("a database"));
        let mut state = App::state(&Config::of(settings)).await.expect("a state");
        let queries = Arc::<AtomicUsize>::default();
        let counter = queries.clone();
        state.db.set_metric_callback(move |_query| {
            counter.fetch_add(1, Ordering::Relaxed);
        });
        (state, queries)
    }

    async fn advisor(state: &AppState) -> entities::accounts::Model {
        let practice = accounts::practice(&state.db, state.maker(), "P").await.expect("a practice");
        let new = NewAccount {
            email: "ann@example.org".to_owned(),
            display_name: "Ann".to_owned(),
            role: Role::Advisor,
            grower_id: None,
            password: String::new(),
            units: Units::Us,
        };
        accounts::create_with_hash(&state.db, state.maker(), practice, new, "!".to_owned())
            .await
            .expect("an account")
    }

    async fn call<P: Permission>(
        state: &Data<AppState>,
        token: &str,
    ) -> Result<Caller<P>, ApiError> {
        let request = TestRequest::default()
            .app_data(state.clone())
            .insert_header(("authorization", format!("Bearer {token}")))
            .to_http_request();
        Caller::<P>::extract(&request).await
    }

    #[tokio::test]
    async fn a_request_costs_one_query_and_a_session_that_ended_is_out_at_once() {
        let (state, queries) = state().await;
        let account = advisor(&state).await;
        let now = state.clock.now();
        let opened = sessions::open(&state.db, &state, &account, SignedInBy::Password, now).await;
        let opened = opened.expect("a session");
        let state = Data::new(state);
        let token = &opened.access_token;

        let before = queries.load(Ordering::Relaxed);
        let caller = call::<CanRead>(&state, token).await.expect("let in");
        assert_eq!(caller.session_id(), Some(opened.id));
        assert_eq!(queries.load(Ordering::Relaxed) - before, 1, "one query for a caller");
        let refused = call::<CanManage>(&state, token).await.expect_err("an advisor");
        assert_eq!(refused.code(), ProblemCode::Forbidden);
        assert_eq!(queries.load(Ordering::Relaxed) - before, 1, "none to refuse a role");

        let session = (account.practice_id, opened.id);
        sessions::end(&state.db, session, WayOut::SignedOut, now).await.expect("ended");
        let refused = call::<CanRead>(&state, token).await.expect_err("signed out");
        assert_eq!(refused.code(), ProblemCode::Unauthenticated);
    }
}
