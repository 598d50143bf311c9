//! `POST /v1/what-if/catch-test`

use actix_web::post;
use actix_web::web::Data;
use domain::in_furrow::{CatchBasis, CatchError, CatchTest, OutletCatch, catch_test};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, Ratio, System, Volume, VolumePerArea, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{entries, optional};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::{Quantities, Quantity};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

/// Most outlets of a planter with one on each row and a spare beside each.
const MOST_OUTLETS: usize = 128;

/// What was caught under each outlet, and over which ground it stands.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "caught": {"unit": "[foz_us]", "values": [26]},
    "over": {"kind": "course", "length": {"value": 300, "unit": "[ft_i]"}},
    "width": {"value": 12, "unit": "[in_i]"}
})))]
pub(super) struct CatchTestIn {
    /// What each cup caught, in the order of the outlets; 0 where one is plugged. At most 128
    /// cups. Bound: `catch_volume`.
    pub caught: Quantities,
    /// Over which ground.
    pub over: CatchOver,
    /// Width that one outlet serves: the row, or the band. Bound: `outlet_width`.
    pub width: Quantity,
    /// The rate that was meant, to compare. Bound: `application_rate`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub meant: Option<Quantity>,
}

tagged_union! {
    /// The ground that a catch stands for.
    #[schema(examples(json!({"kind": "course", "length": {"value": 136, "unit": "[ft_i]"}})))]
    pub(super) enum CatchOver by "kind" {
        /// Caught while the planter drove a course.
        Course = "course" {
            /// Length of the course. Bound: `row_length`.
            length: Quantity,
        },
        /// Caught standing, for a speed.
        Timed = "timed" {
            /// How long. Bound: `catch_time`.
            time: Quantity,
            /// The speed at which the planter will drive. Bound: `ground_speed`.
            speed: Quantity,
        },
    }
}

/// The rate, and outlets that are off.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "rate": {"value": 29.4939, "unit": "[gal_us]/[acr_us]"},
    "outlets": [
        {"outlet": 1, "rate": {"value": 29.4939, "unit": "[gal_us]/[acr_us]"},
         "from_mean": {"value": 0, "unit": "%"}, "off": false}
    ],
    "off": [],
    "tolerance": {
        "name": "outlet_tolerance", "symbol": "q",
        "what": "Share by which an outlet may miss the mean of all outlets",
        "value": 0.05, "low": 0.05, "high": 0.1, "unit": "1",
        "mark": "common_practice", "mark_words": "common practice, no source",
        "source": "common practice, no source", "corrected_by_digs": false
    },
    "trace": [
        {
            "step": "rate from the mean catch", "formula": "4083.75 V / (L W)",
            "inputs": [
                {"symbol": "V", "value": 26, "unit": "[foz_us]"},
                {"symbol": "L", "value": 300, "unit": "[ft_i]"},
                {"symbol": "W", "value": 12, "unit": "[in_i]"}
            ],
            "value": 29.4939, "unit": "[gal_us]/[acr_us]",
            "source": "University of California, n.d. Application rate = flow / land rate; definition of the acre",
            "mark": "derived", "mark_words": "derived"
        },
        {
            "step": "most that an outlet may miss the mean", "formula": "q R",
            "inputs": [
                {"symbol": "q", "value": 0.05, "unit": "1"},
                {"symbol": "R", "value": 29.4939, "unit": "[gal_us]/[acr_us]"}
            ],
            "value": 1.47469, "unit": "[gal_us]/[acr_us]",
            "source": "common practice, no source",
            "mark": "common_practice", "mark_words": "common practice, no source"
        }
    ]
})))]
pub(super) struct CatchTestResult {
    /// Mean rate of all outlets.
    pub rate: Quantity,
    /// How far the mean is from what was meant; below 0 is too little.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub from_meant: Option<Quantity>,
    /// Coefficient of variation from outlet to outlet, where there are two or more.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub variation: Option<Quantity>,
    /// The outlets, in the order of the cups.
    #[schema(max_items = 128)]
    pub outlets: Vec<OutletResult>,
    /// Numbers of the outlets that are off: clean or replace them, then catch again.
    #[schema(max_items = 128, example = json!([3]))]
    pub off: Vec<u32>,
    /// How far from the mean an outlet may be.
    pub tolerance: Coefficient,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// One outlet.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "outlet": 1, "rate": {"value": 5.1, "unit": "[gal_us]/[acr_us]"},
    "from_mean": {"value": 2, "unit": "%"}, "off": false
})))]
pub(super) struct OutletResult {
    /// Its number, from 1 in the order of the cups.
    #[schema(minimum = 1, example = 1)]
    pub outlet: u32,
    /// Its rate.
    pub rate: Quantity,
    /// How far it is from the mean; below 0 is less.
    pub from_mean: Quantity,
    /// Whether that is farther than tolerated.
    pub off: bool,
}

