//! A stored link, as it can be followed now.

use super::dto::StoredProfile;
use super::parse;
use crate::app::AppState;
use crate::entities::records_links::Model;
use crate::exchange::pull::profile::Profile;
use crate::exchange::pull::stop::{Stop, StopCode};
use crate::http::ApiError;
use crate::sealed::{SealError, Secret};

/// A profile, and the secret in it.
#[derive(Debug)]
pub struct Opened {
    /// The profile.
    pub profile: Profile,
    /// The secret, where the profile has one.
    pub secret: Option<Secret>,
}

/// Opens the secret of a link and checks its profile again: since it was stored, the operator may have taken a key or
/// a network away.
///
/// # Errors
/// When the stored profile can't be read. Why the link can't be followed is no error, but said to people.
pub fn opened(app: &AppState, link: &Model) -> Result<Result<Opened, Stop>, ApiError> {
    let stored: StoredProfile =
        serde_json::from_value(link.profile.clone()).map_err(ApiError::internal)?;
    let no = |detail: String| Ok(Err(Stop::new(StopCode::LinkChanged, detail)));
    let secret = match secret(app, link) {
        Ok(secret) => secret,
        Err(words) => return no(words.to_owned()),
    };
    match parse::profile(&app.outgoing, &stored, secret.as_ref()) {
        Ok(profile) => Ok(Ok(Opened { profile, secret })),
        Err(error) => {
            let why = error.members().first().map_or_else(String::new, |bad| bad.detail.clone());
            no(format!("The link can't be used any more: {why}"))
        }
    }
}

/// The secret of a link, where it has one.
///
/// # Errors
/// In words, when it can't be opened.
pub(super) fn secret(app: &AppState, link: &Model) -> Result<Option<Secret>, &'static str> {
    let sealed = link.sealed_secret.as_ref();
    sealed.map(|sealed| app.sealer.open(link.practice_id, sealed)).transpose().map_err(|error| {
        tracing::warn!(link = %link.id, %error, "a secret is not opened");
        match error {
            SealError::NoKey => {
                "The service has no key to open the secret with; the operator must put it back."
            }
            SealError::UnknownKey | SealError::Broken => {
                "The secret can't be opened any more; enter it again."
            }
        }
    })
}
