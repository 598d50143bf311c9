//! Closing wheels and the wall of the slot, in the caller's units.

use domain::provenance::Advice;
use domain::settings::{Ask, ClosingAdvice, Grade, RankedPair, WallAdvice};
use serde::Serialize;
use utoipa::ToSchema;

use super::example_at;
use super::residue::{RiskPointOut, points};
use crate::http::quantity::Quantity;
use crate::v1::planters::ClosingPair;
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::words::{AtHand, ClosingCriterion, ClosingSpring, WallRisk};
use crate::v1::trace::{Mark, Reason, reasons};

/// How to close the slot.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/closing"))))]
pub struct ClosingOut {
    /// The pair to run, of those that are fitted or owned.
    pub pair: ClosingPair,
    /// Whether that pair must be fitted first.
    pub change: bool,
    /// How tight.
    pub spring: ClosingSpring,
    /// A pair to try on two rows before the rest is changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub try_on_two_rows: Option<ClosingPair>,
    /// Whether to hang a drag chain.
    pub drag_chain: bool,
    /// What this field asks of closing wheels, and how much each counts.
    #[schema(max_items = 6)]
    pub asks: Vec<AskOut>,
    /// Every pair that is fitted or owned, and those that nobody owns but that suit better, the best
    /// first, each with why it stands above the next.
    #[schema(max_items = 5)]
    pub ranking: Vec<RankedPairOut>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl ClosingOut {
    /// The advice as it goes out.
    pub fn of(advice: &Advice<ClosingAdvice>) -> Self {
        let choice = &advice.choice;
        Self {
            pair: choice.pair.into(),
            change: choice.change,
            spring: choice.spring.into(),
            try_on_two_rows: choice.try_on_two_rows.map(Into::into),
            drag_chain: choice.drag_chain,
            asks: choice.asks.iter().map(AskOut::of).collect(),
            ranking: choice.ranking.iter().map(RankedPairOut::of).collect(),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// One thing that a field asks of closing wheels.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "criterion": "breaks_wall",
    "weight": 3,
    "because": {
        "text": "moist soil that was not tilled keeps standing walls",
        "mark": "common_practice",
        "mark_words": "common practice, no source",
        "source": "common practice, no source"
    }
})))]
pub struct AskOut {
    /// What is asked for.
    pub criterion: ClosingCriterion,
    /// How much it counts.
    #[schema(minimum = 0, example = 3)]
    pub weight: f64,
    /// Why.
    pub because: Reason,
}

impl AskOut {
    fn of(ask: &Ask) -> Self {
        Self {
            criterion: ask.criterion.into(),
            weight: share(ask.weight),
            because: ask.because.clone().into(),
        }
    }
}

/// A pair of closing wheels in the ranking.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/closing/ranking/0"))))]
pub struct RankedPairOut {
    /// The pair.
    pub pair: ClosingPair,
    /// Whether it can be run.
    pub at_hand: AtHand,
    /// The sum of what its grades count here.
    #[schema(minimum = 0, example = 13)]
    pub points: f64,
    /// Its grades, 0 to 3.
    #[schema(max_items = 6)]
    pub grades: Vec<GradeOut>,
    /// Why it stands above the next; absent for the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub above_next: Option<Reason>,
}

impl RankedPairOut {
    fn of(ranked: &RankedPair) -> Self {
        Self {
            pair: ranked.pair.into(),
            at_hand: ranked.at_hand.into(),
            points: share(ranked.points),
            grades: ranked.grades.iter().map(GradeOut::of).collect(),
            above_next: ranked.above_next.clone().map(Into::into),
        }
    }
}

/// How good a pair is at one thing.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "criterion": "breaks_wall",
    "grade": 2,
    "counts": 6,
    "what": "one spiked and one rubber wheel, breaking the wall (grade ours, 0 to 3): the spike breaks one wall",
    "mark": "proposal",
    "mark_words": "this project's own choice",
    "source": "Colorado State University Extension, as reported in the local press, about 2016. Ten things to check before planting season"
})))]
pub struct GradeOut {
    /// At what.
    pub criterion: ClosingCriterion,
    /// How good, 0 to 3.
    #[schema(minimum = 0, maximum = 3, example = 2)]
    pub grade: f64,
    /// Grade times the weight that this field gives it; 0 where it does not ask.
    #[schema(minimum = 0, example = 6)]
    pub counts: f64,
    /// What the grade says, in words.
    #[schema(
        example = "one spiked and one rubber wheel, breaking the wall (grade ours, 0 to 3): the spike breaks one wall"
    )]
    pub what: String,
    /// How the grade is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "this project's own choice")]
    pub mark_words: String,
    /// Where what it says stands.
    #[schema(example = "common practice, no source")]
    pub source: String,
}

impl GradeOut {
    fn of(it: &Grade) -> Self {
        Self {
            criterion: it.criterion.into(),
            grade: share(it.grade),
            counts: share(it.counts),
            what: it.what.to_string(),
            mark: it.mark.into(),
            mark_words: it.mark.words().to_owned(),
            source: it.source.to_string(),
        }
    }
}

/// The risk that the wall of the slot smears at the advised setting.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/wall"))))]
pub struct WallOut {
    /// The class.
    pub risk: WallRisk,
    /// The heaviest that the gauge wheels get as the hopper empties.
    pub load: Quantity,
    /// Product of the factors.
    #[schema(minimum = 0, example = 0.46)]
    pub product: f64,
    /// Fineness of the texture, moisture, and force over the heavy class.
    #[schema(max_items = 3)]
    pub factors: Vec<RiskPointOut>,
    /// What to do about it, the first thing first.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl WallOut {
    /// In these units.
    pub fn of(advice: &Advice<WallAdvice>, show: Show) -> Self {
        let choice = &advice.choice;
        Self {
            risk: choice.risk.into(),
            load: show.load(choice.load),
            product: share(choice.product),
            factors: points(&choice.factors),
            watch: reasons(advice.watch.clone()),
        }
    }
}
