//! The settings in the caller's units, each with its reasons.

use domain::provenance::Advice;
use domain::settings::{Inputs, Recommendation as Worked, SeedingAdvice, SpeedAdvice};
use serde::Serialize;
use utoipa::ToSchema;

use super::closing::{ClosingOut, WallOut};
use super::depth::DepthOut;
use super::down_force::DownForceOut;
use super::example_at;
use super::in_furrow::InFurrowOut;
use super::residue::{CleanerOut, CoulterOut, OldRowsOut};
use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};
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
    /// The risk that the wall of the slot smears; absent in answers of an older engine.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub wall: Option<WallOut>,
    /// Where the rows should run, seen from the old ones; absent where that does not matter.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub old_rows: Option<OldRowsOut>,
    /// Ground speed.
    pub speed: SpeedOut,
    /// Seeding; absent when the goals name neither a rate nor a stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub seeding: Option<SeedingOut>,
    /// A liquid in the furrow; absent when the goals name none.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub in_furrow: Option<InFurrowOut>,
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
            wall: worked.wall.as_ref().map(|advice| WallOut::of(advice, show)),
            old_rows: worked.old_rows.as_ref().map(|advice| OldRowsOut::of(advice, show)),
            speed: SpeedOut::of(&worked.speed, show),
            seeding: worked.seeding.as_ref().map(|advice| SeedingOut::of(advice, show)),
            in_furrow: worked.in_furrow.as_ref().map(|advice| InFurrowOut::of(advice, show)),
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
