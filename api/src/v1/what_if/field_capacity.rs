//! `POST /v1/what-if/field-capacity`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::{Coefficients, Input, sources};
use domain::quantity::{Area, Length, Measured, Ratio, Speed, System, bounds};
use domain::settings::{self, AreaRate, days_to_finish};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{number, optional, whole};
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

/// A planter at work.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "width": {"kind": "rows", "rows": 12, "row_width": {"value": 30, "unit": "[in_i]"}},
    "speed": {"value": 5, "unit": "[mi_i]/h"},
    "efficiency": {"value": 60, "unit": "%"}
})))]
pub(super) struct FieldCapacityIn {
    /// Working width.
    pub width: WorkingWidth,
    /// Ground speed. Bound: `ground_speed`.
    pub speed: Quantity,
    /// Share of the time in the field in which the planter plants; the coefficient
    /// `field_efficiency` when absent. Bound: `positive_share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub efficiency: Option<Quantity>,
    /// Area to plant; with it the days are answered. Bound: `field_area`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Hours in the field a day, for the days; the coefficient `hours_a_day` when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.5, maximum = 24, example = 10)]
    pub hours_a_day: Option<f64>,
}

tagged_union! {
    /// Working width, as such or by rows.
    #[schema(examples(json!({"kind": "across", "across": {"value": 30, "unit": "[ft_i]"}})))]
    pub(super) enum WorkingWidth by "kind" {
        /// The whole width.
        Across = "across" {
            /// The width. Bound: `working_width`.
            across: Quantity,
        },
        /// Rows times row width.
        Rows = "rows" {
            /// Number of rows.
            #[schema(minimum = 1, maximum = 64, example = 12)]
            rows: u32,
            /// Distance between rows. Bound: `row_width`.
            row_width: Quantity,
        },
    }
}

/// How fast a planter covers ground.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "width": {"value": 30, "unit": "[ft_i]"},
    "theoretical": {"value": 18.1817, "unit": "[acr_us]/h"},
    "effective": {"value": 10.909, "unit": "[acr_us]/h"},
    "defaults": [],
    "trace": [
        {
            "step": "effective field capacity",
            "formula": "W v e / 8.25",
            "inputs": [
                {"symbol": "W", "value": 30, "unit": "[ft_i]"},
                {"symbol": "v", "value": 5, "unit": "[mi_i]/h"},
                {"symbol": "e", "value": 0.6, "unit": "1"}
            ],
            "value": 10.909,
            "unit": "[acr_us]/h",
            "source": "Hancock, Swetnam, Benson 1991. Calculating farm machinery field capacities. University of Kentucky AEN-73",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct FieldCapacityResult {
    /// Working width.
    pub width: Quantity,
    /// Area an hour without any stop.
    pub theoretical: Quantity,
    /// Area an hour with turning and filling.
    pub effective: Quantity,
    /// Working days for the area.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 4.2)]
    pub days: Option<f64>,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1000)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Field capacity.
///
/// Width times speed times field efficiency: `ac/h = ft x mph x e / 8.25`. With an area also the
/// working days.
///
/// Worked example (Iowa State University Extension, as reported in the farm press, 2018, Field
/// equipment: efficiency versus capacity): 12 rows of 30 in are 30 ft; at 5 mph and 60 % they plant
/// 10.9 acres an hour.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_field_capacity", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = FieldCapacityIn, description = "Width, speed, efficiency."),
    responses(
        (status = 200, description = "Area an hour.", body = FieldCapacityResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/field-capacity")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<FieldCapacityIn>,
) -> Result<Answer<FieldCapacityResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

struct Case {
    width: Length,
    speed: Speed,
    efficiency: Option<Ratio>,
    area: Option<Area>,
    hours: f64,
}

impl FieldCapacityIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<FieldCapacityResult, ApiError> {
        let no_hours = self.hours_a_day.is_none();
        let Case { width, speed, efficiency, area, hours } = self.parse(k)?;
        let share = efficiency.unwrap_or_else(|| Ratio::from_si(k.field_efficiency.value));
        let capacity = settings::field_capacity(width, speed, share)
            .map_err(|error| BadMember::new("/efficiency", format!("{error}.")))?;
        let mut steps = trace::steps_of(capacity.trace);
        let days = area
            .map(|area| days_to_finish(area, capacity.effective, hours).map(|days| (area, days)))
            .transpose()
            .map_err(|error| BadMember::new("/hours_a_day", format!("{error}.")))?;
        if let Some((area, days)) = days {
            steps.push(days_step(area, capacity.effective, hours, days));
        }
        let stood_in = efficiency.is_none().then(|| Coefficient::from(&k.field_efficiency));
        let hours = (area.is_some() && no_hours).then(|| Coefficient::from(&k.hours_a_day));
        let defaults = stood_in.into_iter().chain(hours).collect();
        Ok(FieldCapacityResult {
            width: Quantity::show(&bounds::WORKING_WIDTH, width, system),
            theoretical: rate(capacity.theoretical, system),
            effective: rate(capacity.effective, system),
            days: days.map(|(_, days)| six_digits(days)),
            defaults,
            trace: steps,
        })
    }

    fn parse(&self, k: &Coefficients) -> Result<Case, ApiError> {
        let mut refused = Refused::default();
        let width = self.width.parse(&mut refused);
        let speed = refused.take(self.speed.parse("/speed", &bounds::GROUND_SPEED));
        let share = self.efficiency.as_ref();
        let efficiency = optional(&mut refused, share, "/efficiency", &bounds::POSITIVE_SHARE);
        let area = optional(&mut refused, self.area.as_ref(), "/area", &bounds::FIELD_AREA);
        let hours = refused.take(number(
            "/hours_a_day",
            self.hours_a_day.unwrap_or(k.hours_a_day.value),
            (0.5, 24.0),
            "a day has 24 hours",
        ));
        let (Some(width), Some(speed), Some(hours)) = (width, speed, hours) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(Case { width, speed, efficiency, area, hours })
    }
}

impl WorkingWidth {
    pub(super) fn parse(&self, refused: &mut Refused) -> Option<Length> {
        match self {
            Self::Across { across } => {
                refused.take(across.parse("/width/across", &bounds::WORKING_WIDTH))
            }
            Self::Rows { rows, row_width } => {
                let why = "planters have up to 64 rows";
                let rows = refused.take(whole("/width/rows", *rows, (1, 64), why));
                let width = refused.take(row_width.parse("/width/row_width", &bounds::ROW_WIDTH));
                Some(width? * f64::from(rows?))
            }
        }
    }
}

fn rate(rate: AreaRate, system: System) -> Quantity {
    match system {
        System::Us => Quantity::new(six_digits(rate.acres_an_hour()), "[acr_us]/h"),
        System::Si => Quantity::new(six_digits(rate.hectares_an_hour()), "har/h"),
    }
}

const DAYS: Known = Known::derived("working days", "A / (C h)", sources::DEFINITION);

fn days_step(area: Area, rate: AreaRate, hours: f64, days: f64) -> TraceStep {
    let inputs = vec![
        Input::new("A", area.si() / 10_000.0, "har"),
        Input::new("C", rate.hectares_an_hour(), "har/h"),
        Input::new("h", hours, "h/d"),
    ];
    DAYS.gives(inputs, days, "d")
}
