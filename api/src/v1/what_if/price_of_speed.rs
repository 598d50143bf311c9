//! `POST /v1/what-if/price-of-speed`

use actix_web::post;
use actix_web::web::Data;
use chrono::NaiveDate;
use domain::provenance::{Advice, Coefficients};
use domain::quantity::{Measured, Speed, System, bounds};
use domain::settings::{Pacing, Work, WorkAdvice, fastest_with_contact, suitable_share, work};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::field_capacity::WorkingWidth;
use super::member::optional;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::Crop;
use crate::v1::recommendations::answer::WorkOut;
use crate::v1::recommendations::work::WorkIn;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

/// A planter at work on a date.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "corn",
    "planting_date": "2027-05-10",
    "width": {"kind": "rows", "rows": 12, "row_width": {"value": 30, "unit": "[in_i]"}},
    "speed": {"value": 5, "unit": "[mi_i]/h"},
    "work": {
        "area": {"value": 400, "unit": "[acr_us]"},
        "efficiency": {"value": 60, "unit": "%"},
        "hours_a_day": 10
    },
    "suitable_days": {"days": 20, "from": "2027-04-10", "to": "2027-05-20"}
})))]
pub(super) struct PriceOfSpeedIn {
    /// The crop.
    pub crop: Crop,
    /// The day on which planting starts; without it no loss of yield is answered.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub planting_date: Option<NaiveDate>,
    /// Working width.
    pub width: WorkingWidth,
    /// Ground speed. Bound: `ground_speed`.
    pub speed: Quantity,
    /// Gauge-wheel load at that speed; with it contact is answered. Bound: `gauge_wheel_load`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub load: Option<Quantity>,
    /// How much is to be planted and how a day goes.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub work: Option<WorkIn>,
    /// Days that were fit for fieldwork, of a span; the other way to give `work.suitable_share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub suitable_days: Option<SuitableDays>,
}

/// Days fit for fieldwork between two dates, as crop reports count them.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"days": 20, "from": "2027-04-10", "to": "2027-05-20"})))]
pub(super) struct SuitableDays {
    /// Days that were fit.
    #[schema(minimum = 0.1, maximum = 366, example = 20)]
    pub days: f64,
    /// First day of the span.
    pub from: NaiveDate,
    /// Last day of the span, which counts.
    pub to: NaiveDate,
}

/// What going slower costs and gains.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub(super) struct PriceOfSpeedResult {
    /// Acres, days, and the price.
    pub work: WorkOut,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// The price of speed.
///
/// Acres an hour and days at a speed, one mile an hour slower, and at the fastest speed that keeps
/// contact and metering; what the days more cost in yield at the planting date, as a range over
/// published sources, beside what the slower pace gains in gauge-wheel load and contact.
///
/// Worked example (Iowa State University Extension, as reported in the farm press, 2018, and
/// University of Illinois 2010, FEFO 10-11): 12 rows of 30 in at 5 mph and 60 % plant 10.9 acres an
/// hour; 20 of the 41 days from 10 April to 20 May are fit. The area and the hours are ours.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_price_of_speed", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = PriceOfSpeedIn, description = "A planter at work."),
    responses((status = 200, description = "Cost and gain.", body = PriceOfSpeedResult), ComputeErrors),
)]
#[post("/what-if/price-of-speed")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<PriceOfSpeedIn>,
) -> Result<Answer<PriceOfSpeedResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl PriceOfSpeedIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<PriceOfSpeedResult, ApiError> {
        let (pacing, goal) = self.parse(k)?;
        let advice = work(&pacing, &goal, k)
            .ok_or_else(|| BadMember::new("/width", "A planter without width covers nothing."))?;
        Ok(shown(&advice, system))
    }

    fn parse(&self, k: &Coefficients) -> Result<(Pacing, Work), ApiError> {
        let mut refused = Refused::default();
        let width = self.width.parse(&mut refused);
        let speed = refused.take(self.speed.parse("/speed", &bounds::GROUND_SPEED));
        let load = self.load.as_ref();
        let load = optional(&mut refused, load, "/load", &bounds::GAUGE_WHEEL_LOAD);
        let mut goal =
            self.work.as_ref().map_or_else(Work::default, |it| it.parse("/work", &mut refused));
        if let Some(days) = &self.suitable_days {
            goal.suitable_share = self.share_of(days, &mut refused);
        }
        let (Some(width), Some(speed)) = (width, speed) else { return Err(refused.into()) };
        refused.finish()?;
        let contact: Option<Speed> = load.map(|load| fastest_with_contact(load, speed, k));
        let (crop, date) = (self.crop.into(), self.planting_date);
        Ok((Pacing { width, speed, contact, load, crop, date }, goal))
    }

    fn share_of(
        &self,
        days: &SuitableDays,
        refused: &mut Refused,
    ) -> Option<domain::quantity::Ratio> {
        if self.work.as_ref().is_some_and(|work| work.suitable_share.is_some()) {
            let detail = "Give the days that are fit, or their share, not both.";
            refused.add(BadMember::new("/suitable_days", detail));
        }
        let share = suitable_share(days.days, days.from, days.to);
        if share.is_none() {
            refused.add(
                BadMember::new("/suitable_days/days", "No such share of days.")
                    .given(days.days)
                    .allowed(
                        "0.1 or more, and not more than the days of the span, both ends counted",
                    )
                    .why("a span does not hold more fit days than days"),
            );
        }
        share.map(domain::quantity::Ratio::from_si)
    }
}

fn shown(advice: &Advice<WorkAdvice>, system: System) -> PriceOfSpeedResult {
    PriceOfSpeedResult {
        work: WorkOut::of(advice, system),
        trace: trace::steps(advice.choice.steps.clone()),
    }
}

/// The answer to the example of the body, worked out.
fn example() -> serde_json::Value {
    let day = |month, day| NaiveDate::from_ymd_opt(2027, month, day).unwrap_or_default();
    let body = PriceOfSpeedIn {
        crop: Crop::Corn,
        planting_date: Some(day(5, 10)),
        width: WorkingWidth::Rows { rows: 12, row_width: Quantity::new(30.0, "[in_i]") },
        speed: Quantity::new(5.0, "[mi_i]/h"),
        load: None,
        work: Some(WorkIn {
            area: Some(Quantity::new(400.0, "[acr_us]")),
            efficiency: Some(Quantity::new(60.0, "%")),
            hours_a_day: Some(10.0),
            ..WorkIn::default()
        }),
        suitable_days: Some(SuitableDays { days: 20.0, from: day(4, 10), to: day(5, 20) }),
    };
    body.work_out(System::Us, &Coefficients::STANDARD)
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
