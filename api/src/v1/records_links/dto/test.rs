//! What a test of a connection found: records as they came beside what is read in them.

use serde::Serialize;
use serde_json::Value;
use utoipa::ToSchema;

use super::run::RecordsStop;
use crate::exchange::intake::Kind;
use crate::http::BadMember;

/// What a test of a connection found: one page of each resource. Nothing is stored.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"good": false, "resources": []})))]
pub struct RecordsTest {
    /// Whether every page came, held records, and could be read without a fault.
    #[schema(example = false)]
    pub good: bool,
    /// Why nothing was asked for; absent when it was.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stopped: Option<RecordsStop>,
    /// What was found of each resource.
    #[schema(max_items = 5)]
    pub resources: Vec<RecordsTested>,
}

/// What was found of a resource.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "kind": "field", "url": "https://records.example.org/api/fields?limit=200", "records": 0,
    "has_next_page": false, "samples": [], "found_nothing": [], "hints": ["The list is empty."]
})))]
pub struct RecordsTested {
    /// What its records are.
    pub kind: Kind,
    /// What was asked for.
    #[schema(example = "https://records.example.org/api/fields?limit=200")]
    pub url: String,
    /// Why no page came.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stopped: Option<RecordsStop>,
    /// Records on the page.
    #[schema(minimum = 0, example = 200)]
    pub records: u32,
    /// Whether the page leads to another.
    #[schema(example = true)]
    pub has_next_page: bool,
    /// The page itself, shortened, where no record was found on it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = json!({"items": []}))]
    pub page: Option<Value>,
    /// The first records.
    #[schema(max_items = 3)]
    pub samples: Vec<RecordsSample>,
    /// Pointers that found nothing in some or all of the records of the page.
    #[schema(max_items = 20)]
    pub found_nothing: Vec<RecordsUnfound>,
    /// What to look at.
    #[schema(max_items = 20, example = json!(["The list is empty."]))]
    pub hints: Vec<String>,
}

/// A record as it came, and what is read in it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "place": "/data/0",
    "raw": {"uid": "F-12", "label": "North forty", "size": 40},
    "read": [{"member": "id", "value": "F-12"}, {"member": "area", "value": "40 [acr_us]"}],
    "problems": []
})))]
pub struct RecordsSample {
    /// Where it stands on the page (JSON Pointer).
    #[schema(example = "/data/0")]
    pub place: String,
    /// As it came; long texts and lists are shortened.
    #[schema(example = json!({"uid": "F-12", "label": "North forty", "size": 40}))]
    pub raw: Value,
    /// What is read in it.
    #[schema(max_items = 20)]
    pub read: Vec<RecordsRead>,
    /// What can't be read in it.
    #[schema(max_items = 50)]
    pub problems: Vec<BadMember>,
}

/// What is read in a record.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"member": "area", "value": "40 [acr_us]"})))]
pub struct RecordsRead {
    /// Member of the profile.
    #[schema(example = "area")]
    pub member: String,
    /// Its value, for people to read.
    #[schema(example = "40 [acr_us]")]
    pub value: String,
}

/// A pointer that found nothing.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"member": "name", "pointer": "/lable", "in_records": 200})))]
pub struct RecordsUnfound {
    /// Member of the profile.
    #[schema(example = "name")]
    pub member: String,
    /// The pointer.
    #[schema(example = "/lable")]
    pub pointer: String,
    /// In how many of the records of the page nothing stands there.
    #[schema(minimum = 1, example = 200)]
    pub in_records: u32,
}
