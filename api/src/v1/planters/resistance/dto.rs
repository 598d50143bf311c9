//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::v1::learned::{DigsBehind, Factor};
use crate::v1::mirror::mirror;

mirror! {
    /// The soil in which digs are pooled; `unknown` where nobody named a texture.
    PooledSoil = domain::learning::SoilGroup { Unknown Coarse Medium Fine }

    /// The cover in which digs are pooled.
    PooledCover = domain::learning::CoverClass { NoCover Living Dead }
}

/// Which season.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ResistanceQuery {
    /// The season that is asked about: its own digs count in full, those of other seasons less. This
    /// one when absent; no later one.
    #[serde(default)]
    #[param(nullable = false, minimum = 2000, maximum = 2200, example = 2027)]
    pub season: Option<i32>,
}

/// What digs taught about a planter: how much more or less the soil asks of its openers and coulters
/// than the conditions let expect.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "planter_id": "01964f1e-6a00-7000-8000-000000000012",
    "season": 2027,
    "digs": 14,
    "digs_that_teach_nothing": 1,
    "last_dug_at": "2027-04-20T11:45:00Z",
    "without_digs": {"low": 0.53, "middle": 1.0, "high": 1.89},
    "classes": [{
        "soil": "medium",
        "cover": "living",
        "soil_and_cover": "medium soil under living cover",
        "resistance": {"low": 1.02, "middle": 1.18, "high": 1.36},
        "digs": {"here_this_season": 0, "field": 0, "planter": 14, "soil_and_cover": 37, "practice": 61},
        "last_dug_at": "2027-04-20T11:45:00Z",
        "words": "from 14 digs on this planter in medium soil under living cover: soil asks 1.18 times (1.02 to 1.36) what the conditions let expect",
        "fields": [{
            "field_id": "01964f1e-6a00-7000-8000-000000000011",
            "name": "North forty",
            "resistance": {"low": 1.08, "middle": 1.22, "high": 1.37},
            "digs": {"here_this_season": 2, "field": 2, "planter": 14, "soil_and_cover": 37, "practice": 61},
            "last_dug_at": "2027-04-20T11:45:00Z",
            "words": "from 14 digs on this planter in medium soil under living cover, 2 of them here this season: soil asks 1.22 times (1.08 to 1.37) what the conditions let expect"
        }]
    }]
})))]
pub struct PlanterResistance {
    /// The planter.
    pub planter_id: Uuid,
    /// The season that is asked about.
    #[schema(minimum = 2000, example = 2027)]
    pub season: u16,
    /// Dig checks on this planter that teach something.
    #[schema(example = 14)]
    pub digs: u64,
    /// Dig checks on this planter that teach nothing: a cleaner carried the units, or no row speaks
    /// for the planter.
    #[schema(example = 1)]
    pub digs_that_teach_nothing: u64,
    /// When the last dig that teaches something was dug; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub last_dug_at: Option<DateTime<Utc>>,
    /// What is believed of any planter without a single dig.
    pub without_digs: Factor,
    /// By soil and cover: those in which somebody of the practice dug, the ones with most digs on
    /// this planter first. Empty before the first dig of the practice.
    #[schema(max_items = 12)]
    pub classes: Vec<ResistanceInClass>,
}

/// What is known of a planter in one kind of soil and cover.
#[derive(Debug, Serialize, ToSchema)]
pub struct ResistanceInClass {
    /// The soil.
    pub soil: PooledSoil,
    /// The cover.
    pub cover: PooledCover,
    /// Both in words.
    #[schema(example = "medium soil under living cover")]
    pub soil_and_cover: String,
    /// What is expected in a field where nobody dug yet.
    pub resistance: Factor,
    /// Digs behind it.
    pub digs: DigsBehind,
    /// When the last of this planter's digs here was dug; absent without one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub last_dug_at: Option<DateTime<Utc>>,
    /// All of it in a sentence.
    pub words: String,
    /// The fields where this planter was dug behind, by name.
    #[schema(max_items = 10_000)]
    pub fields: Vec<ResistanceInField>,
}

/// What is known of a planter in one field.
#[derive(Debug, Serialize, ToSchema)]
pub struct ResistanceInField {
    /// The field.
    pub field_id: Uuid,
    /// Its name.
    #[schema(example = "North forty")]
    pub name: String,
    /// What is expected there in the season that is asked about.
    pub resistance: Factor,
    /// Digs behind it.
    pub digs: DigsBehind,
    /// When the last one there was dug.
    pub last_dug_at: DateTime<Utc>,
    /// All of it in a sentence.
    pub words: String,
}
