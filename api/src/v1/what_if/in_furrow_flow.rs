//! `POST /v1/what-if/in-furrow-flow`

use actix_web::post;
use domain::in_furrow::{OutletSetting, TankPlan, outlet_setting, tank_plan};
use domain::quantity::{Area, Length, Measured, Speed, System, Volume, VolumePerArea, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::optional;
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

/// A liquid that runs through one outlet a row, and the tank.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "rate": {"value": 5, "unit": "[gal_us]/[acr_us]"},
    "speed": {"value": 5, "unit": "[mi_i]/h"},
    "width": {"value": 30, "unit": "[in_i]"},
    "tank": {"value": 400, "unit": "[gal_us]"},
    "area": {"value": 120, "unit": "[acr_us]"}
})))]
pub(super) struct InFurrowFlowIn {
    /// All liquid to apply. Bound: `application_rate`.
    pub rate: Quantity,
    /// Ground speed. Bound: `ground_speed`.
    pub speed: Quantity,
    /// Width that one outlet serves: the row, where each row has one. Bound: `outlet_width`.
    pub width: Quantity,
    /// The part of the rate that is product, for what to pour into the tank; all of it when absent.
    /// Bound: `application_rate`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub product_rate: Option<Quantity>,
    /// Content of the tank; with it the area of a tank is answered. Bound: `tank_volume`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub tank: Option<Quantity>,
    /// Area to plant; with it and the tank the number of tanks. Bound: `field_area`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
}

/// What to set and to catch at each outlet, and how far a tank goes.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "flow": {"value": 0.126_262, "unit": "[gal_us]/min"},
    "in_a_minute": {
        "ounces": {"value": 16.1616, "unit": "[foz_us]"},
        "millilitres": {"value": 477.954, "unit": "mL"}
    },
    "course": {"value": 136.126, "unit": "[ft_i]"},
    "course_time": {"value": 18.5626, "unit": "s"},
    "on_course": {
        "ounces": {"value": 5, "unit": "[foz_us]"},
        "millilitres": {"value": 147.868, "unit": "mL"}
    },
    "tank": {
        "area": {"value": 80, "unit": "[acr_us]"},
        "product": {"value": 400, "unit": "[gal_us]"},
        "fills": 2,
        "product_in_all": {"value": 600, "unit": "[gal_us]"}
    },
    "trace": [
        {
            "step": "flow through an outlet", "formula": "R v W / 5940",
            "inputs": [
                {"symbol": "R", "value": 5, "unit": "[gal_us]/[acr_us]"},
                {"symbol": "v", "value": 5, "unit": "[mi_i]/h"},
                {"symbol": "W", "value": 30, "unit": "[in_i]"}
            ],
            "value": 0.126_262, "unit": "[gal_us]/min",
            "source": "University of California, n.d. Application rate = flow / land rate; definition of the acre",
            "mark": "derived", "mark_words": "derived"
        },
        {
            "step": "catch of a minute", "formula": "128 q",
            "inputs": [{"symbol": "q", "value": 0.126_262, "unit": "[gal_us]/min"}],
            "value": 16.1616, "unit": "[foz_us]",
            "source": "definition of the unit", "mark": "derived", "mark_words": "derived"
        },
        {
            "step": "course of a 128th of an acre", "formula": "4083.75 / W",
            "inputs": [{"symbol": "W", "value": 30, "unit": "[in_i]"}],
            "value": 136.126, "unit": "[ft_i]",
            "source": "New Jersey AES Fact Sheet 1085, as cited by Rutgers 2013; definition of the acre",
            "mark": "read", "mark_words": "read in the source"
        },
        {
            "step": "time for the course", "formula": "L / (1.46667 v)",
            "inputs": [
                {"symbol": "L", "value": 136.126, "unit": "[ft_i]"},
                {"symbol": "v", "value": 5, "unit": "[mi_i]/h"}
            ],
            "value": 18.5626, "unit": "s",
            "source": "definition of the unit", "mark": "derived", "mark_words": "derived"
        },
        {
            "step": "area of a full tank", "formula": "T / R",
            "inputs": [
                {"symbol": "T", "value": 400, "unit": "[gal_us]"},
                {"symbol": "R", "value": 5, "unit": "[gal_us]/[acr_us]"}
            ],
            "value": 80, "unit": "[acr_us]",
            "source": "definition of the unit", "mark": "derived", "mark_words": "derived"
        }
    ]
})))]
pub(super) struct InFurrowFlowResult {
    /// Flow through each outlet.
    pub flow: Quantity,
    /// What a cup catches in a minute.
    pub in_a_minute: CaughtVolume,
    /// Row that is a 128th of an acre.
    pub course: Quantity,
    /// Time to drive it.
    pub course_time: Quantity,
    /// What a cup catches in that time: as many ounces as the rate has gallons an acre.
    pub on_course: CaughtVolume,
    /// How far a tank goes.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub tank: Option<TankFill>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// A caught volume on the scales of both kinds of measuring cup.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "ounces": {"value": 16.1616, "unit": "[foz_us]"},
    "millilitres": {"value": 477.954, "unit": "mL"}
})))]
pub(super) struct CaughtVolume {
    /// In US fluid ounces.
    pub ounces: Quantity,
    /// In millilitres.
    pub millilitres: Quantity,
}

