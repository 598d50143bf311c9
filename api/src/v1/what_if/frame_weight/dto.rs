//! What goes over the wire.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::planters::frame::GroundDrive;
use crate::v1::recommendations::FrameVerdict;
use crate::v1::recommendations::answer::{DriveOut, FrameStageOut};
use crate::v1::trace::TraceStep;

/// The sections of a frame, and what each row does to it.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "sections": [{
        "name": "whole bar", "rows": 8, "wheels": 4,
        "empty_weight": {"value": 7000, "unit": "[lbf_av]"},
        "on_hitch": {"value": 1000, "unit": "[lbf_av]"}
    }],
    "down_force": {"value": 400, "unit": "[lbf_av]"},
    "frame_coulter": {"value": 300, "unit": "[lbf_av]"},
    "ground_drive": {"section": "whole bar", "pull": {"value": 150, "unit": "[lbf_av]"}}
})))]
pub(in crate::v1::what_if) struct FrameWeightIn {
    /// The parts that can lift by themselves: wings, centre, or the whole bar.
    #[schema(min_items = 1, max_items = 20)]
    pub sections: Vec<FrameSectionIn>,
    /// Down force on each row. Bound: `down_force`.
    pub down_force: Quantity,
    /// Upward reaction of a coulter that hangs on the frame, for each row; none when absent.
    /// Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub frame_coulter: Option<Quantity>,
    /// Horizontal pull of one row; needed with `arm_angle`. Bound: `row_draft`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub draft: Option<Quantity>,
    /// Angle of the arms below the horizontal; level when absent. Bound: `arm_angle`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub arm_angle: Option<Quantity>,
    /// Weight that must stay on the wheels of a section; the coefficient `frame_reserve` when
    /// absent. Bound: `frame_weight`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub reserve: Option<Quantity>,
    /// The wheels that drive the seed meters; none when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub ground_drive: Option<GroundDrive>,
}

/// A part of the frame that can lift by itself.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "name": "left wing", "rows": 4, "wheels": 2,
    "empty_weight": {"value": 3500, "unit": "[lbf_av]"}, "on_hitch": {"value": 0, "unit": "[lbf_av]"}
})))]
pub(super) struct FrameSectionIn {
    /// What people call it.
    #[schema(
        min_length = 1,
        max_length = 120,
        example = "left wing",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub name: String,
    /// Rows that it carries.
    #[schema(minimum = 1, maximum = 64, example = 4)]
    pub rows: u32,
    /// Wheels that carry it.
    #[schema(minimum = 1, maximum = 64, example = 2)]
    pub wheels: u32,
    /// Weight that it carries with empty tanks, without the row units. Bound: `frame_weight`.
    pub empty_weight: Quantity,
    /// The part of that weight that the tractor carries. Bound: `frame_weight`.
    pub on_hitch: Quantity,
}

