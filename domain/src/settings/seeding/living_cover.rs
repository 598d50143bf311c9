//! More seed for soybean that goes into living cover.

use super::Rates;
use crate::provenance::{Coefficient, Input, Reason, Step};
use crate::quantity::{ArealNumberDensity, Measured, System, bounds};

impl Rates {
    pub(super) fn raised(&self, more: &Coefficient) -> Self {
        Self {
            low: self.low * (1.0 + more.low),
            likely: self.likely * (1.0 + more.value),
            high: self.high * (1.0 + more.high),
        }
    }
}

pub(super) fn green_reason(more: &Coefficient) -> Reason {
    let percent = |x: f64| (x * 100.0).round();
    Reason::made(
        format!(
            "planted into living cover: {} % more seed ({} to {} %)",
            percent(more.value),
            percent(more.low),
            percent(more.high)
        ),
        more.mark,
        more.source.clone(),
    )
}

pub(super) fn green_step(rates: &Rates, raised: &Rates, more: &Coefficient) -> Step {
    let show = |x: f64| bounds::SEED_POPULATION.show(ArealNumberDensity::from_si(x), System::Us).0;
    Step {
        step: "seeding rate into living cover".into(),
        formula: "P (1 + c_g)".into(),
        inputs: vec![
            Input::new("P", show(rates.likely), "1/[acr_us]"),
            Input::new("c_g", more.value, "1"),
        ],
        value: show(raised.likely),
        unit: "1/[acr_us]".into(),
        low: Some(show(raised.low)),
        high: Some(show(raised.high)),
        source: more.source.clone(),
        mark: more.mark,
    }
}
