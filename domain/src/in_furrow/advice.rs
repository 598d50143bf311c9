//! From a product and a field to what runs in the furrow: a rate with its flow, or a stop.

use serde::{Deserialize, Serialize};

use super::flow::{OutletSetting, outlet_setting};
use super::heed;
use super::inoculant;
use super::plan::{InFurrowPlan, InFurrowProduct};
use super::salt::{self, SaltBalance};
use super::stops::{Stop, stops};
use super::tank::{TankPlan, tank_plan};
use crate::conditions::{Conditions, Crop};
use crate::provenance::{Advice, Assumed, Coefficients, Reason, Step};
use crate::quantity::{Length, Speed, VolumePerArea};

/// What to do with a product in the furrow.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum InFurrowVerdict {
    /// Run it at the rate that was wanted, or at the most that is allowed where none was named.
    Run,
    /// Run it at a lower rate than was wanted.
    Lower,
    /// No limit of salt applies: its label says how much.
    ByLabel,
    /// Not in the furrow.
    Stop,
}

/// The advice on a liquid in the furrow.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct InFurrowAdvice {
    /// What to do.
    pub verdict: InFurrowVerdict,
    /// Why it must not run; empty unless the verdict is to stop.
    pub stops: Vec<Stop>,
    /// All liquid to apply; `None` on a stop, and where nobody named a rate.
    pub rate: Option<VolumePerArea>,
    /// The product in it.
    pub product_rate: Option<VolumePerArea>,
    /// N + K2O against the limit, for a starter that may run.
    pub salt: Option<SaltBalance>,
    /// What to set and to catch at each outlet.
    pub outlet: Option<OutletSetting>,
    /// How far a tank goes, where its content is known.
    pub tank: Option<TankPlan>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// What may run: liquid, and product in it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rates {
    pub(super) liquid: VolumePerArea,
    pub(super) product: VolumePerArea,
}

impl Rates {
    /// As the plan wants it; `None` where it names no rate.
    pub(super) fn wanted(plan: &InFurrowPlan) -> Option<Self> {
        let liquid = plan.rate?;
        // More product than liquid can't be.
        let product = plan.product_rate.filter(|product| *product < liquid).unwrap_or(liquid);
        Some(Self { liquid, product })
    }
}

/// What a product asks for before its flow is worked out.
pub(super) struct Judged {
    pub(super) verdict: InFurrowVerdict,
    pub(super) stops: Vec<Stop>,
    pub(super) rates: Option<Rates>,
    pub(super) salt: Option<SaltBalance>,
    pub(super) because: Vec<Reason>,
    pub(super) watch: Vec<Reason>,
    pub(super) assumed: Vec<Assumed>,
    pub(super) steps: Vec<Step>,
}

impl Judged {
    /// Nothing but the label limits it.
    pub(super) fn by_label(rates: Option<Rates>) -> Self {
        Self {
            verdict: InFurrowVerdict::ByLabel,
            stops: Vec::new(),
            rates,
            salt: None,
            because: Vec::new(),
            watch: Vec::new(),
            assumed: Vec::new(),
            steps: Vec::new(),
        }
    }

    /// Not in the furrow. A stop leaves neither rate nor flow.
    pub(super) fn stopped(stops: Vec<Stop>) -> Self {
        let because = stops.iter().map(|stop| stop.reason()).collect();
        Self { verdict: InFurrowVerdict::Stop, stops, because, ..Self::by_label(None) }
    }
}

/// Works out what to run in the furrow, and what to catch under each outlet.
///
/// `row_width` is the width that one outlet serves, `speed` the one that is advised; without it the
/// flow is left out. Never fails: what must not run comes back as a stop, without any rate.
pub fn in_furrow(
    plan: &InFurrowPlan,
    field: &Conditions,
    row_width: Length,
    speed: Option<Speed>,
    k: &Coefficients,
) -> Advice<InFurrowAdvice> {
    let mut judged = judge(plan, field, row_width, k);
    let stopped = judged.verdict == InFurrowVerdict::Stop;
    let outlet = judged.rates.zip(speed).and_then(|(rates, speed)| {
        let (outlet, steps) = outlet_setting(rates.liquid, speed, row_width)?;
        judged.steps.extend(steps);
        Some(outlet)
    });
    let tank = plan.tank.zip(judged.rates).and_then(|(tank, rates)| {
        let (tank, step) = tank_plan(tank, rates.liquid, rates.product, plan.area)?;
        judged.steps.push(step);
        Some(tank)
    });
    if !stopped {
        judged.watch.extend(heed::of_any(plan, judged.rates.is_some(), k));
        judged.assumed.extend(heed::unread_label(plan));
    }
    Advice {
        choice: InFurrowAdvice {
            verdict: judged.verdict,
            stops: judged.stops,
            rate: judged.rates.map(|rates| rates.liquid),
            product_rate: judged.rates.map(|rates| rates.product),
            salt: judged.salt,
            outlet,
            tank,
            steps: judged.steps,
        },
        because: judged.because,
        watch: judged.watch,
        assumed: judged.assumed,
    }
}

/// Stops first: nothing that is said of rate, soil or label lifts one.
fn judge(plan: &InFurrowPlan, field: &Conditions, row_width: Length, k: &Coefficients) -> Judged {
    let stops = stops(plan, field.crop);
    if !stops.is_empty() {
        return Judged::stopped(stops);
    }
    match plan.product {
        InFurrowProduct::Starter { analysis, density } => {
            salt::judge(plan, (analysis, density), field, row_width, k)
        }
        InFurrowProduct::Inoculant { years_since_soybean, soil_ph } => {
            let because = inoculant::pays(years_since_soybean, soil_ph, field, k);
            let care = if field.crop == Crop::Soybean { inoculant::CARE.to_vec() } else { vec![] };
            let by_label = Judged::by_label(Rates::wanted(plan));
            Judged { because, watch: care, ..by_label }
        }
        InFurrowProduct::ByLabel => {
            let by_label = Judged::by_label(Rates::wanted(plan));
            Judged { because: vec![heed::LABEL_SAYS], watch: vec![heed::ENTER_STARTER], ..by_label }
        }
    }
}
