//! Closing wheels: which pair, how much spring, what to try on two rows first.
//!
//! What the field asks for times what a pair is good for, criterion by criterion; `asks` holds the
//! one, `grades` the other, `ranking` puts the pairs in order and says why.

mod asks;
mod grades;
mod ranking;
mod steps;
mod words;

pub use asks::Ask;
pub use grades::{Criterion, Grade};
pub use ranking::{AtHand, RankedPair};
pub use steps::closing_steps;

use serde::{Deserialize, Serialize};

use self::asks::Slot;
use self::ranking::rank;
use crate::conditions::{Conditions, CoverState, Moisture, mat_fraction};
use crate::planter::{ClosingPair, Planter};
use crate::provenance::{Advice, Assumed, Coefficients, Mark, Reason, sources};
use crate::quantity::{Length, Measured, Speed};

/// Tension of the closing spring.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ClosingSpring {
    /// No spring: the wheels float by their weight.
    None,
    /// The lightest notch that closes.
    Light,
    /// A middle notch.
    Medium,
}

/// The advice on closing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClosingAdvice {
    /// The pair to run, of those that are fitted or owned.
    pub pair: ClosingPair,
    /// Whether that pair must be fitted first.
    pub change: bool,
    /// How tight.
    pub spring: ClosingSpring,
    /// A pair to try on two rows before the rest is changed; owned, or worth borrowing.
    pub try_on_two_rows: Option<ClosingPair>,
    /// Whether to hang a drag chain behind two spiked wheels.
    pub drag_chain: bool,
    /// What this field asks for.
    #[serde(default)]
    pub asks: Vec<Ask>,
    /// Every pair that is at hand, and those that nobody owns but that suit better, the best
    /// first, each with why it stands above the next.
    #[serde(default)]
    pub ranking: Vec<RankedPair>,
}

/// The closing wheels of a planter.
#[derive(Debug, Clone, Copy)]
pub struct ClosingWheels<'a> {
    /// The pair that is fitted.
    pub fitted: ClosingPair,
    /// Pairs that hang in the shed.
    pub owned: &'a [ClosingPair],
    /// Rows of the planter.
    pub rows: u16,
}

impl<'a> From<&'a Planter> for ClosingWheels<'a> {
    fn from(planter: &'a Planter) -> Self {
        let Planter { rows, unit, closing_owned, .. } = planter;
        Self { fitted: unit.closing, owned: closing_owned, rows: *rows }
    }
}

/// How deep and how fast the slot is made.
#[derive(Debug, Clone, Copy)]
pub struct Pass {
    /// Depth of the furrow.
    pub depth: Length,
    /// Ground speed.
    pub speed: Speed,
}

/// Works out how to close the slot.
///
/// Each pair is graded on six criteria, each criterion weighs as much as this field asks for it
/// (rows `closing_...` and `ask_...` of the table of coefficients). Of the pairs that are fitted or
/// owned, the best is run; a better one that nobody owns is named as worth a try on two rows.
/// Every pound of closing force comes off the gauge wheels.
pub fn closing<'w>(
    c: &Conditions,
    wheels: impl Into<ClosingWheels<'w>>,
    pass: Pass,
    k: &Coefficients,
) -> Advice<ClosingAdvice> {
    let wheels = wheels.into();
    let mat = mat_fraction(c, k).likely;
    let matted = mat >= k.matted.value;
    let slot = Slot::of(c, matted);
    let asks = slot.asks(matted, k);
    let order = rank(wheels, &asks, k);
    let fitted = wheels.fitted;
    let pair = order
        .iter()
        .find(|ranked| ranked.at_hand != AtHand::NotOwned)
        .map_or(fitted, |ranked| ranked.pair);
    let change = pair != fitted;
    let best = order.first().map_or(pair, |ranked| ranked.pair);
    let try_on_two_rows = if change { Some(pair) } else { (best != pair).then_some(best) };
    let place = words::Place { wheels, matted };
    let mut watch = vec![words::LESS_LOAD];
    watch.extend(try_on_two_rows.map(|other| words::try_first(other, change, wheels.rows)));
    watch.extend(words::close_call(&order, pair, k));
    watch.extend(words::cautions_for(pair, c, &place));
    watch.extend(words::by_pass(pair, slot, pass, k));
    Advice {
        choice: ClosingAdvice {
            pair,
            change,
            spring: slot.spring(pair),
            try_on_two_rows,
            drag_chain: pair == ClosingPair::TwoSpiked && !gathers_stems(c),
            asks,
            ranking: ranking::shown(order),
        },
        because: words::because(slot, pair, matted),
        watch,
        assumed: assumed_of(c),
    }
}

/// Whether stems are loose or long enough to gather on a chain.
fn gathers_stems(c: &Conditions) -> bool {
    let state = c.cover.and_then(|cover| cover.state);
    matches!(state, Some(CoverState::GreenStanding | CoverState::GreenRolled | CoverState::Dying))
}

fn assumed_of(c: &Conditions) -> Vec<Assumed> {
    let gap = |what: &'static str, used: &'static str, instead: &'static str| Assumed {
        what: what.into(),
        used: used.into(),
        range: None,
        instead: instead.into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    };
    let mut assumed = Vec::new();
    if c.moisture.is_none() {
        assumed.push(gap(
            "moisture at seed depth",
            "moist",
            "squeeze soil from seed depth and report how it feels",
        ));
    }
    if c.texture.is_none() {
        assumed.push(gap(
            "texture of the topsoil",
            "medium",
            "feel the texture, or look at the soil survey",
        ));
    }
    assumed
}

/// Whether the soil is wet.
fn is_wet(c: &Conditions) -> bool {
    matches!(c.moisture, Some(Moisture::Wet | Moisture::AtCapacity))
}

/// Slack for a depth, in metres.
const SAME_DEPTH: f64 = 1e-6;

/// Whether the slot is shallower than the depth at which angled wheels work best.
fn is_shallow(depth: Length, k: &Coefficients) -> bool {
    depth.si() < k.closing_depth.low * 0.0254 - SAME_DEPTH
}

/// For reasons that come and go.
type Maybe = Option<Reason>;
