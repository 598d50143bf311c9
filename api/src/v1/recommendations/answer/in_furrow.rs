//! What runs in the furrow, in the caller's units.

use domain::in_furrow::{InFurrowAdvice, OutletSetting, PublishedLimit, SaltBalance, TankPlan};
use domain::provenance::Advice;
use domain::quantity::{System, Volume, bounds};
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::in_furrow::{InFurrowStop, InFurrowVerdict};
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{Reason, reasons};

/// What to do with a liquid for the furrow. A stop carries neither rate nor flow.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "verdict": "stop",
    "stops": ["fertilizer_on_soybean"],
    "because": [{
        "text": "soybean: no fertilizer in the furrow; put it beside and below the seed, or spread it",
        "mark": "read", "mark_words": "read in the source",
        "source": "Kansas State University, as reported in the farm press, n.d.; Michigan State University, as reported in the farm press, n.d."
    }],
    "watch": []
})))]
pub struct InFurrowOut {
    /// What to do.
    pub verdict: InFurrowVerdict,
    /// Why it must not run; empty unless the verdict is to stop.
    #[schema(max_items = 10)]
    pub stops: Vec<InFurrowStop>,
    /// All liquid to apply; absent on a stop, and where nobody named the rate of the label.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub rate: Option<Quantity>,
    /// The product in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub product_rate: Option<Quantity>,
    /// N + K2O against the limit, for a starter that may run.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub salt: Option<SaltOut>,
    /// What to set and to catch at each outlet.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub outlet: Option<OutletOut>,
    /// How far a tank goes, where its content was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tank: Option<TankOut>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl InFurrowOut {
    /// In these units.
    pub fn of(advice: &Advice<InFurrowAdvice>, show: Show) -> Self {
        let it = &advice.choice;
        Self {
            verdict: it.verdict.into(),
            stops: it.stops.iter().copied().map(Into::into).collect(),
            rate: it.rate.map(|rate| show.application_rate(rate)),
            product_rate: it.product_rate.map(|rate| show.application_rate(rate)),
            salt: it.salt.as_ref().map(|salt| SaltOut::of(salt, show)),
            outlet: it.outlet.map(|outlet| OutletOut::of(outlet, show)),
            tank: it.tank.map(|tank| TankOut::of(tank, show)),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// N + K2O beside the seed against what corn bears.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "limit": {"value": 8, "unit": "[lb_av]/[acr_us]"},
    "most_product": {"value": 6.86, "unit": "[gal_us]/[acr_us]"},
    "wanted": {"value": 5.8, "unit": "[lb_av]/[acr_us]"},
    "set": {"value": 5.8, "unit": "[lb_av]/[acr_us]"},
    "other_limits": []
})))]
pub struct SaltOut {
    /// The most N + K2O.
    pub limit: Quantity,
    /// The most product, rounded down.
    pub most_product: Quantity,
    /// N + K2O at the rate that was wanted, where one was.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub wanted: Option<Quantity>,
    /// N + K2O at the rate to set.
    pub set: Quantity,
    /// What other sources print; their rows are not stated, 30 in is usual.
    #[schema(max_items = 10)]
    pub other_limits: Vec<OtherLimitOut>,
}

impl SaltOut {
    fn of(salt: &SaltBalance, show: Show) -> Self {
        Self {
            limit: show.seed_placed(salt.limit),
            most_product: show.application_rate_down(salt.most),
            wanted: salt.wanted.map(|wanted| show.seed_placed(wanted)),
            set: show.seed_placed(salt.set),
            other_limits: salt.others.iter().map(|it| OtherLimitOut::of(it, show)).collect(),
        }
    }
}

/// A limit that another source prints, for comparison.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "limit": {"value": 10, "unit": "[lb_av]/[acr_us]"},
    "applies": true,
    "because": {
        "text": "10 lb/ac, soil and rows not stated", "mark": "read",
        "mark_words": "read in the source",
        "source": "Virginia Tech / Penn State, n.d. Starter fertilizer"
    }
})))]
pub struct OtherLimitOut {
    /// The most N + K2O.
    pub limit: Quantity,
    /// Whether the soil meets its conditions; absent where nobody tested the soil.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub applies: Option<bool>,
    /// Its conditions and source.
    pub because: Reason,
}

impl OtherLimitOut {
    /// In these units.
    pub fn of(it: &PublishedLimit, show: Show) -> Self {
        Self {
            limit: show.seed_placed(it.limit),
            applies: it.applies,
            because: it.because.clone().into(),
        }
    }
}

/// What to set and to catch at each outlet.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "speed": {"value": 5, "unit": "[mi_i]/h"},
    "flow": {"value": 0.126, "unit": "[gal_us]/min"},
    "in_a_minute": {
        "ounces": {"value": 16.2, "unit": "[foz_us]"},
        "millilitres": {"value": 478, "unit": "mL"}
    },
    "course": {"value": 136.13, "unit": "[ft_i]"},
    "course_time": {"value": 18.6, "unit": "s"},
    "on_course": {
        "ounces": {"value": 5, "unit": "[foz_us]"},
        "millilitres": {"value": 148, "unit": "mL"}
    }
})))]
pub struct OutletOut {
    /// The speed that it is for.
    pub speed: Quantity,
    /// Flow through each outlet.
    pub flow: Quantity,
    /// What a cup catches in a minute.
    pub in_a_minute: CaughtOut,
    /// Row that is a 128th of an acre.
    pub course: Quantity,
    /// Time to drive it at this speed.
    pub course_time: Quantity,
    /// What a cup catches in that time: as many ounces as the rate has gallons an acre.
    pub on_course: CaughtOut,
}

impl OutletOut {
    /// In these units.
    pub fn of(it: OutletSetting, show: Show) -> Self {
        Self {
            speed: show.speed(it.speed),
            flow: show.flow(it.flow),
            in_a_minute: CaughtOut::of(it.in_a_minute),
            course: show.row(it.course),
            course_time: show.seconds(it.course_time),
            on_course: CaughtOut::of(it.on_course),
        }
    }
}

/// What a cup catches, on the scales of both kinds of measuring cup.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "ounces": {"value": 16.2, "unit": "[foz_us]"},
    "millilitres": {"value": 478, "unit": "mL"}
})))]
pub struct CaughtOut {
    /// In US fluid ounces, to a tenth.
    pub ounces: Quantity,
    /// In millilitres.
    pub millilitres: Quantity,
}

impl CaughtOut {
    /// In both.
    pub fn of(caught: Volume) -> Self {
        let in_units = |system| Show(system).rounded(&bounds::CATCH_VOLUME, caught, (1, 0));
        Self { ounces: in_units(System::Us), millilitres: in_units(System::Si) }
    }
}

/// How far a tank goes.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "area": {"value": 80, "unit": "[acr_us]"},
    "product": {"value": 400, "unit": "[gal_us]"},
    "fills": 2,
    "product_in_all": {"value": 600, "unit": "[gal_us]"}
})))]
pub struct TankOut {
    /// Area that a full tank covers.
    pub area: Quantity,
    /// Product in a full tank.
    pub product: Quantity,
    /// Tanks for the area to plant, the last of them filled in part.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, example = 2)]
    pub fills: Option<u32>,
    /// All product for the area to plant.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub product_in_all: Option<Quantity>,
}

impl TankOut {
    /// In these units.
    pub fn of(it: TankPlan, show: Show) -> Self {
        Self {
            area: show.area(it.area),
            product: show.tank(it.product),
            fills: it.fills,
            product_in_all: it.product_in_all.map(|volume| show.tank(volume)),
        }
    }
}
