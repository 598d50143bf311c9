//! The settings in the caller's units, each with its reasons.

use domain::planter::LeverPosition;
use domain::provenance::Advice;
use domain::quantity::Measured;
use domain::settings::{
    ClosingAdvice, CoulterAdvice, Inputs, Recommendation as Worked, RowCleanerAdvice,
    SeedingAdvice, SpeedAdvice,
};
use serde::Serialize;
use utoipa::ToSchema;

use super::down_force::DownForceOut;
use super::example_at;
use crate::http::quantity::Quantity;
use crate::v1::planters::ClosingPair;
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::words::{
    CleanerUse, ClosingSpring, CoulterUse, HairpinRisk, WrapRisk,
};
use crate::v1::trace::{Reason, reasons};

/// The settings of the planter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings"))))]
pub struct SettingsOut {
    /// Down force.
    pub down_force: DownForceOut,
    /// Furrow depth.
    pub depth: DepthOut,
    /// Coulter.
    pub coulter: CoulterOut,
    /// Row cleaner.
    pub row_cleaner: CleanerOut,
    /// Closing wheels.
    pub closing: ClosingOut,
    /// Ground speed.
    pub speed: SpeedOut,
    /// Seeding; absent when the goals name neither a rate nor a stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seeding: Option<SeedingOut>,
}

impl SettingsOut {
    /// In these units.
    pub(super) fn of(worked: &Worked, inputs: &Inputs, show: Show) -> Self {
        Self {
            down_force: DownForceOut::of(&worked.down_force, show),
            depth: DepthOut::of(worked, inputs, show),
            coulter: CoulterOut::of(&worked.coulter, show),
            row_cleaner: CleanerOut::of(&worked.row_cleaner),
            closing: ClosingOut::of(&worked.closing),
            speed: SpeedOut::of(&worked.speed, show),
            seeding: worked.seeding.as_ref().map(|advice| SeedingOut::of(advice, show)),
        }
    }
}

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
    fn of(worked: &Worked, inputs: &Inputs, show: Show) -> Self {
        let advice = &worked.depth;
        let (used, choice) = (worked.depth_used, &advice.choice);
        let worn = inputs.planter.unit.opener.depth_lost();
        let lost = inputs.goals.lever.map_or(worn, |lever| lever - used);
        let lever = inputs.planter.depth_lever.and_then(|lever| lever.nearest(used, lost));
        let inside = used.si() >= choice.safe_low.si() - SAME_DEPTH
            && used.si() <= choice.safe_high.si() + SAME_DEPTH;
        Self {
            value: show.depth(used),
            advised: show.depth(choice.start),
            decided: inputs.goals.depth.is_some(),
            safe_low: show.depth(choice.safe_low),
            safe_high: show.depth(choice.safe_high),
            is_safe: inside,
            lever: lever.map(|position| LeverOut::of(position, show)),
            lever_depth: show.depth(used + lost),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// A notch of the depth lever.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"notch": 6, "depth": {"value": 2, "unit": "[in_i]"}})))]
pub struct LeverOut {
    /// The notch, counted from 1 at the shallow end.
    #[schema(minimum = 1, example = 6)]
    pub notch: u8,
    /// The depth it gives with the discs as they are.
    pub depth: Quantity,
}

impl LeverOut {
    fn of(position: LeverPosition, show: Show) -> Self {
        Self { notch: position.notch, depth: show.depth(position.depth) }
    }
}

/// What to do with the coulter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/coulter"))))]
pub struct CoulterOut {
    /// What to do.
    pub coulter: CoulterUse,
    /// How much higher its edge runs than the opener's, when it runs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub above_opener: Option<Quantity>,
    /// The risk of straw in the slot with the coulter as advised.
    pub hairpins: HairpinRisk,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl CoulterOut {
    fn of(advice: &Advice<CoulterAdvice>, show: Show) -> Self {
        let choice = advice.choice;
        Self {
            coulter: choice.coulter.into(),
            above_opener: choice.above_opener.map(|height| show.coulter(height)),
            hairpins: choice.hairpins.into(),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// How to run the row cleaner.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/row_cleaner"))))]
pub struct CleanerOut {
    /// What to do.
    pub cleaner: CleanerUse,
    /// The risk that stems wrap.
    pub wrap: WrapRisk,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl CleanerOut {
    fn of(advice: &Advice<RowCleanerAdvice>) -> Self {
        Self {
            cleaner: advice.choice.cleaner.into(),
            wrap: advice.choice.wrap.into(),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

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
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl ClosingOut {
    fn of(advice: &Advice<ClosingAdvice>) -> Self {
        let choice = advice.choice;
        Self {
            pair: choice.pair.into(),
            change: choice.change,
            spring: choice.spring.into(),
            try_on_two_rows: choice.try_on_two_rows.map(Into::into),
            drag_chain: choice.drag_chain,
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// How fast to drive.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/speed"))))]
pub struct SpeedOut {
    /// The speed to drive.
    pub value: Quantity,
    /// The fastest at which this setting keeps the wheels down as often as is tolerated.
    pub most: Quantity,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl SpeedOut {
    fn of(advice: &Advice<SpeedAdvice>, show: Show) -> Self {
        Self {
            value: show.speed(advice.choice.start),
            most: show.speed(advice.choice.most),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// How much seed, and what to count behind the planter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/seeding"))))]
pub struct SeedingOut {
    /// Seeds per area to set.
    pub rate: Quantity,
    /// The rate if everything grows as well as is likely.
    pub rate_low: Quantity,
    /// The rate if it grows as badly as is likely.
    pub rate_high: Quantity,
    /// Distance from seed to seed.
    pub spacing: Quantity,
    /// Seeds in a foot of row.
    #[schema(minimum = 0, example = 1.95)]
    pub seeds_per_foot: f64,
    /// Row that is a thousandth of an acre.
    pub thousandth_acre: Quantity,
    /// Seeds that must lie in it.
    #[schema(minimum = 0, example = 34)]
    pub seeds_in_thousandth: f64,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl SeedingOut {
    fn of(advice: &Advice<SeedingAdvice>, show: Show) -> Self {
        let choice = &advice.choice;
        Self {
            rate: show.population(choice.rate),
            rate_low: show.population(choice.rate_low),
            rate_high: show.population(choice.rate_high),
            spacing: show.spacing(choice.spacing),
            seeds_per_foot: share(choice.seeds_per_foot),
            thousandth_acre: show.row(choice.thousandth_acre),
            seeds_in_thousandth: share(choice.seeds_in_thousandth),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}
