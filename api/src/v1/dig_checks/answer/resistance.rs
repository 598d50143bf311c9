//! What free gauge wheels say about the soil.

use domain::dig::ImpliedResistance;
use domain::quantity::{Force, Measured};
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::Show;

/// The resistance that free gauge wheels imply, at 50 mm depth in the state the soil was in.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = ImpliedResistance, examples(json!({
    "value": {"value": 152, "unit": "[lbf_av]"},
    "low": {"value": 60, "unit": "[lbf_av]"},
    "high": {"value": 230, "unit": "[lbf_av]"},
    "least_possible": {"value": 34, "unit": "[lbf_av]"},
    "most_possible": {"value": 360, "unit": "[lbf_av]"},
    "plausible": true
})))]
pub struct ResistanceOut {
    /// With every other part of the unit at its likely figure; negative when those parts carry more
    /// than all the weight.
    pub value: Quantity,
    /// Low end (5 %) over what is uncertain in the other parts.
    pub low: Quantity,
    /// High end (95 %).
    pub high: Quantity,
    /// Least that soil in this state can be.
    pub least_possible: Quantity,
    /// Most that it can be.
    pub most_possible: Quantity,
    /// Whether the two ranges meet at all.
    pub plausible: bool,
}

impl ResistanceOut {
    pub(super) fn of(it: ImpliedResistance, show: Show) -> Self {
        let ImpliedResistance { value, low, high, least, most, plausible } = it;
        let force = |newtons| show.down_force(Force::from_si(newtons));
        Self {
            value: force(value),
            low: force(low),
            high: force(high),
            least_possible: force(least),
            most_possible: force(most),
            plausible,
        }
    }
}
