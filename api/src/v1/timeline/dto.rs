//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::v1::units::Units;

/// What happened. The order is that in which things of one moment follow from another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum TimelineKind {
    /// The down force of a planter that is used here was calibrated.
    PlanterCalibrated,
    /// A planter that is used here was looked at in the shed.
    PlanterInspected,
    /// Something was mended on a planter that is used here.
    PlanterRepaired,
    /// The field was planted.
    Planted,
    /// The stand was counted.
    StandCounted,
    /// Somebody looked at the field.
    ConditionsReported,
    /// Somebody dug behind the planter.
    DigChecked,
    /// The dig proposed a change.
    AdjustmentProposed,
    /// The advisor accepted the change.
    AdjustmentAccepted,
    /// The advisor declined the change.
    AdjustmentDeclined,
    /// A revision was worked out.
    RecommendationMade,
    /// A revision was issued to the grower.
    RecommendationIssued,
    /// A later revision took the place of this one.
    RecommendationSuperseded,
    /// Whoever plants has seen the revision.
    RecommendationAcknowledged,
    /// The field was harvested.
    Harvested,
    /// A trial in this field was started.
    TrialStarted,
    /// A trial in this field was closed.
    TrialClosed,
}

/// Something that happened.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "at": "2027-04-29T15:20:00Z",
    "kind": "dig_checked",
    "id": "01964f1e-6a00-7000-8000-000000000041",
    "title": "Dig check",
    "summary": "4 rows, 20 seeds: mean 1.55 in, wanted 2 in; the mean lies too shallow. \
        Raise the down force on every row from 223 to 260 lbf: set 36 psi.",
    "by": "01964f1e-6a00-7000-8000-000000000003",
    "by_name": "Tom Miller"
})))]
pub struct TimelineEntry {
    /// When. What is known by its day only stands at its beginning: a calibration, an inspection, a
    /// repair, a planting, a stand count, a harvest.
    pub at: DateTime<Utc>,
    /// What happened.
    pub kind: TimelineKind,
    /// Id of the object: the calibration, inspection, repair, planting, stand count, yield, conditions
    /// report, recommendation, dig check, adjustment or trial.
    pub id: Uuid,
    /// What happened, in a few words.
    #[schema(example = "Dig check")]
    pub title: String,
    /// What it says, in words with units.
    #[schema(example = "4 rows, 20 seeds: mean 1.55 in, wanted 2 in; the mean lies too shallow.")]
    pub summary: String,
    /// Account of whoever did it.
    pub by: Uuid,
    /// Name of that account.
    #[schema(example = "Tom Miller")]
    pub by_name: String,
}

/// A page of what happened in a field.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "season": 2027,
    "items": [{
        "at": "2027-04-28T13:30:00Z",
        "kind": "conditions_reported",
        "id": "01964f1e-6a00-7000-8000-000000000021",
        "title": "Conditions",
        "summary": "Corn; moist, the ball crumbles; cereal rye, green and standing, 24 in.",
        "by": "01964f1e-6a00-7000-8000-000000000001",
        "by_name": "Ann Weber"
    }],
    "next_cursor": "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4"
})))]
pub struct Timeline {
    /// The season, named by the year in which it ends.
    #[schema(example = 2027)]
    pub season: i32,
    /// The entries of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<TimelineEntry>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which part of the timeline.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct TimelineRequest {
    /// The season, named by the year in which it ends; that of the newest entry when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 2000, maximum = 2200, example = 2027)]
    pub season: Option<i32>,
    /// Units of the answer; those of the account when absent. What was entered stays as it was
    /// entered.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
    /// Entries of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
