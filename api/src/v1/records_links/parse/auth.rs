//! How the service signs in.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use reqwest::header::{
    ACCEPT, ACCEPT_ENCODING, CONNECTION, CONTENT_LENGTH, CONTENT_TYPE, COOKIE, HOST, HeaderName,
    IF_NONE_MATCH, TE, TRAILER, TRANSFER_ENCODING, UPGRADE, USER_AGENT,
};

use super::address;
use crate::exchange::pull::profile::{ClientCredentials, Sensitive, SignIn};
use crate::http::{BadMember, text};
use crate::outgoing::Outgoing;
use crate::sealed::Secret;
use crate::v1::records_links::dto::RecordsAuth;

/// Headers that say something else than who we are.
const TAKEN: [HeaderName; 13] = [
    ACCEPT,
    ACCEPT_ENCODING,
    CONNECTION,
    CONTENT_LENGTH,
    CONTENT_TYPE,
    COOKIE,
    HOST,
    IF_NONE_MATCH,
    TE,
    TRAILER,
    TRANSFER_ENCODING,
    UPGRADE,
    USER_AGENT,
];

/// Most characters of a secret.
const SECRET_MOST: usize = 2000;

/// Checks how the service signs in.
pub(super) fn parse(
    outgoing: &Outgoing,
    auth: &RecordsAuth,
    secret: Option<&Secret>,
) -> Result<SignIn, BadMember> {
    let secret = || {
        let length = secret.map_or(0, |secret| secret.reveal().chars().count());
        let there = secret.filter(|_| (1..=SECRET_MOST).contains(&length));
        there.ok_or_else(|| {
            let allowed = format!("1 to {SECRET_MOST} characters");
            BadMember::new("/auth/secret", "This is no secret.").allowed(allowed)
        })
    };
    match auth {
        RecordsAuth::Nobody {} => Ok(SignIn::Nobody),
        RecordsAuth::Header { name, prefix } => {
            let name = header(name)?;
            let prefix = prefix.as_deref().unwrap_or_default();
            if prefix.chars().count() > 40 {
                return Err(BadMember::new("/auth/prefix", "The text is too long.")
                    .allowed("at most 40 characters"));
            }
            let value = sensitive(&format!("{prefix}{}", secret()?.reveal()))?;
            Ok(SignIn::Header { name, value })
        }
        RecordsAuth::Basic { user } => {
            let user = text::line("/auth/user", user, 200)?;
            if user.contains(':') {
                let member = BadMember::new("/auth/user", "A user of HTTP Basic has no colon.");
                return Err(member.given(user));
            }
            let pair = STANDARD.encode(format!("{user}:{}", secret()?.reveal()));
            let value = sensitive(&format!("Basic {pair}"))?;
            Ok(SignIn::Header { name: reqwest::header::AUTHORIZATION, value })
        }
        RecordsAuth::ClientCredentials { token_url, client_id, scope, in_body } => {
            let token_url = address(outgoing, "/auth/token_url", token_url)?;
            let client_id = text::line("/auth/client_id", client_id, 200)?;
            let scope = scope.as_deref().map(|scope| text::line("/auth/scope", scope, 500));
            Ok(SignIn::ClientCredentials(Box::new(ClientCredentials {
                token_url,
                client_id,
                secret: secret()?.clone(),
                scope: scope.transpose()?,
                in_body: *in_body,
            })))
        }
    }
}

fn header(name: &str) -> Result<HeaderName, BadMember> {
    let no = |detail: &str| BadMember::new("/auth/name", detail).given(name.escape_debug());
    let parsed = name.parse::<HeaderName>().ok().filter(|_| name.len() <= 60);
    let parsed = parsed.ok_or_else(|| no("This is no name of a header."))?;
    if TAKEN.contains(&parsed) {
        return Err(no("This header says something else than who asks."));
    }
    Ok(parsed)
}

fn sensitive(text: &str) -> Result<Sensitive, BadMember> {
    Sensitive::of(text).map_err(|why| BadMember::new("/auth/secret", why))
}
