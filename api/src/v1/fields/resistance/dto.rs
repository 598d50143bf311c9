//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::v1::learned::{DigsBehind, Factor};
use crate::v1::planters::resistance::dto::{PooledCover, PooledSoil};

/// What digs taught about a field: how much more or less its soil asks of openers and coulters than
/// the conditions let expect.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "field_id": "01964f1e-6a00-7000-8000-000000000011",
    "season": 2027,
    "digs": 2,
    "digs_that_teach_nothing": 0,
    "last_dug_at": "2027-04-20T11:45:00Z",
    "without_digs": {"low": 0.53, "middle": 1.0, "high": 1.89},
    "planters": [{
        "planter_id": "01964f1e-6a00-7000-8000-000000000012",
        "name": "The eight-row",
        "soil": "medium",
        "cover": "living",
        "soil_and_cover": "medium soil under living cover",
        "resistance": {"low": 1.08, "middle": 1.22, "high": 1.37},
        "digs": {"here_this_season": 2, "field": 2, "planter": 14, "soil_and_cover": 37, "practice": 61},
        "last_dug_at": "2027-04-20T11:45:00Z",
        "words": "from 14 digs on this planter in medium soil under living cover, 2 of them here this season: soil asks 1.22 times (1.08 to 1.37) what the conditions let expect"
    }]
})))]
pub struct FieldResistance {
    /// The field.
    pub field_id: Uuid,
    /// The season that is asked about.
    #[schema(minimum = 2000, example = 2027)]
    pub season: u16,
    /// Dig checks in this field that teach something.
    #[schema(example = 2)]
    pub digs: u64,
    /// Dig checks in this field that teach nothing: a cleaner carried the units, or no row speaks
    /// for the planter.
    #[schema(example = 0)]
    pub digs_that_teach_nothing: u64,
    /// When the last dig that teaches something was dug; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub last_dug_at: Option<DateTime<Utc>>,
    /// What is believed of any field without a single dig.
    pub without_digs: Factor,
    /// By planter, and by the soil and cover that the field had, the last dug first. Empty where
    /// nobody dug.
    #[schema(max_items = 1000)]
    pub planters: Vec<ResistanceOfPlanter>,
}

/// What is known of a field behind one planter.
#[derive(Debug, Serialize, ToSchema)]
pub struct ResistanceOfPlanter {
    /// The planter.
    pub planter_id: Uuid,
    /// Its name.
    #[schema(example = "The eight-row")]
    pub name: String,
    /// The soil.
    pub soil: PooledSoil,
    /// The cover.
    pub cover: PooledCover,
    /// Both in words.
    #[schema(example = "medium soil under living cover")]
    pub soil_and_cover: String,
    /// What is expected in the season that is asked about.
    pub resistance: Factor,
    /// Digs behind it.
    pub digs: DigsBehind,
    /// When the last one here was dug.
    pub last_dug_at: DateTime<Utc>,
    /// All of it in a sentence.
    pub words: String,
}