/// Catch test of outlets.
///
/// The rate from what was caught: volume over length times width (`gal/ac = 4083.75 x oz / (ft x
/// in)`), over a driven course or over a time at a speed; the spread from outlet to outlet, and the
/// outlets more than 5 % from their mean. One outlet that is far off moves the mean: mend it and
/// catch again.
///
/// Worked example (University of Florida, band application circular): one tip over a band of 12 in
/// that gives 26 ounces in 300 ft applies 29.5 gal/ac.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_catch_test", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = CatchTestIn, description = "What was caught, and where."),
    responses(
        (status = 200, description = "The rate and the outlets.", body = CatchTestResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/catch-test")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<CatchTestIn>,
) -> Result<Answer<CatchTestResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

struct Case {
    cups: Vec<Volume>,
    basis: CatchBasis,
    width: Length,
    meant: Option<VolumePerArea>,
}

impl CatchTestIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<CatchTestResult, ApiError> {
        let Case { cups, basis, width, meant } = self.parse()?;
        let found = catch_test(&cups, basis, width, k).map_err(bad)?;
        let CatchTest { mean, variation, outlets, steps } = found;
        let from_meant = meant.map(|meant| mean.si() / meant.si() - 1.0);
        let outlets: Vec<OutletResult> =
            (1..).zip(&outlets).map(|(at, outlet)| OutletResult::of(at, outlet, system)).collect();
        Ok(CatchTestResult {
            rate: rate(mean, system),
            from_meant: from_meant.map(|share| percent(Ratio::from_si(share), system)),
            variation: variation.map(|cv| percent(cv, system)),
            off: outlets.iter().filter(|outlet| outlet.off).map(|outlet| outlet.outlet).collect(),
            outlets,
            tolerance: Coefficient::from(&k.outlet_tolerance),
            trace: trace::steps(steps),
        })
    }

    fn parse(&self) -> Result<Case, ApiError> {
        let mut refused = Refused::default();
        let why = "one cup an outlet, and no planter has more outlets";
        let cups = self.caught.values.len();
        refused.take(entries("/caught/values", cups, (1, MOST_OUTLETS), why));
        let cups = refused.take_all(self.caught.parse("/caught", &bounds::CATCH_VOLUME));
        let basis = self.over.parse(&mut refused);
        let width = refused.take(self.width.parse("/width", &bounds::OUTLET_WIDTH));
        let meant = self.meant.as_ref();
        let meant = optional(&mut refused, meant, "/meant", &bounds::APPLICATION_RATE);
        let (Some(cups), Some(basis), Some(width)) = (cups, basis, width) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(Case { cups, basis, width, meant })
    }
}

impl CatchOver {
    fn parse(&self, refused: &mut Refused) -> Option<CatchBasis> {
        match self {
            Self::Course { length } => {
                let length = refused.take(length.parse("/over/length", &bounds::ROW_LENGTH))?;
                Some(CatchBasis::Course { length })
            }
            Self::Timed { time, speed } => {
                let time = refused.take(time.parse("/over/time", &bounds::CATCH_TIME));
                let speed = refused.take(speed.parse("/over/speed", &bounds::GROUND_SPEED));
                Some(CatchBasis::Timed { time: time?, speed: speed? })
            }
        }
    }
}

impl OutletResult {
    fn of(outlet: u32, it: &OutletCatch, system: System) -> Self {
        Self {
            outlet,
            rate: rate(it.rate, system),
            from_mean: percent(it.from_mean, system),
            off: it.off,
        }
    }
}

fn rate(rate: VolumePerArea, system: System) -> Quantity {
    Quantity::show(&bounds::APPLICATION_RATE, rate, system)
}

fn percent(share: Ratio, system: System) -> Quantity {
    Quantity::show(&bounds::SHARE, share, system)
}

fn bad(error: CatchError) -> ApiError {
    let pointer = match error {
        CatchError::NoOutlet | CatchError::AllDry => "/caught/values",
        CatchError::NoGround => "/over",
    };
    BadMember::new(pointer, format!("{error}.")).into()
}
