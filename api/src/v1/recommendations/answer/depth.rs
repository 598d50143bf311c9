//! The depth of the furrow, in the caller's units.

use domain::planter::LeverPosition;
use domain::quantity::{Length, Measured};
use domain::settings::{DepthAdvice, DepthMove, Inputs, Recommendation as Worked};
use serde::Serialize;
use utoipa::ToSchema;

use super::example_at;
use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{Reason, reasons};

/// The depth of the furrow, measured from the soil under the mat.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/depth"))))]
pub struct DepthOut {
    /// The depth to set: the advisor's if one was decided on, else the advised.
    pub value: Quantity,
    /// The depth that the engine advises.
    pub advised: Quantity,
    /// Whether the advisor decided on the depth.
    pub decided: bool,
    /// Shallowest that is safe here.
    pub safe_low: Quantity,
    /// Deepest that is safe here.
    pub safe_high: Quantity,
    /// Whether the depth to set is safe here.
    pub is_safe: bool,
    /// The usual depth of the crop, before anything moved it; absent in answers of an older engine.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub usual: Option<Quantity>,
    /// What moved the advised depth away from the usual one. The sum is cut off at the ends of what
    /// is safe.
    #[schema(max_items = 100)]
    pub moves: Vec<DepthMoveOut>,
    /// The notch of the lever, where its steps are known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub lever: Option<LeverOut>,
    /// What the lever must say: as decided after a dig, else the depth and what worn discs lose.
    pub lever_depth: Quantity,
    /// Why the advised depth.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

/// A micrometre: depths closer than this are the same.
const SAME_DEPTH: f64 = 1e-6;

impl DepthOut {
    pub(super) fn of(worked: &Worked, inputs: &Inputs, show: Show) -> Self {
        let advice = &worked.depth;
        let (used, choice) = (worked.depth_used, &advice.choice);
        let worn = inputs.planter.unit.opener.depth_lost();
        let lost = inputs.goals.lever.map_or(worn, |lever| lever - used);
        let inside = used.si() >= choice.safe_low.si() - SAME_DEPTH
            && used.si() <= choice.safe_high.si() + SAME_DEPTH;
        Self {
            value: show.depth(used),
            advised: show.depth(choice.start),
            decided: inputs.goals.depth.is_some(),
            safe_low: show.depth(choice.safe_low),
            safe_high: show.depth(choice.safe_high),
            is_safe: inside,
            usual: usual(choice, show),
            moves: moves(choice, show),
            lever: lever_of(choice, inputs, used, lost)
                .map(|position| LeverOut::of(position, used, show)),
            lever_depth: show.depth(used + lost),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// The notch that was advised; another where the advisor decided on the depth or on the lever.
fn lever_of(
    choice: &DepthAdvice,
    inputs: &Inputs,
    used: Length,
    lost: Length,
) -> Option<LeverPosition> {
    if inputs.goals.depth.is_none() && inputs.goals.lever.is_none() {
        return choice.lever;
    }
    inputs.planter.depth_lever.and_then(|lever| lever.nearest(used, lost))
}

/// The usual depth, where the engine kept it.
pub fn usual(choice: &DepthAdvice, show: Show) -> Option<Quantity> {
    (choice.base.si() > SAME_DEPTH).then(|| show.depth(choice.base))
}

/// What moved the depth.
pub fn moves(choice: &DepthAdvice, show: Show) -> Vec<DepthMoveOut> {
    choice.moves.iter().map(|it| DepthMoveOut::of(it, show)).collect()
}

/// One condition that moves the depth.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "by": {"value": 0.25, "unit": "[in_i]"},
    "because": {
        "text": "coarse soil dries fast: a little deeper",
        "mark": "common_practice",
        "mark_words": "common practice, no source",
        "source": "common practice, no source"
    }
})))]
pub struct DepthMoveOut {
    /// By how much; negative is shallower.
    pub by: Quantity,
    /// Why.
    pub because: Reason,
}

impl DepthMoveOut {
    fn of(it: &DepthMove, show: Show) -> Self {
        Self { by: show.found(it.by), because: it.because.clone().into() }
    }
}

/// A notch of the depth lever.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "notch": 6,
    "depth": {"value": 1.94, "unit": "[in_i]"},
    "off": {"value": -0.06, "unit": "[in_i]"}
})))]
pub struct LeverOut {
    /// The notch, counted from 1 at the shallow end.
    #[schema(minimum = 1, example = 6)]
    pub notch: u8,
    /// The depth it gives with the discs as they are.
    pub depth: Quantity,
    /// By how much that is deeper than the depth to set; negative is shallower.
    pub off: Quantity,
}

impl LeverOut {
    /// In these units, held against the depth that is wanted.
    pub fn of(position: LeverPosition, wanted: Length, show: Show) -> Self {
        Self {
            notch: position.notch,
            depth: show.depth(position.depth),
            off: show.found(position.depth - wanted),
        }
    }
}
