//! Who asks for a token (RFC 6749, section 2.3.1): by HTTP Basic or in the form, not both.

use actix_web::HttpRequest;
use actix_web::http::header::AUTHORIZATION;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};

use super::dto::TokenRequest;
use super::error::Refusal;
use crate::app::AppState;
use crate::auth::secret;
use crate::entities::{client_secrets, machine_clients};
use crate::http::id::parse_id;
use crate::v1::machine_clients::secrets;
use crate::v1::machine_clients::store::{self, Found};

/// What a client says it is. It has no `Debug`, so that the secret can't reach the log.
pub(super) struct Credentials {
    /// Its id.
    pub(super) id: String,
    secret: String,
}

/// Takes the credentials from the header or the form.
pub(super) fn credentials(
    request: &HttpRequest,
    form: &TokenRequest,
) -> Result<Credentials, Refusal> {
    let Some(header) = request.headers().get(AUTHORIZATION) else {
        return match (&form.client_id, &form.client_secret) {
            (Some(id), Some(secret)) => Ok(Credentials { id: id.clone(), secret: secret.clone() }),
            _ => Err(Refusal::InvalidClient),
        };
    };
    if form.client_secret.is_some() {
        return Err(Refusal::InvalidRequest("The secret is sent twice: header and form."));
    }
    let basic = header.to_str().ok().and_then(basic).ok_or(Refusal::InvalidClient)?;
    if form.client_id.as_ref().is_some_and(|id| *id != basic.id) {
        return Err(Refusal::InvalidRequest("Header and form name two clients."));
    }
    Ok(basic)
}

/// Finds the client and the secret that it showed.
pub(super) async fn find(
    app: &AppState,
    shown: &Credentials,
) -> Result<Option<(Found, client_secrets::Model)>, Refusal> {
    let hash = secret::hash(&shown.secret);
    let Some(id) = parse_id(&shown.id) else {
        return Ok(None);
    };
    let client = machine_clients::Entity::find()
        .filter(machine_clients::Column::Id.eq(id))
        .one(&app.db)
        .await?;
    let Some(client) = client else {
        return Ok(None);
    };
    let its = secrets::of_client(&app.db, &client).await?;
    let Some(right) = its.into_iter().find(|row| row.secret_hash == hash) else {
        return Ok(None);
    };
    let found = store::with_account(&app.db, client).await?;
    Ok(found.account.disabled_at.is_none().then_some((found, right)))
}

/// `Basic` and base64 of `id:secret`, each written as in a form.
fn basic(header: &str) -> Option<Credentials> {
    let (scheme, encoded) = header.split_once(' ')?;
    if !scheme.eq_ignore_ascii_case("basic") {
        return None;
    }
    let text = String::from_utf8(STANDARD.decode(encoded.trim()).ok()?).ok()?;
    let (id, secret) = text.split_once(':')?;
    Some(Credentials { id: decoded(id)?, secret: decoded(secret)? })
}

fn decoded(part: &str) -> Option<String> {
    if part.contains(['&', '=']) {
        return None; // these are never written as they are
    }
    form_urlencoded::parse(part.as_bytes()).next().map(|(name, _)| name.into_owned())
}

#[cfg(test)]
mod tests {
    use super::basic;
    use base64::Engine;
    use base64::engine::general_purpose::STANDARD;

    fn read(text: &str) -> Option<(String, String)> {
        basic(&format!("Basic {}", STANDARD.encode(text))).map(|it| (it.id, it.secret))
    }

    /// The example of RFC 6749, section 2.3.1.
    #[test]
    fn the_example_of_the_standard_is_read() {
        let header = basic("Basic czZCaGRSa3F0Mzo3RmpmcDBaQnIxS3REUmJuZlZkbUl3").expect("valid");
        assert_eq!(header.id, "s6BhdRkqt3");
        assert_eq!(header.secret, "7Fjfp0ZBr1KtDRbnfVdmIw");
    }

    #[test]
    fn both_parts_are_written_as_in_a_form() {
        let both = |id: &str, secret: &str| Some((id.to_owned(), secret.to_owned()));
        assert_eq!(read("a%3Ab+c:d%25%26%3D"), both("a:b c", "d%&="));
        assert_eq!(read("a:b:c"), both("a", "b:c"));
        assert_eq!(read("no colon"), None);
        assert_eq!(read("a:b=c"), None);
        assert!(basic("Bearer abc").is_none());
        assert!(basic("Basic !!!").is_none());
    }
}
