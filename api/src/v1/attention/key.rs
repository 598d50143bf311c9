//! The `{entry}` of a path, and the entry that it names.

use std::future::{Ready, ready};

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest};
use uuid::Uuid;

use super::dto::AttentionEntry;
use super::find::Wanted;
use super::gather::{Marked, Which, gather};
use super::kinds::AttentionKind;
use super::names::Names;
use super::tends::Tends;
use super::{find::Found, marks};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::entities::attention_marks;
use crate::http::ApiError;
use crate::http::id::parse_id;

/// The key of an entry. What is none names no entry, so it answers 404.
#[derive(Debug, Clone, Copy)]
pub(super) struct Key {
    kind: AttentionKind,
    matter: Uuid,
}

impl FromRequest for Key {
    type Error = ApiError;
    type Future = Ready<Result<Self, ApiError>>;

    fn from_request(request: &HttpRequest, _payload: &mut Payload) -> Self::Future {
        let found = request.match_info().get("entry").and_then(read);
        ready(found.ok_or_else(none))
    }
}

fn read(text: &str) -> Option<Key> {
    let (kind, matter) = text.split_once('.')?;
    Some(Key { kind: AttentionKind::named(kind)?, matter: parse_id(matter)? })
}

fn none() -> ApiError {
    ApiError::not_found("entry on the attention list")
}

/// The entry of a key, if it is on the caller's list now, put off or not.
pub(super) async fn entry(
    app: &AppState,
    caller: &Caller<CanAdvise>,
    key: Key,
) -> Result<Found, ApiError> {
    let wanted = Wanted { kind: Some(key.kind), ..Wanted::default() };
    let tends = Tends::of(caller.role(), caller.account_id());
    let which = Which { wanted, snoozed: true, tends, ..Which::default() };
    let list = gather(app, caller.scope(), which).await?;
    let found = list.into_iter().find(|entry| entry.found.matter == key.matter);
    Ok(found.ok_or_else(none)?.found)
}

/// The entry as it is after somebody said something about it.
pub(super) async fn shown(
    db: &impl sea_orm::ConnectionTrait,
    (found, mark): (Found, attention_marks::Model),
    today: chrono::NaiveDate,
) -> Result<AttentionEntry, ApiError> {
    let practice_id = mark.practice_id;
    let snoozed = marks::is_snoozed(&mark, &found, today);
    let entry = Marked { found, mark: Some(mark), snoozed };
    let names = Names::of(db, practice_id, std::slice::from_ref(&entry)).await?;
    Ok(AttentionEntry::of(entry, &names))
}
