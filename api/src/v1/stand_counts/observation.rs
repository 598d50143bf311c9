//! What was counted, on the wire.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::http::patch::present;
use crate::http::quantity::{Quantities, Quantity};
use crate::tagged_union;

/// A stand count.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "counted_on": "2027-05-28",
    "count": {
        "kind": "row_length",
        "length": {"value": 17.424, "unit": "[ft_i]"},
        "counts": [
            {"place": 1, "row": 2, "plants": 31, "gaps": {"unit": "[ft_i]", "values": [1.5]}, "late": 2},
            {"place": 2, "row": 7, "plants": 29, "gaps": {"unit": "[ft_i]", "values": []}, "late": 4},
            {"place": 3, "row": 4, "plants": 32, "gaps": {"unit": "[ft_i]", "values": []}, "late": 1}
        ]
    },
    "late_by_days": 7
})))]
pub struct StandReportIn {
    /// The planting; the newest of the field on that day when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub planting_id: Option<Uuid>,
    /// The day of the count; not before emergence, and not in the future.
    #[schema(example = "2027-05-28")]
    pub counted_on: NaiveDate,
    /// What was counted.
    pub count: StandMethodIn,
    /// How much later than the first plants the late ones came up, in days.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 60, example = 7)]
    pub late_by_days: Option<f64>,
    /// A note.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Crusted on the clay knob.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub note: Option<String>,
}

tagged_union! {
    /// Counts by one of three methods.
    #[schema(examples(json!({
        "kind": "hoop", "diameter": {"value": 30, "unit": "[in_i]"},
        "counts": [{"place": 1, "plants": 18}, {"place": 2, "plants": 16}]
    })))]
    pub enum StandMethodIn by "kind" {
        /// Plants in a length of one row.
        RowLength = "row_length" {
            /// Length of row of each count; a thousandth of an acre is 17.424 ft in 30 in rows. Bound:
            /// `row_length`.
            length: Quantity,
            /// The counts.
            #[schema(min_items = 1, max_items = 200)]
            counts: Vec<RowCountIn>,
        },
        /// Plants inside a hoop.
        Hoop = "hoop" {
            /// Inside diameter. Bound: `hoop_diameter`.
            diameter: Quantity,
            /// The throws.
            #[schema(min_items = 1, max_items = 200)]
            counts: Vec<HoopCountIn>,
        },
        /// A wheel rolled along a row past 150 plants.
        Wheel = "wheel" {
            /// The walks.
            #[schema(min_items = 1, max_items = 200)]
            counts: Vec<WheelCountIn>,
        },
    }
}

/// Plants of a length of one row.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "place": 1, "row": 2, "plants": 31, "gaps": {"unit": "[ft_i]", "values": [1.5]}, "late": 2
})))]
pub struct RowCountIn {
    /// The place in the field, numbered by whoever counts. Counts at one place resemble each other,
    /// so places are what the interval rests on.
    #[schema(minimum = 1, maximum = 200, example = 1)]
    pub place: u16,
    /// The row of the planter, from 1 at the left end.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 64, example = 2)]
    pub row: Option<u16>,
    /// Plants.
    #[schema(minimum = 0, maximum = 10_000, example = 31)]
    pub plants: u32,
    /// Stretches without plants; an empty list where there is none, absent where nobody looked.
    /// Bound: `row_gap`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gaps: Option<Quantities>,
    /// Where each plant stands along a tape, ascending; one for each plant. Bound: `tape_position`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub positions: Option<Quantities>,
    /// How many of the plants came up late; absent where nobody looked.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 10_000, example = 2)]
    pub late: Option<u32>,
}

/// Plants inside a hoop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"place": 1, "plants": 18})))]
pub struct HoopCountIn {
    /// The place in the field, numbered by whoever counts.
    #[schema(minimum = 1, maximum = 200, example = 1)]
    pub place: u16,
    /// Plants.
    #[schema(minimum = 0, maximum = 10_000, example = 18)]
    pub plants: u32,
    /// How many of the plants came up late; absent where nobody looked.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 10_000, example = 2)]
    pub late: Option<u32>,
}

/// A walk along a row past 150 plants.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"place": 1, "row": 2, "distance": {"value": 94, "unit": "[ft_i]"}})))]
pub struct WheelCountIn {
    /// The place in the field, numbered by whoever counts.
    #[schema(minimum = 1, maximum = 200, example = 1)]
    pub place: u16,
    /// The row of the planter, from 1 at the left end.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 64, example = 2)]
    pub row: Option<u16>,
    /// Distance past 150 plants. Bound: `row_length`.
    pub distance: Quantity,
    /// Stretches without plants; absent where nobody looked. Bound: `row_gap`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub gaps: Option<Quantities>,
    /// How many of the 150 came up late; absent where nobody looked.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 150, example = 10)]
    pub late: Option<u32>,
}
