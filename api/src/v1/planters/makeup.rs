//! What a planter is made of, on the wire and in the database. What nobody measured is left out;
//! the engine then says what it assumed.

use domain::planter as domain;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::frame::GroundDrive;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::mirror::mirror;

/// Most rows of a planter.
pub const MOST_ROWS: u16 = 64;
/// Most notches of a spring bracket or a depth lever.
pub const MOST_NOTCHES: u8 = 60;
/// Most sections of a frame.
pub const MOST_SECTIONS: usize = 9;

/// What a planter is made of; all its rows are alike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "rows": 8,
    "row_width": {"value": 30, "unit": "[in_i]"},
    "tyre_rows": [3, 6],
    "unit": {
        "weight": {"value": 175, "unit": "[lbf_av]"},
        "hopper": {"kind": "per_row", "volume": {"value": 1.6, "unit": "[bu_us]"}},
        "opener": {"new_diameter": {"value": 15, "unit": "[in_i]"}},
        "coulter": {"mount": "unit", "above_opener": {"value": 0.3, "unit": "[in_i]"}},
        "cleaner": "floating",
        "closing": "rubber",
        "arms": {"angle": {"value": 0, "unit": "deg"}}
    },
    "down_force": {"kind": "air_bag"}
})))]
pub struct Makeup {
    /// Number of rows.
    #[schema(minimum = 1, maximum = 64, example = 8)]
    pub rows: u16,
    /// Distance between rows, 5 to 60 in.
    pub row_width: Quantity,
    /// Rows that run behind a tractor or planter tyre, counted from 1 at the left end, each once.
    /// One of them is among the rows of a dig plan, and a row of a dig counts as behind a tyre where
    /// the dig does not say.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 64, example = json!([3, 6]))]
    pub tyre_rows: Vec<u16>,
    /// The row unit.
    pub unit: RowUnit,
    /// What adds force to the row units.
    pub down_force: DownForceSource,
    /// The sections of the frame, where somebody weighed them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 9)]
    pub frame: Vec<FrameSection>,
    /// The wheels of the frame that drive the seed meters, where they do.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ground_drive: Option<GroundDrive>,
    /// The depth lever, where its steps are known.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub depth_lever: Option<DepthLever>,
    /// Closing wheels that are at hand and could be fitted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 5)]
    pub closing_owned: Vec<ClosingPair>,
}

/// One row unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RowUnit {
    /// Weight of the bare unit as a force, 20 to 800 lbf.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub weight: Option<Quantity>,
    /// Weight of coulter, cleaner, brackets and in-furrow kit on the unit as a force, 0 to 500 lbf.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub attachments: Option<Quantity>,
    /// Where the seed is carried.
    pub hopper: Hopper,
    /// The opener discs.
    pub opener: OpenerDisc,
    /// The coulter ahead of the opener, if there is one.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub coulter: Option<Coulter>,
    /// The row cleaner.
    pub cleaner: RowCleaner,
    /// The closing wheels that are fitted.
    pub closing: ClosingPair,
    /// Upward force of the closing wheels, measured by lifting them, 0 to 2000 lbf.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub closing_lift: Option<Quantity>,
    /// The parallel arms.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub arms: Option<ParallelArms>,
}

crate::tagged_union! {
    /// Where the seed is carried.
    #[schema(examples(json!({"kind": "per_row", "volume": {"value": 1.6, "unit": "[bu_us]"}})))]
    pub enum Hopper by "kind" {
        /// On the frame; the units carry next to nothing.
        Central = "central" {},
        /// On each unit.
        PerRow = "per_row" {
            /// Content of one full hopper, up to 5 bushels.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            volume: Option<Quantity>,
        },
    }
}

/// A pair of opener discs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OpenerDisc {
    /// Diameter when new, 8 to 30 in.
    pub new_diameter: Quantity,
    /// Diameter as measured.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub measured: Option<Quantity>,
    /// Diameter at which the machine's manual says to replace.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub manual_limit: Option<Quantity>,
}

