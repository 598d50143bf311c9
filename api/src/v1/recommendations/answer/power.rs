//! Draft and power, in the caller's units.

use domain::provenance::Advice;
use domain::quantity::{Force, Measured, System, bounds};
use domain::settings::{Power, PowerAdvice};
use domain::stats::Range;
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::{Quantity, six_digits};
use crate::v1::recommendations::show::Show;
use crate::v1::recommendations::work::{TractionSurface, TractorKind};
use crate::v1::trace::{self, Assumed, Reason, reasons};

/// Draft of the planter and the power it takes. The draft stands from memory, with the range that
/// the standard gives; the standard has no term for speed in planter draft.
#[derive(Debug, Serialize, ToSchema)]
pub struct PowerOut {
    /// Draft of one row.
    pub draft_per_row: QuantityRange,
    /// Pull of all rows together.
    pub pull: QuantityRange,
    /// The speed that it is for.
    pub speed: Quantity,
    /// Power at the drawbar.
    pub drawbar: QuantityRange,
    /// Power at the PTO that the tractor needs.
    pub pto: QuantityRange,
    /// Power at the flywheel.
    pub engine: QuantityRange,
    /// The tractor that the likely figures are for.
    pub tractor: TractorKind,
    /// The ground that they are for.
    pub surface: TractionSurface,
    /// Slip for the best pull on that ground: low end.
    pub slip_low: Quantity,
    /// Slip for the best pull on that ground: high end.
    pub slip_high: Quantity,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// What stood in for what nobody told.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
}

impl PowerOut {
    /// In these units.
    pub fn of(advice: &Advice<PowerAdvice>, system: System) -> Self {
        let show = Show(system);
        let choice = &advice.choice;
        let slip = |share: f64| Quantity::new(six_digits(share * 100.0), "%");
        Self {
            draft_per_row: QuantityRange::of(choice.draft_per_row, |newton| {
                Quantity::show(&bounds::ROW_DRAFT, Force::from_si(newton), system)
            }),
            pull: QuantityRange::of(choice.pull, |newton| show.frame(Force::from_si(newton))),
            speed: show.speed(choice.speed),
            drawbar: QuantityRange::of(choice.drawbar, |watts| shown(watts, system)),
            pto: QuantityRange::of(choice.pto, |watts| shown(watts, system)),
            engine: QuantityRange::of(choice.engine, |watts| shown(watts, system)),
            tractor: choice.tractor.into(),
            surface: choice.surface.into(),
            slip_low: slip(choice.slip_low),
            slip_high: slip(choice.slip_high),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
            assumed: trace::assumed(advice.assumed.clone()),
        }
    }
}

fn shown(watts: f64, system: System) -> Quantity {
    let power = Power::from_watts(watts);
    match system {
        System::Us => Quantity::new(six_digits(power.horsepower()), "[HP]"),
        System::Si => Quantity::new(six_digits(power.kilowatts()), "kW"),
    }
}

/// A likely figure with its ends.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "low": {"value": 307, "unit": "[lbf_av]"},
    "likely": {"value": 409, "unit": "[lbf_av]"},
    "high": {"value": 511, "unit": "[lbf_av]"}
})))]
pub struct QuantityRange {
    /// Low end.
    pub low: Quantity,
    /// The likely figure.
    pub likely: Quantity,
    /// High end.
    pub high: Quantity,
}

impl QuantityRange {
    fn of(range: Range, show: impl Fn(f64) -> Quantity) -> Self {
        Self { low: show(range.low), likely: show(range.likely), high: show(range.high) }
    }
}
