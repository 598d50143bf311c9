//! Tokens of outside OpenID Connect issuers, taken where the settings name the issuer.
//!
//! What is taken: a signed token (JWT) of a configured issuer, for the configured audience, with one
//! of the configured types (`at+jwt` unless told otherwise), a `kid`, and an algorithm that the
//! issuer may use and that fits the key. Which key that is, is looked up among the keys of that
//! issuer alone, so a key of one issuer never checks a token of another. A token leads to an account
//! of one practice: the one that its subject was bound to, at first use, by a verified e-mail
//! address. What the token says of roles or scopes is not looked at; the account counts.
//!
//! `configured` reads the settings, `fetch` and `key_set` get the keys, `issuer` keeps them,
//! `claims` checks a token, `identity` finds the account.

mod claims;
mod configured;
mod fetch;
mod identity;
mod issuer;
mod key_set;

use std::collections::HashMap;
use std::path::Path;
use std::sync::Arc;

use sea_orm::{ConnectionTrait, EntityTrait};

pub use configured::IssuersError;

use crate::app::AppState;
use crate::entities::{accounts, practices};
use crate::http::{ApiError, ProblemCode};
use issuer::{Issuer, Looked};

/// The outside issuers of the settings, by their name.
#[derive(Debug, Default)]
pub struct OutsideIssuers(HashMap<String, Arc<Issuer>>);

impl OutsideIssuers {
    /// Reads the file of issuers; without one there are none. The issuers are not asked yet.
    ///
    /// # Errors
    /// When the file can't be read, says something that can't be, or names no practice of ours.
    pub async fn load(
        file: Option<&Path>,
        db: &impl ConnectionTrait,
    ) -> Result<Self, IssuersError> {
        let Some(file) = file else {
            return Ok(Self::default());
        };
        let client = fetch::client()?;
        let mut issuers = HashMap::new();
        for configured in configured::read(file)? {
            let practice = practices::Entity::find_by_id(configured.practice_id).one(db).await?;
            if practice.is_none() {
                let why = "there is no practice with the id practice_id";
                return Err(IssuersError::Wrong { issuer: configured.issuer, why });
            }
            let name = configured.issuer.clone();
            issuers.insert(name, Arc::new(Issuer::new(configured, client.clone())));
        }
        Ok(Self(issuers))
    }

    /// Whether a token says that it is of one of them. Nothing is checked yet.
    pub fn issued(&self, token: &str) -> bool {
        claims::issuer_of(token).is_some_and(|name| self.0.contains_key(&name))
    }
}

/// The account that a token leads to; `None` when the token is of no configured issuer.
///
/// # Errors
/// 401 for a token that is not good, or of someone who has no account; 503 when the keys of the
/// issuer are not to be had.
pub async fn account_of(app: &AppState, token: &str) -> Result<Option<accounts::Model>, ApiError> {
    let named = claims::issuer_of(token);
    let Some(issuer) = named.and_then(|name| app.outside.0.get(&name)) else {
        return Ok(None);
    };
    let now = app.clock.now();
    let head = claims::head_of(token, &issuer.configured)?;
    let key = match issuer.key(&head, now).await {
        Looked::Found(key) => key,
        Looked::NoSuchKey => return Err(claims::refused()),
        Looked::NotToBeHad { seconds } => {
            let detail = "The keys of the issuer of this token are not to be had. Try again later.";
            return Err(ApiError::try_later(ProblemCode::Unavailable, detail, seconds));
        }
    };
    let claims = claims::check(token, &key, &issuer.configured, now)?;
    identity::account_of(app, &issuer.configured, &claims, now).await.map(Some)
}