impl CaughtVolume {
    fn of(volume: Volume) -> Self {
        let in_units = |system| Quantity::show(&bounds::CATCH_VOLUME, volume, system);
        Self { ounces: in_units(System::Us), millilitres: in_units(System::Si) }
    }
}

/// How far a tank goes, and what to pour into it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "area": {"value": 80, "unit": "[acr_us]"},
    "product": {"value": 400, "unit": "[gal_us]"}
})))]
pub(super) struct TankFill {
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

/// Flow of in-furrow outlets.
///
/// Rate times speed times width: `gal/min = gal/ac x mph x in / 5940`; what a cup catches in a
/// minute and on a course of a 128th of an acre; how far a tank goes.
///
/// Worked example (New Jersey AES Fact Sheet 1085, as cited by Rutgers 2013; University of
/// California, rate = flow / land rate): with one outlet a row of 30 in the course is 136 ft, and the
/// ounces caught on it are the gallons an acre; 5 gal/ac at 5 mph are 0.1263 gal/min, or 16.2 ounces
/// a minute.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_in_furrow_flow", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = InFurrowFlowIn, description = "Rate, speed, width, tank."),
    responses(
        (status = 200, description = "Flow, catch and tank.", body = InFurrowFlowResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/in-furrow-flow")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<InFurrowFlowIn>,
) -> Result<Answer<InFurrowFlowResult>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

struct Case {
    rate: VolumePerArea,
    product: VolumePerArea,
    speed: Speed,
    width: Length,
    tank: Option<Volume>,
    area: Option<Area>,
}

impl InFurrowFlowIn {
    fn work_out(self, system: System) -> Result<InFurrowFlowResult, ApiError> {
        let Case { rate, product, speed, width, tank, area } = self.parse()?;
        let no_flow = || BadMember::new("/speed", "Speed and width must be above 0.");
        let (outlet, mut steps) = outlet_setting(rate, speed, width).ok_or_else(no_flow)?;
        let tank =
            tank.and_then(|tank| tank_plan(tank, rate, product, area)).map(|(tank, step)| {
                steps.push(step);
                TankFill::of(tank, system)
            });
        let OutletSetting { flow, in_a_minute, course, course_time, on_course, speed: _ } = outlet;
        Ok(InFurrowFlowResult {
            flow: Quantity::show(&bounds::OUTLET_FLOW, flow, system),
            in_a_minute: CaughtVolume::of(in_a_minute),
            course: Quantity::show(&bounds::ROW_LENGTH, course, system),
            course_time: Quantity::show(&bounds::CATCH_TIME, course_time, system),
            on_course: CaughtVolume::of(on_course),
            tank,
            trace: trace::steps(steps),
        })
    }

    fn parse(&self) -> Result<Case, ApiError> {
        let mut refused = Refused::default();
        let rate = refused.take(self.rate.parse("/rate", &bounds::APPLICATION_RATE));
        let speed = refused.take(self.speed.parse("/speed", &bounds::GROUND_SPEED));
        let width = refused.take(self.width.parse("/width", &bounds::OUTLET_WIDTH));
        let part = self.product_rate.as_ref();
        let product = optional(&mut refused, part, "/product_rate", &bounds::APPLICATION_RATE);
        let tank = optional(&mut refused, self.tank.as_ref(), "/tank", &bounds::TANK_VOLUME);
        let area = optional(&mut refused, self.area.as_ref(), "/area", &bounds::FIELD_AREA);
        if let (Some(rate), Some(product)) = (rate, product)
            && product.si() > rate.si() * (1.0 + 1e-9)
        {
            let detail = "There can't be more product than liquid.";
            refused.add(BadMember::new("/product_rate", detail));
        }
        let (Some(rate), Some(speed), Some(width)) = (rate, speed, width) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(Case { rate, product: product.unwrap_or(rate), speed, width, tank, area })
    }
}

impl TankFill {
    fn of(it: TankPlan, system: System) -> Self {
        let volume = |volume: Volume| Quantity::show(&bounds::TANK_VOLUME, volume, system);
        Self {
            area: Quantity::show(&bounds::FIELD_AREA, it.area, system),
            product: volume(it.product),
            fills: it.fills,
            product_in_all: it.product_in_all.map(volume),
        }
    }
}
