//! A record tied to an object that was there.

use sea_orm::{ActiveValue::Set, ColumnTrait, DatabaseTransaction, EntityTrait, QueryFilter};
use serde_json::{Value, json};
use uuid::Uuid;

use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::{external_ids, record_matches};
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::incoming::{Incoming, Kind};
use crate::exchange::intake::plan::objects_of;
use crate::http::{ApiError, BadMember};

/// Ties a record to an object that was there. What is there counts as what they said before: so the
/// record's names and boundaries are taken.
pub(super) async fn tie_to(
    tx: &DatabaseTransaction,
    app: &AppState,
    scope: Scope,
    (waiting, record): (&record_matches::Model, &Incoming),
    object_id: Uuid,
) -> Result<(), ApiError> {
    let mut found = objects_of(tx, scope, waiting.kind, vec![object_id]).await?;
    let Some(ours) = found.remove(&object_id) else {
        let detail = format!("There is no such {}.", waiting.kind.word());
        return Err(BadMember::new("/object_id", detail).given(object_id).into());
    };
    let tied = external_ids::Entity::find()
        .filter(external_ids::Column::PracticeId.eq(waiting.practice_id))
        .filter(external_ids::Column::System.eq(waiting.system.as_str()))
        .filter(external_ids::Column::ObjectId.eq(object_id));
    if let Some(tied) = tied.one(tx).await? {
        let detail = "It has another id in this records system already.";
        return Err(BadMember::new("/object_id", detail).given(tied.their_id).into());
    }
    let mut taken = ours.members;
    if let Some(parent) = &record.said.parent {
        taken.insert(Member::Parent.word().to_owned(), json!(parent));
    }
    let owner = (waiting.kind, object_id);
    let (now, grower_id) = (app.clock.now(), grower_of(tx, scope, owner).await?);
    let row = external_ids::ActiveModel {
        practice_id: Set(waiting.practice_id),
        id: Set(app.ids.next()),
        system: Set(waiting.system.clone()),
        kind: Set(waiting.kind),
        their_id: Set(waiting.their_id.clone()),
        object_id: Set(object_id),
        grower_id: Set(grower_id),
        taken: Set(Value::Object(taken)),
        // Nothing has this hash: the record is looked at now.
        taken_hash: Set(String::new()),
        their_version: Set(None),
        their_updated_at: Set(None),
        first_seen_at: Set(now),
        last_seen_at: Set(now),
        gone_since: Set(None),
        version: Set(1),
    };
    external_ids::Entity::insert(row).exec_without_returning(tx).await?;
    Ok(())
}

/// The grower of an object: up from what it belongs to.
async fn grower_of(
    tx: &DatabaseTransaction,
    scope: Scope,
    (mut kind, mut id): (Kind, Uuid),
) -> Result<Option<Uuid>, ApiError> {
    while let Some(parent) = kind.parent() {
        let ours = objects_of(tx, scope, kind, vec![id]).await?.remove(&id);
        match ours.and_then(|ours| ours.parent_id) {
            Some(parent_id) => (kind, id) = (parent, parent_id),
            None => return Ok(None),
        }
    }
    Ok(Some(id))
}
