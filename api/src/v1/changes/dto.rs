//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::changes::{ChangeType, Recorded};
use crate::http::BadMember;

/// Something that is another now: which object, never how. Read the object to see it as it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
#[schema(as = ChangeTold, examples(json!(example())))]
pub struct Change {
    /// Its place among the changes of the practice, counted from 1 without gaps. A caller who sees only
    /// some growers, or asks for some types, sees only some places.
    #[schema(minimum = 1, example = 1042)]
    pub position: i64,
    /// When it was made. Places are in the order in which changes took hold, times nearly so.
    pub at: DateTime<Utc>,
    /// What kind of change.
    #[serde(rename = "type")]
    pub change_type: ChangeType,
    /// What kind of object, as in the audit trail.
    #[schema(example = "field", max_length = 120)]
    pub object_kind: String,
    /// Id of the object; its name where it has no id.
    #[schema(example = "01964f1e-6a00-7000-8000-000000000004", max_length = 120)]
    pub object_id: String,
    /// The grower whose object it is, where it is one's.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// The version of the object after the change, where that is known; it may be later by now.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, example = 3)]
    pub version: Option<i32>,
    /// Path where the object is read; absent when it is gone, or read in a list only.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "/v1/fields/01964f1e-6a00-7000-8000-000000000004")]
    pub href: Option<String>,
}

impl From<Recorded> for Change {
    fn from(recorded: Recorded) -> Self {
        let Recorded { position, at, change } = recorded;
        let href = change.href();
        let crate::changes::Change { change_type, object_id, grower_id, version } = change;
        let object_kind = change_type.object_kind().to_owned();
        Self { position, at, change_type, object_kind, object_id, grower_id, version, href }
    }
}

/// A change for the document.
pub fn example() -> serde_json::Value {
    serde_json::json!({
        "position": 1042,
        "at": "2027-04-20T12:00:00Z",
        "type": "field.changed",
        "object_kind": "field",
        "object_id": "01964f1e-6a00-7000-8000-000000000004",
        "grower_id": "01964f1e-6a00-7000-8000-000000000002",
        "version": 3,
        "href": "/v1/fields/01964f1e-6a00-7000-8000-000000000004"
    })
}

/// A page of changes.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [example()], "next_after": "AAAAAAAABBLu1vQtLNE5w4", "more": false
})))]
pub struct ChangePage {
    /// The changes, in order. It may be empty although there are more: those that were looked
    /// through were not asked for.
    #[schema(max_items = 200)]
    pub items: Vec<Change>,
    /// Keep it, and send it as `after` for what comes next. Always there.
    #[schema(example = "AAAAAAAABBLu1vQtLNE5w4", max_length = 120)]
    pub next_after: String,
    /// Whether something is there to be read already. If not, ask again later.
    #[schema(example = false)]
    pub more: bool,
}

/// Which changes.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ChangeFilter {
    /// `next_after` of the page before, with any filters. Absent: from the beginning. `now`: nothing of
    /// what was, an empty page with the place from which to go on.
    #[serde(default)]
    #[param(nullable = false, max_length = 120, example = "now")]
    pub after: Option<String>,
    /// Only these types, divided by commas; all when absent.
    #[serde(default)]
    #[param(
        nullable = false,
        min_length = 1,
        max_length = 2000,
        pattern = r"^[a-z_]+\.[a-z_]+(,[a-z_]+\.[a-z_]+)*$",
        example = "field.changed,settings_sheet.published"
    )]
    pub types: Option<String>,
    /// Most changes of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
}

/// The types that were asked for.
///
/// # Errors
/// When there is no such type.
pub fn types(pointer: &str, given: Option<&str>) -> Result<Vec<ChangeType>, BadMember> {
    let names = given.into_iter().flat_map(|names| names.split(','));
    names
        .map(|name| {
            ChangeType::named(name).ok_or_else(|| {
                let all: Vec<_> = ChangeType::ALL.iter().map(|it| it.wire()).collect();
                BadMember::new(pointer, "There is no such type of change.")
                    .given(name.escape_debug())
                    .allowed(all.join(", "))
            })
        })
        .collect()
}
