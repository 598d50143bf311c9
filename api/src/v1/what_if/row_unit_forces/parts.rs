//! The parts of the balance on the wire, and their ranges.

use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::answer::ForceOut;

/// What acts on a row unit, down or up.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "unit_weight": {"value": 174.901, "unit": "[lbf_av]"},
    "seed_weight": {"value": 67.4427, "unit": "[lbf_av]"},
    "attachment_weight": {"value": 78.6831, "unit": "[lbf_av]"},
    "down_force": {"value": 170.18, "unit": "[lbf_av]"},
    "arm_force": {"value": 0, "unit": "[lbf_av]"},
    "opener": {"value": 112.404, "unit": "[lbf_av]"},
    "coulter": {"value": 178.049, "unit": "[lbf_av]"},
    "cleaner_lift": {"value": 0, "unit": "[lbf_av]"},
    "closing_lift": {"value": 24.729, "unit": "[lbf_av]"}
})))]
pub(super) struct RowUnitParts {
    /// Down: the bare unit.
    pub unit_weight: Quantity,
    /// Down: seed on the unit.
    pub seed_weight: Quantity,
    /// Down: what hangs on the unit.
    pub attachment_weight: Quantity,
    /// Down: force that is set.
    pub down_force: Quantity,
    /// Down, or up where negative: what the arms add.
    pub arm_force: Quantity,
    /// Up: the openers.
    pub opener: Quantity,
    /// Up: a coulter on the unit.
    pub coulter: Quantity,
    /// Up: the row cleaner.
    pub cleaner_lift: Quantity,
    /// Up: the closing wheels.
    pub closing_lift: Quantity,
}

/// Ranges of a balance, 5 to 95 %. What was given has no width, what stood in has the range of its
/// coefficient; residue has the range of what it costs.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "parts": [{
        "force": "opener", "low": {"value": 75, "unit": "[lbf_av]"},
        "likely": {"value": 112, "unit": "[lbf_av]"}, "high": {"value": 238, "unit": "[lbf_av]"}
    }],
    "gauge_wheel_load_low": {"value": 50.4, "unit": "[lbf_av]"},
    "gauge_wheel_load_high": {"value": 213.3, "unit": "[lbf_av]"},
    "down_force_needed_low": {"value": 132.9, "unit": "[lbf_av]"},
    "down_force_needed_high": {"value": 295.8, "unit": "[lbf_av]"}
})))]
pub(super) struct RowUnitRanges {
    /// Each part that has a range or could have one.
    #[schema(max_items = 20)]
    pub parts: Vec<ForceOut>,
    /// 5 % of the load on the gauge wheels; nothing where the unit rides out.
    pub gauge_wheel_load_low: Quantity,
    /// 95 % of the load on the gauge wheels.
    pub gauge_wheel_load_high: Quantity,
    /// 5 % of the down force for the load that is wanted.
    pub down_force_needed_low: Quantity,
    /// 95 % of the down force for the load that is wanted.
    pub down_force_needed_high: Quantity,
}
