//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::http::patch::present;
use crate::http::quantity::{Quantities, Quantity};
use crate::v1::trace::TraceStep;

/// What was found on one plot. Give at least one of `readings`, `harvest`, `as_planted`, `lost`.
#[derive(Debug, Clone, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "plot": 3,
    "observed_on": "2027-05-10",
    "readings": [
        {"response": "emergence", "values": {"unit": "%", "values": [92, 95, 90]}},
        {"response": "furrow_closed", "values": {"unit": "%", "values": [85]}}
    ]
})))]
pub struct PlotIn {
    /// The plot, by its number on the map.
    #[schema(minimum = 1, maximum = 72, example = 3)]
    pub plot: u16,
    /// When it was looked at; not before 2000, at most a day ahead of now.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, example = "2027-05-10")]
    pub observed_on: Option<NaiveDate>,
    /// Readings, each response once.
    #[serde(default)]
    #[schema(max_items = 8)]
    pub readings: Vec<PlotReadingIn>,
    /// What was weighed; the yield follows. In place of a reading of `yield`; not on rows of the
    /// planter.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub harvest: Option<HarvestIn>,
    /// The treatment that it got, by name, where somebody looked. Where it is not the one of the
    /// map, the plot is analysed as it was planted.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 60,
        example = "smooth wheels",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub as_planted: Option<String>,
    /// Why nothing can be read from the plot: it is left out.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "washed out",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub lost: Option<String>,
    /// Whether it takes the place of what is there. What is there stays as history.
    #[serde(default)]
    #[schema(default = false)]
    pub correction: bool,
    /// What else was seen.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Deer at the south end.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub note: Option<String>,
}

/// Readings of one response on one plot.
#[derive(Debug, Clone, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!(
    {"response": "emergence", "values": {"unit": "%", "values": [92, 95, 90]}}
)))]
pub struct PlotReadingIn {
    /// The response, by its word.
    #[schema(
        min_length = 1,
        max_length = 30,
        pattern = "^[a-z][a-z0-9_]*$",
        example = "emergence"
    )]
    pub response: String,
    /// One value, or one for each dig, count or row: they are averaged. 1 to 200.
    pub values: Quantities,
    /// Dig checks in the field that the values come from.
    #[serde(default)]
    #[schema(max_items = 20)]
    pub dig_check_ids: Vec<Uuid>,
    /// Stand counts in the field that the values come from.
    #[serde(default)]
    #[schema(max_items = 20)]
    pub stand_count_ids: Vec<Uuid>,
}

/// What was weighed from a plot: with the same wagon for all, parked and level.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "weight": {"value": 2150, "unit": "[lb_av]"}, "moisture": {"value": 18.2, "unit": "%"}
})))]
pub struct HarvestIn {
    /// The grain as it came; 0.1 to 300,000 lb.
    pub weight: Quantity,
    /// Water in it, by wet weight; 3 to 50 %. All plots are brought to the moisture at which the
    /// crop is sold.
    pub moisture: Quantity,
    /// Width that was harvested; the passes of the harvester between the borders when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub width: Option<Quantity>,
    /// Length that was harvested; that of the strip when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub length: Option<Quantity>,
}

/// One plot with what was found on it.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "trial_id": "01964f1e-6a00-7000-8000-000000000051",
    "plot": 3,
    "block": 2,
    "treatment": "spiked wheels",
    "rows": [2, 7],
    "readings": [{
        "response": "emergence",
        "values": {"unit": "%", "values": [92, 95, 90]},
        "mean": 92.3333,
        "unit": "%",
        "revision": 1,
        "entered_at": "2027-05-10T15:00:00Z",
        "entered_by": "01964f1e-6a00-7000-8000-000000000001",
        "dig_check_ids": [],
        "stand_count_ids": [],
        "steps": []
    }],
    "notices": []
})))]
pub struct TrialPlot {
    /// The trial.
    pub trial_id: Uuid,
    /// Number of the plot.
    #[schema(minimum = 1, maximum = 72, example = 3)]
    pub plot: u16,
    /// Its block.
    #[schema(minimum = 1, maximum = 12, example = 2)]
    pub block: u16,
    /// Its treatment: as it was planted where somebody said, else as laid out.
    #[schema(example = "spiked wheels")]
    pub treatment: String,
    /// The rows of the planter in it, as laid out.
    #[schema(max_items = 64, example = json!([2, 7]))]
    pub rows: Vec<u16>,
    /// Why it is lost, where it is.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "washed out")]
    pub lost: Option<String>,
    /// What was read, by response; what was corrected is not among it.
    #[schema(max_items = 8)]
    pub readings: Vec<PlotReading>,
    /// What is to be known.
    #[schema(max_items = 20, example = json!(["planted as smooth wheels, not as spiked wheels of the map: it is analysed as it was planted"]))]
    pub notices: Vec<String>,
}

/// What was read of one response.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PlotReading {
    /// The response, by its word.
    #[schema(example = "emergence")]
    pub response: String,
    /// As it was entered.
    pub values: Quantities,
    /// Mean of the values: what the analysis works with.
    #[schema(example = 92.3333)]
    pub mean: f64,
    /// Unit of the mean.
    #[schema(example = "%")]
    pub unit: String,
    /// Counts the corrections.
    #[schema(minimum = 1, example = 1)]
    pub revision: i32,
    /// When it was looked at.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-10")]
    pub observed_on: Option<NaiveDate>,
    /// When it came in.
    pub entered_at: DateTime<Utc>,
    /// Account of whoever sent it.
    pub entered_by: Uuid,
    /// Dig checks that it comes from.
    #[schema(max_items = 20)]
    pub dig_check_ids: Vec<Uuid>,
    /// Stand counts that it comes from.
    #[schema(max_items = 20)]
    pub stand_count_ids: Vec<Uuid>,
    /// What was weighed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub harvest: Option<HarvestIn>,
    /// How the yield follows from it.
    #[schema(max_items = 10)]
    pub steps: Vec<TraceStep>,
    /// What else was seen.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Deer at the south end.")]
    pub note: Option<String>,
}

/// The plots of a trial with what was found on them.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "trial_id": "01964f1e-6a00-7000-8000-000000000051",
    "plots": [{
        "trial_id": "01964f1e-6a00-7000-8000-000000000051",
        "plot": 1, "block": 1, "treatment": "spiked wheels", "rows": [2, 7],
        "readings": [], "notices": []
    }]
})))]
pub struct TrialPlots {
    /// The trial.
    pub trial_id: Uuid,
    /// Every plot, in the order of the map.
    #[schema(max_items = 72)]
    pub plots: Vec<TrialPlot>,
}
