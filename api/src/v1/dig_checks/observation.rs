//! What somebody found behind the planter, on the wire and in the database. What nobody looked at
//! is left out; the answer then says what it would have told.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::words::{
    CleanerRunning, FurrowBottom, FurrowClosure, FurrowWall, GaugeWheelFeel, WheelPrint,
};
use crate::entities::dig_checks;
use crate::http::ApiError;
use crate::http::patch::present;
use crate::http::quantity::{Quantities, Quantity};

/// What was found behind the planter. Part of a dig is fine: give at least one reading on one row.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "dug_at": "2027-04-29T15:20:00Z",
    "place": "north end, 200 ft from the headland",
    "rows_as_planned": true,
    "settings": {
        "pressure": {"value": 30, "unit": "[psi]"},
        "speed": {"value": 5, "unit": "[mi_i]/h"},
        "box_fill": {"value": 50, "unit": "%"}
    },
    "rows": [
        {"row": 2, "seed_depths": {"unit": "[in_i]", "values": [1.5, 1.625, 1.5, 1.625, 1.5]},
            "gauge_wheels": "spin_free", "wall": "crumbly", "bottom": "v"},
        {"row": 5, "seed_depths": {"unit": "[in_i]", "values": [1.5, 1.5, 1.625, 1.5, 1.625]},
            "gauge_wheels": "spin_free", "wall": "crumbly", "bottom": "v"}
    ]
})))]
pub struct DigCheckIn {
    /// When it was dug; not before 2000, at most a day ahead of now. What was dug more than 15
    /// minutes before the settings were issued is kept, and said so under `notices`.
    pub dug_at: DateTime<Utc>,
    /// Where in the field.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 120,
        example = "north end, 200 ft from the headland",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub place: Option<String>,
    /// Whether the rows were chosen as the plan of the dig asked; `false` where they were picked by
    /// eye.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub rows_as_planned: Option<bool>,
    /// What the planter was set to while the dug rows were planted. What is absent is taken as
    /// advised, and said so under `assumed`.
    #[serde(default)]
    pub settings: SettingsInUseIn,
    /// The rows that were dug, each once. Three rows with five seeds each are a good start.
    #[schema(min_items = 1, max_items = 64)]
    pub rows: Vec<RowReadingIn>,
    /// What else was seen.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Row 5 looks worn.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

impl DigCheckIn {
    /// As it was entered, from a stored dig check.
    pub(crate) fn stored(row: &dig_checks::Model) -> Result<Self, ApiError> {
        serde_json::from_value(row.observation.clone()).map_err(ApiError::internal)
    }
}

/// What the planter was set to. Give the down force in one way only: as a force, as the pressure on
/// the gauge, or as the notch of the spring.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "pressure": {"value": 30, "unit": "[psi]"},
    "speed": {"value": 5, "unit": "[mi_i]/h"},
    "box_fill": {"value": 50, "unit": "%"}
})))]
pub struct SettingsInUseIn {
    /// Down force on each row; -500 to 1200 lbf.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub down_force: Option<Quantity>,
    /// Pressure of the air bags or cylinders; 0 to 4000 psi. Turned into a force by the calibration
    /// that the recommendation rests on, or by bore and rod; otherwise noted only.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pressure: Option<Quantity>,
    /// Notch of the down-force spring, as written on the bracket.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        min_length = 1,
        max_length = 20,
        example = "2",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub notch: Option<String>,
    /// Depth that the lever says; 0.25 to 5 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lever_depth: Option<Quantity>,
    /// Notch of the depth lever, counted from 1 at the shallow end, in place of `lever_depth`; only
    /// where the steps of the lever are known.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 60, example = 6)]
    pub lever_notch: Option<u8>,
    /// Ground speed; 0.5 to 15 mph.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub speed: Option<Quantity>,
    /// How full the hoppers were; 0 to 100 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub box_fill: Option<Quantity>,
}

/// One dug row.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "row": 2,
    "seed_depths": {"unit": "[in_i]", "values": [1.5, 1.625, 1.5, 1.625, 1.5]},
    "gauge_wheels": "spin_free",
    "wall": "crumbly",
    "bottom": "v"
})))]
pub struct RowReadingIn {
    /// The row, counted from 1 at the left end.
    #[schema(minimum = 1, maximum = 64, example = 2)]
    pub row: u16,
    /// Whether it runs behind a tractor or planter tyre; by the `tyre_rows` of the planter when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub behind_tyre: Option<bool>,
    /// Whether it is one of the outer rows of the bar; the first and the last row when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub outer: Option<bool>,
    /// Depth of each seed that was found, from the soil surface under the residue; 0 to 6 in, at
    /// most 200 seeds. Where a depth can't be, the refusal names the unit that may have been meant.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seed_depths: Option<Quantities>,
    /// Distances from seed to seed along the row; 0 to 120 in, at most 200.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub spacings: Option<Quantities>,
    /// Length of row that was opened for the spacings; 0.5 to 2000 ft. They must fit into it; 2 % of
    /// it, or an inch, is left for the tape.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stretch: Option<Quantity>,
    /// How the gauge wheels turn by hand, planter down and stopped.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gauge_wheels: Option<GaugeWheelFeel>,
    /// Load on the gauge wheels, where it was logged.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub logged_load: Option<LoggedLoadIn>,
    /// The print that the gauge wheels leave.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub print: Option<WheelPrint>,
    /// The wall of the furrow.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub wall: Option<FurrowWall>,
    /// The bottom of the furrow.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bottom: Option<FurrowBottom>,
    /// Whether straw or cover is tucked into the furrow.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residue_in_furrow: Option<bool>,
    /// Whether the seed lies on the bottom of the furrow.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seed_on_bottom: Option<bool>,
    /// How the furrow is closed.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub closed: Option<FurrowClosure>,
    /// Whether the soil around the seed is moist.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub moist_at_seed: Option<bool>,
    /// How the row cleaner runs.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cleaner: Option<CleanerRunning>,
}

/// Load on the gauge wheels of a row, as logged over some distance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "mean": {"value": 150, "unit": "[lbf_av]"},
    "sd": {"value": 60, "unit": "[lbf_av]"},
    "contact": {"value": 97, "unit": "%"}
})))]
pub struct LoggedLoadIn {
    /// The mean; 0 to 1500 lbf.
    pub mean: Quantity,
    /// The standard deviation along the row.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// Share of the time with the wheels on the ground; 0 to 100 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub contact: Option<Quantity>,
}
