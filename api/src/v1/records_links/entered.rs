//! From what came over the wire to what is stored: checked, and the secret sealed.

use chrono::{DateTime, TimeDelta, Utc};
use reqwest::Url;
use serde_json::Value;
use uuid::Uuid;

use super::dto::{RecordsAuth, RecordsLinkIn, RecordsLinkPatch, StoredProfile};
use super::store::{LinkChange, NewLink};
use super::{opened, parse};
use crate::app::AppState;
use crate::entities::records_links::Model;
use crate::exchange::intake::System;
use crate::http::{ApiError, BadMember, Patch, Refused, text};
use crate::sealed::Secret;

/// Most hours between two runs: a month.
const MOST_HOURS: u16 = 744;

/// A new link.
pub(super) fn new(
    app: &AppState,
    practice_id: Uuid,
    now: DateTime<Utc>,
    given: RecordsLinkIn,
) -> Result<NewLink, ApiError> {
    let RecordsLinkIn {
        name,
        system,
        base_url,
        auth,
        preset,
        paging,
        changes,
        resources,
        run_every_hours,
    } = given;
    let (auth, secret) = auth.parted();
    let profile = StoredProfile { base_url, auth, preset, paging, changes, resources };
    let mut refused = Refused::default();
    let name = refused.take(text::name("/name", &name));
    let system = refused.take(System::parse("/system", &system));
    let hours = refused.take(every(run_every_hours));
    let mut bad = refused.into_members();
    bad.extend(bad_of(parse::profile(&app.outgoing, &profile, secret.as_ref()))?);
    let (Some(name), Some(system), Some(hours), true) = (name, system, hours, bad.is_empty())
    else {
        return Err(bad.into());
    };
    Ok(NewLink {
        name,
        system: system.as_str().to_owned(),
        profile: json(&profile)?,
        sealed_secret: seal(app, practice_id, secret.as_ref())?,
        run_every_hours: hours.map(i32::from),
        next_run_at: hours.map(|hours| now + TimeDelta::hours(i64::from(hours))),
    })
}

/// Changes to a link.
pub(super) fn change(
    app: &AppState,
    before: &Model,
    now: DateTime<Utc>,
    patch: RecordsLinkPatch,
) -> Result<LinkChange, ApiError> {
    let RecordsLinkPatch {
        name,
        base_url,
        auth,
        preset,
        paging,
        changes,
        resources,
        run_every_hours,
    } = patch;
    let stored: StoredProfile =
        serde_json::from_value(before.profile.clone()).map_err(ApiError::internal)?;
    let mut refused = Refused::default();
    if let Some(base_url) = base_url.as_deref().filter(|_| auth.is_none()) {
        refused.take(same_host(&stored, base_url));
    }
    let (auth, new_secret) = match auth.map(super::dto::RecordsAuthIn::parted) {
        Some((auth, secret)) => (Some(auth), secret),
        None => (None, None),
    };
    let keeps_secret = auth.is_none();
    let secret = match &before.sealed_secret {
        Some(_) if keeps_secret => kept_secret(app, before)?,
        _ => new_secret,
    };
    let profile = StoredProfile {
        base_url: base_url.unwrap_or_else(|| stored.base_url.clone()),
        auth: auth.unwrap_or_else(|| stored.auth.clone()),
        preset: preset.over(stored.preset),
        paging: paging.over(stored.paging.clone()),
        changes: changes.over(stored.changes.clone()),
        resources: resources.unwrap_or_else(|| stored.resources.clone()),
    };
    let name = name.and_then(|given| refused.take(text::name("/name", &given)));
    let hours = match run_every_hours {
        Patch::Absent => before.run_every_hours,
        Patch::Null => None,
        Patch::Value(given) => refused.take(every(Some(given))).flatten().map(i32::from),
    };
    let mut bad = refused.into_members();
    bad.extend(bad_of(parse::profile(&app.outgoing, &profile, secret.as_ref()))?);
    if !bad.is_empty() {
        return Err(bad.into());
    }
    let sealed_secret = if keeps_secret {
        before.sealed_secret.clone()
    } else {
        seal(app, before.practice_id, secret.as_ref())?
    };
    Ok(LinkChange {
        name: name.unwrap_or_else(|| before.name.clone()),
        profile: if profile == stored { None } else { Some(json(&profile)?) },
        sealed_secret,
        run_every_hours: hours,
        next_run_at: next_run(before, hours, now),
    })
}

/// The secret that stays. Who can't open it can't check what is changed around it.
fn kept_secret(app: &AppState, before: &Model) -> Result<Option<Secret>, BadMember> {
    opened::secret(app, before).map_err(|why| BadMember::new("/auth", why))
}

/// When it is fetched next: as it was, unless how often that is changes.
fn next_run(before: &Model, hours: Option<i32>, now: DateTime<Utc>) -> Option<DateTime<Utc>> {
    if hours == before.run_every_hours {
        return before.next_run_at;
    }
    hours.map(|hours| now + TimeDelta::hours(i64::from(hours)))
}

fn every(hours: Option<u16>) -> Result<Option<u16>, BadMember> {
    match hours {
        Some(hours) if !(1..=MOST_HOURS).contains(&hours) => {
            let detail = "It is fetched every hour at most, and once a month at least.";
            Err(BadMember::new("/run_every_hours", detail)
                .given(hours)
                .allowed(format!("1 to {MOST_HOURS}")))
        }
        hours => Ok(hours),
    }
}

/// A secret goes nowhere it was not meant for: another host gets it only from whoever knows it.
fn same_host(stored: &StoredProfile, base_url: &str) -> Result<(), BadMember> {
    let origin = |text: &str| Url::parse(text).ok().map(|url| url.origin());
    let is_same = origin(&stored.base_url) == origin(base_url);
    if is_same || stored.auth == (RecordsAuth::Nobody {}) {
        return Ok(());
    }
    let detail = "Send `auth` with its secret along with an address on another host.";
    Err(BadMember::new("/auth", detail).why("a secret goes nowhere it was not meant for"))
}

/// The members that a check refused; what else is wrong stays an error.
fn bad_of<T>(checked: Result<T, ApiError>) -> Result<Vec<BadMember>, ApiError> {
    match checked {
        Ok(_) => Ok(Vec::new()),
        Err(error) if error.members().is_empty() => Err(error),
        Err(error) => Ok(error.members().to_vec()),
    }
}

fn seal(
    app: &AppState,
    practice_id: Uuid,
    secret: Option<&Secret>,
) -> Result<Option<String>, ApiError> {
    let sealed = secret.map(|secret| app.sealer.seal(practice_id, secret.reveal()));
    Ok(sealed.transpose()?)
}

fn json(profile: &StoredProfile) -> Result<Value, ApiError> {
    serde_json::to_value(profile).map_err(ApiError::internal)
}
