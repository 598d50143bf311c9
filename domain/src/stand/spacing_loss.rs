//! What uneven spacing of corn may cost, by two published figures.

use serde::{Deserialize, Serialize};

use crate::provenance::{Input, Mark, Step, sources};
use crate::quantity::{Length, Measured};

/// Bushels of corn an acre lost to a standard deviation of spacing.
///
/// Older trials (plots of the 1980s and 1990s); later ones often found less. Guidance only.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SpacingLoss {
    /// 2.5 bu/ac for each inch above the good 2 in (Nielsen 1991).
    pub low: f64,
    /// 4 bu/ac for each inch above 2 in (Carlson, Doerge and Clay).
    pub high: f64,
    /// The calculations, one a source.
    pub steps: Vec<Step>,
}

/// Standard deviation of spacing that costs nothing, inches.
const GOOD: f64 = 2.0;
/// The trials behind both figures had no rows much worse than this, inches (this project's reading).
const WORST: f64 = 5.0;
const NIELSEN: f64 = 2.5;
const GUIDELINE: f64 = 4.0;

/// Loss for a standard deviation of plant spacing: `max(0, s - 2 in)` times 2.5 and 4 bu/ac.
///
/// `None` above 5 in: neither figure is carried further.
pub fn spacing_loss(sd: Length) -> Option<SpacingLoss> {
    let inches = sd.si() / 0.0254;
    if inches > WORST {
        return None;
    }
    let above = (inches - GOOD).max(0.0);
    let step = |per_inch: f64, source: &'static str| Step {
        step: "corn lost to uneven spacing".into(),
        formula: "max(0, s - 2) k".into(),
        inputs: vec![
            Input::new("s", inches, "[in_i]"),
            Input::new("k", per_inch, "[bu_us]/[acr_us]"),
        ],
        value: above * per_inch,
        unit: "[bu_us]/[acr_us]".into(),
        low: None,
        high: None,
        source: source.into(),
        mark: Mark::Read,
    };
    Some(SpacingLoss {
        low: above * NIELSEN,
        high: above * GUIDELINE,
        steps: vec![
            step(NIELSEN, sources::NIELSEN_1991),
            step(GUIDELINE, sources::SPACING_GUIDELINE),
        ],
    })
}
