//! From what was entered to a profile that can be followed: every address, path, pointer and unit is checked, and
//! all that is wrong is named at once.

mod auth;
mod paging;
mod preset;
mod resource;

use reqwest::Url;

use super::dto::{RecordsResources, StoredProfile};
use crate::exchange::intake::Kind;
use crate::exchange::pull::profile::Profile;
use crate::http::{ApiError, BadMember, Refused};
use crate::outgoing::Outgoing;
use crate::sealed::Secret;

/// Checks a profile with its secret.
///
/// # Errors
/// The members that are not valid.
pub fn profile(
    outgoing: &Outgoing,
    stored: &StoredProfile,
    secret: Option<&Secret>,
) -> Result<Profile, ApiError> {
    let StoredProfile { base_url, auth, preset, paging, changes, resources } = stored;
    let mut refused = Refused::default();
    let base = refused.take(base(outgoing, base_url));
    let sign_in = refused.take(auth::parse(outgoing, auth, secret));
    let paging = paging.clone().or_else(|| preset.map(preset::paging));
    let paging = refused.take(paging::paging(paging.as_ref()));
    let changes = refused.take(paging::changes(changes.as_ref()));
    let mut checked = Vec::new();
    for (kind, resource) in of_kind(resources) {
        let Some(resource) = resource else { continue };
        let whole = match preset {
            Some(_) => preset::fill(kind, resource.clone()),
            None => resource.clone(),
        };
        let at = format!("/resources/{}", kind.plural());
        checked.extend(refused.take_all(resource::parse(&at, kind, &whole)));
    }
    if checked.is_empty() && of_kind(resources).iter().all(|(_, resource)| resource.is_none()) {
        let member = BadMember::new("/resources", "Nothing is to be fetched.");
        refused.add(member.allowed("growers, farms, fields, planters or yields"));
    }
    match (base, sign_in, paging, changes) {
        (Some(base), Some(sign_in), Some(paging), Some(changes)) => {
            refused.finish()?;
            Ok(Profile { base, sign_in, paging, changes, resources: checked })
        }
        _ => Err(refused.into()),
    }
}

/// The resources, parents before children.
fn of_kind(all: &RecordsResources) -> [(Kind, Option<&super::dto::RecordsResource>); 5] {
    let RecordsResources { growers, farms, fields, planters, yields } = all;
    [
        (Kind::Grower, growers.as_ref()),
        (Kind::Farm, farms.as_ref()),
        (Kind::Field, fields.as_ref()),
        (Kind::Planter, planters.as_ref()),
        (Kind::Yield, yields.as_ref()),
    ]
}

/// An address that all paths begin with.
fn base(outgoing: &Outgoing, text: &str) -> Result<Url, BadMember> {
    let url = address(outgoing, "/base_url", text)?;
    if url.query().is_some() {
        let member = BadMember::new("/base_url", "Parameters stand with each resource.");
        return Err(member.given(text));
    }
    Ok(url)
}

/// An address that the service may ask. The name in it is looked up when it is asked, each time.
fn address(outgoing: &Outgoing, pointer: &str, text: &str) -> Result<Url, BadMember> {
    let no = |detail: String| BadMember::new(pointer, detail).given(text);
    if text.len() > 500 {
        return Err(no("The address is too long.".to_owned()).allowed("at most 500 characters"));
    }
    let url = outgoing.address(text).map_err(|error| no(error.to_string()))?;
    if url.fragment().is_some() {
        return Err(no("An address that is asked has no part behind a #.".to_owned()));
    }
    Ok(url)
}

/// The name of a parameter.
fn parameter(pointer: &str, text: &str) -> Result<String, BadMember> {
    crate::http::text::line(pointer, text, 100)
}
