//! What goes over the wire.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::parts::{RowUnitParts, RowUnitRanges};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::trace::TraceStep;

/// One row unit at work. What is absent is taken from the coefficients or, where said so, is
/// nothing.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "depth": {"value": 50, "unit": "mm"},
    "disc_diameter": {"value": 381, "unit": "mm"},
    "coulter_above_opener": {"value": 6, "unit": "mm"},
    "unit_weight": {"value": 778, "unit": "N"},
    "seed_weight": {"value": 300, "unit": "N"},
    "attachment_weight": {"value": 350, "unit": "N"},
    "down_force": {"value": 757, "unit": "N"},
    "draft": {"value": 1820, "unit": "N"},
    "arm_angle": {"value": 0, "unit": "deg"},
    "opener_resistance": {"value": 500, "unit": "N"},
    "coulter_resistance": {"value": 900, "unit": "N"},
    "depth_exponent": 1,
    "soil_state": 1,
    "residue": {"value": 0, "unit": "%"},
    "cleaner_lift": {"value": 0, "unit": "N"},
    "closing_lift": {"value": 110, "unit": "N"},
    "load_wanted": {"value": 783, "unit": "N"},
    "scatter": {"value": 476, "unit": "N"}
})))]
pub(super) struct RowUnitForcesIn {
    /// Furrow depth. Bound: `planting_depth`.
    pub depth: Quantity,
    /// Diameter of the opener disc when new; 381 mm (15 in) when absent. Bound: `disc_diameter`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub disc_diameter: Option<Quantity>,
    /// How much higher the edge of a coulter on the unit runs than the opener's; no coulter on the
    /// unit when absent. Bound: `coulter_above_opener`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub coulter_above_opener: Option<Quantity>,
    /// Weight of the bare unit. Bound: `unit_weight`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub unit_weight: Option<Quantity>,
    /// Weight of the seed on the unit; none when absent. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub seed_weight: Option<Quantity>,
    /// Weight of what hangs on the unit. Bound: `attachment_weight`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub attachment_weight: Option<Quantity>,
    /// Down force that is set; none when absent. Bound: `down_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub down_force: Option<Quantity>,
    /// Horizontal pull of the row. Bound: `row_draft`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub draft: Option<Quantity>,
    /// Angle of the arms below the horizontal; level when absent. Bound: `arm_angle`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub arm_angle: Option<Quantity>,
    /// Upward soil reaction on a 381 mm opener at 50 mm in moist soil, `K_o`. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub opener_resistance: Option<Quantity>,
    /// Upward soil reaction on a coulter at 50 mm in moist soil, `K_c`. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub coulter_resistance: Option<Quantity>,
    /// Exponent of depth, `n`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.5, maximum = 1.5, example = 1)]
    pub depth_exponent: Option<f64>,
    /// Soil-state factor, `s_m`: 0.8 wet, 1 moist, 1.6 dry, 2.4 hard and dry; moist when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.6, maximum = 3, example = 1)]
    pub soil_state: Option<f64>,
    /// Share of the path under residue or mat; bare ground when absent. Bound: `share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub residue: Option<Quantity>,
    /// Upward force of the row cleaner; none when absent. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub cleaner_lift: Option<Quantity>,
    /// Upward force of the closing wheels. Bound: `row_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub closing_lift: Option<Quantity>,
    /// Load that is wanted on the gauge wheels; the load that keeps contact 95 % of the time when
    /// absent. Bound: `gauge_wheel_load`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub load_wanted: Option<Quantity>,
    /// Standard deviation of the load along the row; the coefficient `load_scatter` when absent.
    /// Bound: `gauge_wheel_load`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub scatter: Option<Quantity>,
}