/// Whether the frame holds the units down.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "verdict": "holds",
    "meaning": "every section keeps its reserve of weight on its wheels, with empty tanks",
    "sections": [
        {
            "name": "whole bar",
            "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
            "left_on_each_wheel": {"value": 100, "unit": "[lbf_av]"},
            "most_down_force": {"value": 437.495, "unit": "[lbf_av]"},
            "lifts_at": {"value": 450, "unit": "[lbf_av]"}
        }
    ],
    "stages": [
        {"section": "whole bar", "what": "ground_drive_slips", "at": {"value": 408, "unit": "[lbf_av]"}, "reached": false},
        {"section": "whole bar", "what": "reserve_used_up", "at": {"value": 437, "unit": "[lbf_av]"}, "reached": false},
        {"section": "whole bar", "what": "lifts", "at": {"value": 450, "unit": "[lbf_av]"}, "reached": false}
    ],
    "ground_drive": {
        "section": "whole bar", "verdict": "may_slip",
        "meaning": "the drive wheels may slip where the ground is slick: count seed behind them, and add weight on that section",
        "needs": {"value": 333, "unit": "[lbf_av]"},
        "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
        "slips_from": {"value": 388, "unit": "[lbf_av]"},
        "slips_at": {"value": 408, "unit": "[lbf_av]"},
        "slips_at_latest": {"value": 419, "unit": "[lbf_av]"}
    },
    "defaults": [
        {
            "name": "frame_reserve",
            "symbol": "N_min",
            "what": "Weight that must stay on the wheels of a frame section, tanks empty",
            "value": 445,
            "low": 222,
            "high": 890,
            "unit": "N",
            "mark": "assumption",
            "mark_words": "assumption",
            "source": "assumption, no independent source",
            "corrected_by_digs": false
        },
        {
            "name": "drive_friction",
            "symbol": "mu",
            "what": "Grip of a ground-drive wheel: the pull it gives for each unit of weight on it",
            "value": 0.45,
            "low": 0.3,
            "high": 0.6,
            "unit": "1",
            "mark": "assumption",
            "mark_words": "assumption",
            "source": "assumption, no independent source",
            "corrected_by_digs": false
        }
    ],
    "trace": [
        {
            "step": "weight left on the wheels",
            "formula": "W_frame - T_hitch - rows (F_dp + R_coulter - H tan(theta))",
            "inputs": [
                {"symbol": "W_frame", "value": 31137.6, "unit": "N"},
                {"symbol": "T_hitch", "value": 4448.22, "unit": "N"},
                {"symbol": "rows", "value": 8, "unit": "1"},
                {"symbol": "F_dp", "value": 1779.29, "unit": "N"},
                {"symbol": "R_coulter", "value": 1334.47, "unit": "N"},
                {"symbol": "H tan(theta)", "value": 0, "unit": "N"}
            ],
            "value": 1779.29,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "down force at which the ground drive slips",
            "formula": "(W_frame - T_hitch) / rows - R_coulter + H tan(theta) - pull / (mu rows)",
            "inputs": [
                {"symbol": "W_frame", "value": 31137.6, "unit": "N"},
                {"symbol": "T_hitch", "value": 4448.22, "unit": "N"},
                {"symbol": "rows", "value": 8, "unit": "1"},
                {"symbol": "R_coulter", "value": 1334.47, "unit": "N"},
                {"symbol": "H tan(theta)", "value": 0, "unit": "N"},
                {"symbol": "pull", "value": 667.233, "unit": "N"},
                {"symbol": "mu", "value": 0.45, "unit": "1"}
            ],
            "value": 1816.36,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(in crate::v1::what_if) struct FrameWeight {
    /// The verdict, by the lightest section.
    pub verdict: FrameVerdict,
    /// What it means.
    #[schema(example = "every section keeps its reserve of weight on its wheels")]
    pub meaning: &'static str,
    /// Section by section.
    #[schema(max_items = 20)]
    pub sections: Vec<SectionWeight>,
    /// What happens as the down force rises, the first first.
    #[schema(max_items = 100)]
    pub stages: Vec<FrameStageOut>,
    /// Whether the wheels that drive the seed meters keep their grip.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ground_drive: Option<DriveOut>,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1000)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// What is left on the wheels of a section.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "whole bar", "left_on_wheels": {"value": 400, "unit": "[lbf_av]"},
    "left_on_each_wheel": {"value": 100, "unit": "[lbf_av]"}, "most_down_force": {"value": 437.495, "unit": "[lbf_av]"},
    "lifts_at": {"value": 450, "unit": "[lbf_av]"}
})))]
pub(super) struct SectionWeight {
    /// Its name.
    #[schema(example = "whole bar")]
    pub name: String,
    /// Weight left on its wheels together; negative when it lifts.
    pub left_on_wheels: Quantity,
    /// The same for each wheel.
    pub left_on_each_wheel: Quantity,
    /// The most down force on each row at which the reserve stays on the wheels.
    pub most_down_force: Quantity,
    /// Down force on each row at which the section lifts.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lifts_at: Option<Quantity>,
}