/// A coulter ahead of the opener.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Coulter {
    /// What carries it.
    pub mount: CoulterMount,
    /// How much higher its edge runs than the opener's, -1 to 3 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub above_opener: Option<Quantity>,
}

/// The parallel arms. A measured angle wins over a measured bar height.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ParallelArms {
    /// Angle below the horizontal, toolbar to unit, -30 to 30 degrees; positive hangs lower.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub angle: Option<Quantity>,
    /// How much too high the bar runs while planting, -8 to 8 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bar_too_high: Option<Quantity>,
    /// Length of an arm, 6 to 40 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub length: Option<Quantity>,
}

crate::tagged_union! {
    /// What adds force to the row units.
    #[schema(examples(json!({"kind": "spring", "notches": [
        {"label": "1", "force": {"value": 0, "unit": "[lbf_av]"}},
        {"label": "2", "force": {"value": 125, "unit": "[lbf_av]"}}
    ]})))]
    pub enum DownForceSource by "kind" {
        /// The weight of the unit alone.
        WeightOnly = "weight_only" {},
        /// Springs with notches.
        Spring = "spring" {
            /// The notches, by rising force.
            #[schema(min_items = 1, max_items = 60)]
            notches: Vec<SpringNotch>,
        },
        /// Air bags; add a calibration to get pressures.
        AirBag = "air_bag" {},
        /// A hydraulic cylinder on each unit; a calibration wins over bore and rod.
        Hydraulic = "hydraulic" {
            /// The cylinder.
            cylinder: Cylinder,
            /// Greatest force with which it can lift the unit, 0 to 500 lbf.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            lift: Option<Quantity>,
        },
    }
}

/// One position of a down-force spring.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SpringNotch {
    /// What is written on the bracket.
    #[schema(
        min_length = 1,
        max_length = 20,
        example = "2",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub label: String,
    /// The force it gives at the gauge wheels of a row, -500 to 1200 lbf.
    pub force: Quantity,
}

/// A hydraulic cylinder on a row unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Cylinder {
    /// Diameter of the bore, 0.25 to 6 in.
    pub bore: Quantity,
    /// Diameter of the rod, less than the bore.
    pub rod: Quantity,
    /// The side of the piston that pushes the unit down.
    pub side: CylinderSide,
    /// Force at the gauge wheels for each unit of force at the cylinder, from its lever; 1 without
    /// one.
    #[schema(minimum = 0.1, maximum = 10, example = 1.0)]
    pub lever_ratio: f64,
    /// Greatest working pressure, up to 4000 psi.
    pub most_pressure: Quantity,
}

/// A part of the frame that can lift by itself: a wing, the centre, or the whole bar.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FrameSection {
    /// What people call it.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "left wing",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Rows it carries.
    #[schema(minimum = 1, maximum = 64, example = 2)]
    pub rows: u16,
    /// Weight it carries with empty tanks, without the row units, as a force, up to 80000 lbf.
    pub empty_weight: Quantity,
    /// The part of that weight that the tractor carries.
    pub on_hitch: Quantity,
    /// Wheels that carry it.
    #[schema(minimum = 0, maximum = 24, example = 2)]
    pub wheels: u16,
}

/// A depth lever with even steps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DepthLever {
    /// Depth at the first notch with new discs, 0.25 to 5 in.
    pub first: Quantity,
    /// Depth added by each further notch, 0.05 to 1 in.
    pub step: Quantity,
    /// How many notches there are.
    #[schema(minimum = 1, maximum = 60, example = 14)]
    pub notches: u8,
}

mirror! {
    /// What carries the coulter.
    CoulterMount = domain::CoulterMount { Unit Frame }

    /// The row cleaner: none, floating on its own arm, or fixed to the unit.
    RowCleaner = domain::Cleaner { None Floating Fixed }

    /// A pair of closing wheels.
    ClosingPair = domain::ClosingPair { Rubber CastIron SpikedAndRubber TwoSpiked Finger }

    /// The side of a piston: the whole bore, or the ring around the rod.
    CylinderSide = domain::Side { Cap Rod }
}