/// The balance of one row unit.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "parts": {
        "unit_weight": {"value": 174.901, "unit": "[lbf_av]"},
        "seed_weight": {"value": 67.4427, "unit": "[lbf_av]"},
        "attachment_weight": {"value": 78.6831, "unit": "[lbf_av]"},
        "down_force": {"value": 170.18, "unit": "[lbf_av]"},
        "arm_force": {"value": 0, "unit": "[lbf_av]"},
        "opener": {"value": 112.404, "unit": "[lbf_av]"},
        "coulter": {"value": 178.049, "unit": "[lbf_av]"},
        "cleaner_lift": {"value": 0, "unit": "[lbf_av]"},
        "closing_lift": {"value": 24.729, "unit": "[lbf_av]"}
    },
    "balance": {"value": 176.025, "unit": "[lbf_av]"},
    "gauge_wheel_load": {"value": 176.025, "unit": "[lbf_av]"},
    "rides_out": false,
    "contact_loss": {"value": 4.99892, "unit": "%"},
    "load_wanted": {"value": 176.025, "unit": "[lbf_av]"},
    "down_force_needed": {"value": 170.18, "unit": "[lbf_av]"},
    "ranges": {
        "parts": [
            {"force": "unit_weight", "low": {"value": 175, "unit": "[lbf_av]"}, "likely": {"value": 175, "unit": "[lbf_av]"}, "high": {"value": 175, "unit": "[lbf_av]"}},
            {"force": "attachments", "low": {"value": 79, "unit": "[lbf_av]"}, "likely": {"value": 79, "unit": "[lbf_av]"}, "high": {"value": 79, "unit": "[lbf_av]"}},
            {"force": "opener", "low": {"value": 112, "unit": "[lbf_av]"}, "likely": {"value": 112, "unit": "[lbf_av]"}, "high": {"value": 112, "unit": "[lbf_av]"}},
            {"force": "coulter", "low": {"value": 178, "unit": "[lbf_av]"}, "likely": {"value": 178, "unit": "[lbf_av]"}, "high": {"value": 178, "unit": "[lbf_av]"}},
            {"force": "cleaner", "low": {"value": 0, "unit": "[lbf_av]"}, "likely": {"value": 0, "unit": "[lbf_av]"}, "high": {"value": 0, "unit": "[lbf_av]"}},
            {"force": "closing", "low": {"value": 25, "unit": "[lbf_av]"}, "likely": {"value": 25, "unit": "[lbf_av]"}, "high": {"value": 25, "unit": "[lbf_av]"}},
            {"force": "arms", "low": {"value": 0, "unit": "[lbf_av]"}, "likely": {"value": 0, "unit": "[lbf_av]"}, "high": {"value": 0, "unit": "[lbf_av]"}}
        ],
        "gauge_wheel_load_low": {"value": 176.025, "unit": "[lbf_av]"},
        "gauge_wheel_load_high": {"value": 176.025, "unit": "[lbf_av]"},
        "down_force_needed_low": {"value": 170.18, "unit": "[lbf_av]"},
        "down_force_needed_high": {"value": 170.18, "unit": "[lbf_av]"}
    },
    "defaults": [],
    "trace": [
        {
            "step": "opener",
            "formula": "R_o = K_o (d / 50 mm)^n s_m f_res (D / 381 mm)",
            "inputs": [
                {"symbol": "K_o", "value": 500, "unit": "N"},
                {"symbol": "d", "value": 50, "unit": "mm"},
                {"symbol": "D", "value": 381, "unit": "mm"},
                {"symbol": "n", "value": 1, "unit": "1"},
                {"symbol": "s_m", "value": 1, "unit": "1"},
                {"symbol": "f_res", "value": 1, "unit": "1"}
            ],
            "value": 500,
            "unit": "N",
            "source": "assumption, no independent source",
            "mark": "assumption",
            "mark_words": "assumption"
        },
        {
            "step": "coulter on the unit",
            "formula": "R_c = K_c (d_c / 50 mm)^n s_m f_res",
            "inputs": [
                {"symbol": "K_c", "value": 900, "unit": "N"},
                {"symbol": "d_c", "value": 44, "unit": "mm"},
                {"symbol": "n", "value": 1, "unit": "1"},
                {"symbol": "s_m", "value": 1, "unit": "1"},
                {"symbol": "f_res", "value": 1, "unit": "1"}
            ],
            "value": 792,
            "unit": "N",
            "source": "rule of thumb of several US extension bulletins (from memory, source to confirm)",
            "mark": "from_memory",
            "mark_words": "from memory, source to confirm"
        },
        {
            "step": "what the arms add to the load",
            "formula": "-H tan(theta)",
            "inputs": [
                {"symbol": "H", "value": 1820, "unit": "N"},
                {"symbol": "theta", "value": 0, "unit": "deg"}
            ],
            "value": 0,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "balance",
            "formula": "W_u + W_s + W_att + F_dp + F_arms - R_o - R_c - R_rc - R_cl",
            "inputs": [
                {"symbol": "W_u", "value": 778, "unit": "N"},
                {"symbol": "W_s", "value": 300, "unit": "N"},
                {"symbol": "W_att", "value": 350, "unit": "N"},
                {"symbol": "F_dp", "value": 757, "unit": "N"},
                {"symbol": "F_arms", "value": 0, "unit": "N"},
                {"symbol": "R_o", "value": 500, "unit": "N"},
                {"symbol": "R_c", "value": 792, "unit": "N"},
                {"symbol": "R_rc", "value": 0, "unit": "N"},
                {"symbol": "R_cl", "value": 110, "unit": "N"}
            ],
            "value": 783,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "gauge-wheel load",
            "formula": "max(0, balance)",
            "inputs": [{"symbol": "balance", "value": 783, "unit": "N"}],
            "value": 783,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "share of the time without contact",
            "formula": "Phi(-G / sigma)",
            "inputs": [
                {"symbol": "G", "value": 783, "unit": "N"},
                {"symbol": "sigma", "value": 476, "unit": "N"}
            ],
            "value": 0.049_989_2,
            "unit": "1",
            "source": "normal distribution of the load (an assumption) with the published spread",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "down force for the load that is wanted",
            "formula": "G_wanted - (balance - F_dp)",
            "inputs": [
                {"symbol": "G_wanted", "value": 783, "unit": "N"},
                {"symbol": "balance", "value": 783, "unit": "N"},
                {"symbol": "F_dp", "value": 757, "unit": "N"}
            ],
            "value": 757,
            "unit": "N",
            "source": "statics",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct RowUnitForces {
    /// The parts of the balance.
    pub parts: RowUnitParts,
    /// Their sum; negative when the unit rides out.
    pub balance: Quantity,
    /// Load on the gauge wheels of the row; nothing when the unit rides out.
    pub gauge_wheel_load: Quantity,
    /// Whether the unit rides out of the soil and depth is lost.
    #[schema(example = false)]
    pub rides_out: bool,
    /// Share of the time that the wheels are off the ground.
    pub contact_loss: Quantity,
    /// Load that is wanted.
    pub load_wanted: Quantity,
    /// Down force for that load; negative when the unit must be lifted.
    pub down_force_needed: Quantity,
    /// How far these may lie from their likely figures.
    pub ranges: RowUnitRanges,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 100)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 100)]
    pub trace: Vec<TraceStep>,
}
