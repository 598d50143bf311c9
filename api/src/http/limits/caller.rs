//! Who is counted: the account of an access token that is really ours, else the network.
//!
//! A token is checked before it counts. Otherwise anyone could use up the requests of an account
//! whose id he knows, or have a new store for every token that he makes up.

use std::hash::{BuildHasher, RandomState};

use actix_web::dev::ServiceRequest;
use actix_web::http::Method;
use actix_web::http::header::{AUTHORIZATION, HeaderMap};
use uuid::Uuid;

use super::rate::Class;
use crate::app::AppState;
use crate::auth::network::Network;
use crate::auth::token;

/// Operations that prove who someone is: counted by network and with a limit of their own, whatever
/// token comes with them. A test holds the list against the API document.
pub const SIGN_INS: &[&str] = &[
    "/oauth/token",
    "/v1/access-links/redeem",
    "/v1/password-links/redeem",
    "/v1/sessions",
    "/v1/sessions/refresh",
];

/// Who is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Counted {
    /// An account.
    Account(Uuid),
    /// All networks of one slot.
    Network(u16),
}

/// The caller of a request, and the class of the request.
pub(super) fn of(request: &ServiceRequest, app: &AppState) -> (Class, Counted) {
    let is_sign_in = *request.method() == Method::POST && SIGN_INS.contains(&request.path());
    let class = Class::of(request.method(), is_sign_in);
    let account = if is_sign_in { None } else { account(request.headers(), app) };
    let caller = account.map(Counted::Account);
    (class, caller.unwrap_or_else(|| app.rates.slots.of(Network::of(request.request()))))
}

/// The account of a token that we signed and that is good now, or of an outside one that was good.
fn account(headers: &HeaderMap, app: &AppState) -> Option<Uuid> {
    let (scheme, token) = headers.get(AUTHORIZATION)?.to_str().ok()?.split_once(' ')?;
    if !scheme.eq_ignore_ascii_case("bearer") {
        return None;
    }
    let token = token.trim();
    ours(token, app).or_else(|| app.rates.outside.account_of(token))
}

fn ours(token: &str, app: &AppState) -> Option<Uuid> {
    let now = app.clock.now();
    let key = app.keys.find(&token::kid_of(token).ok()?, now)?;
    let issuer = app.settings.public_url.as_str();
    token::check(token, &key, issuer, now).ok().map(|claims| claims.sub)
}

/// A fixed number of slots for all networks there are, so that a flood of them finds an end. Which
/// networks share a slot is not to be known from outside.
#[derive(Debug, Default)]
pub(super) struct Slots(RandomState);

impl Slots {
    /// The slot of a network.
    pub(super) fn of(&self, Network(address): Network) -> Counted {
        let [high, low, ..] = self.0.hash_one(address).to_be_bytes();
        Counted::Network(u16::from_be_bytes([high, low]))
    }
}

#[cfg(test)]
mod tests {
    use super::{SIGN_INS, Slots};
    use crate::auth::network::Network;
    use crate::routes;

    #[test]
    fn whatever_is_posted_without_a_token_is_a_sign_in() {
        let document = serde_json::to_value(routes::document()).expect("JSON");
        let paths = document["paths"].as_object().expect("paths");
        let open = paths.iter().filter(|(_, item)| {
            item["post"].is_object()
                && item["post"]["security"].as_array().is_none_or(Vec::is_empty)
        });
        let mut open: Vec<&str> = open.map(|(path, _)| path.as_str()).collect();
        open.sort_unstable();
        assert_eq!(open, SIGN_INS);
    }

    #[test]
    fn a_network_has_one_slot() {
        let slots = Slots::default();
        let of = |text: &str| slots.of(Network(text.parse().expect("address")));
        assert_eq!(of("192.0.2.1"), of("192.0.2.1"));
        let many: std::collections::HashSet<_> =
            (0..100).map(|n| of(&format!("192.0.2.{n}"))).collect();
        assert!(many.len() > 90, "only {} slots for a hundred networks", many.len());
    }
}
