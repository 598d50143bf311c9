//! Reference ids within a data set, and the ids that last.

use serde_json::{Value, json};
use uuid::Uuid;

use crate::exchange::forms::external::ExternalIds;

/// An object of ours: its id is its reference, and a unique id beside those of other systems.
pub(super) fn ours(id: Uuid, external: &ExternalIds) -> Value {
    let mut unique = vec![json!({"idText": id, "idTypeCode": "UUID"})];
    let theirs = external
        .of(id)
        .map(|it| json!({"idText": it.their_id, "idTypeCode": "STRING", "idSource": it.system}));
    unique.extend(theirs);
    json!({"referenceId": id, "uniqueIds": unique})
}

/// Something that stands only in this data set.
pub(super) fn local(reference: &str) -> Value {
    json!({"referenceId": reference})
}

/// The boundary of a field.
pub(super) fn boundary(field_id: Uuid) -> String {
    format!("boundary-{field_id}")
}

/// A season.
pub(super) fn season(season: i32) -> String {
    format!("season-{season}")
}

/// The party that a grower is.
pub(super) fn grower_party(grower_id: Uuid) -> String {
    format!("party-{grower_id}")
}

/// The party that the practice is.
pub(super) const PRACTICE_PARTY: &str = "party-practice";
