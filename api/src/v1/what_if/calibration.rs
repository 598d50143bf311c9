//! `POST /v1/what-if/calibration`

use actix_web::post;
use actix_web::web::Data;
use domain::planter::{Calibration, CalibrationError, CalibrationPoint, PressureFor};
use domain::provenance::{Coefficients, Input, Source};
use domain::quantity::{Force, Measured, Pressure, System, bounds, unit};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{entries, optional};
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, ProblemCode, Query, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::recommendations::answer::PointCheckOut;
use crate::v1::recommendations::show::Show;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// Measured forces at measured pressures.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "points": [
        {"pressure": {"value": 15, "unit": "[psi]"}, "force": {"value": 120, "unit": "[lbf_av]"}},
        {"pressure": {"value": 60, "unit": "[psi]"}, "force": {"value": 420, "unit": "[lbf_av]"}}
    ],
    "force": {"value": 220, "unit": "[lbf_av]"}
})))]
pub(super) struct CalibrationCheckIn {
    /// Pressure and force, measured with a scale under a lowered unit at working height.
    #[schema(min_items = 2, max_items = 50)]
    pub points: Vec<MeasuredForce>,
    /// A force that is wanted; the pressure for it is answered. Bound: `down_force`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub force: Option<Quantity>,
}

/// The force that a pressure gave.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "pressure": {"value": 15, "unit": "[psi]"}, "force": {"value": 120, "unit": "[lbf_av]"}
})))]
pub(super) struct MeasuredForce {
    /// Gauge pressure. Bound: `element_pressure`.
    pub pressure: Quantity,
    /// Added force at the gauge wheels of one row. Bound: `down_force`.
    pub force: Quantity,
}

/// The line through the points.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "at_zero": {"value": 20, "unit": "[lbf_av]"},
    "slope": {"value": 6.66667, "unit": "[lbf_av]/[psi]"},
    "worst_miss": {"value": 0, "unit": "[lbf_av]"},
    "least_pressure": {"value": 15, "unit": "[psi]"},
    "most_pressure": {"value": 60, "unit": "[psi]"},
    "least_force": {"value": 120, "unit": "[lbf_av]"},
    "most_force": {"value": 420, "unit": "[lbf_av]"},
    "pressure": {"value": 30, "unit": "[psi]"},
    "trace": [
        {
            "step": "force for each unit of pressure",
            "formula": "sum((p - p_mean) (F - F_mean)) / sum((p - p_mean)^2)",
            "inputs": [
                {"symbol": "p", "value": 103.421, "unit": "kPa"},
                {"symbol": "F", "value": 533.787, "unit": "N"},
                {"symbol": "p", "value": 413.685, "unit": "kPa"},
                {"symbol": "F", "value": 1868.25, "unit": "N"}
            ],
            "value": 4.30107,
            "unit": "N/kPa",
            "source": "least-squares line through what was measured on this planter",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "pressure for the force",
            "formula": "(F - F_0) / slope",
            "inputs": [
                {"symbol": "F", "value": 978.609, "unit": "N"},
                {"symbol": "F_0", "value": 88.9644, "unit": "N"},
                {"symbol": "slope", "value": 4.30107, "unit": "N/kPa"}
            ],
            "value": 206.843,
            "unit": "kPa",
            "source": "least-squares line through what was measured on this planter",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct CalibrationCheck {
    /// Force at zero pressure, on the line. Outside the measured pressures it is a mere number.
    pub at_zero: Quantity,
    /// Force for each unit of pressure.
    pub slope: Quantity,
    /// Largest distance of a point from the line; nothing with two points, which always fit.
    pub worst_miss: Quantity,
    /// Lowest measured pressure.
    pub least_pressure: Quantity,
    /// Highest measured pressure.
    pub most_pressure: Quantity,
    /// Force at the lowest measured pressure, on the line.
    pub least_force: Quantity,
    /// Force at the highest measured pressure, on the line.
    pub most_force: Quantity,
    /// What a point between the others says about the line through the rest; absent with two
    /// points, which always fit. It may miss by the coefficient `calibration_miss`.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub check: Option<PointCheckOut>,
    /// Pressure for the force that is wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pressure: Option<Quantity>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Down force against pressure.
///
/// The least-squares line through measured points, and the pressure for a force on it. Never
/// carried beyond the measured pressures: a force outside is refused as `outside_validity`, with
/// the range that was measured. A third point checks the line through the others. Block the raised planter and relieve the pressure before reaching
/// under it.
///
/// Worked example (statics; no calibration of air bags is published): 15 psi gave 120 lbf and
/// 60 psi gave 420 lbf, so each psi gives 6.67 lbf, and 220 lbf need 30 psi.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_calibration", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = CalibrationCheckIn, description = "The points, and a force."),
    responses((status = 200, description = "The line.", body = CalibrationCheck), ComputeErrors),
)]
#[post("/what-if/calibration")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<CalibrationCheckIn>,
) -> Result<Answer<CalibrationCheck>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl CalibrationCheckIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<CalibrationCheck, ApiError> {
        let (points, wanted) = self.parse()?;
        let line = Calibration::from_points(&points).map_err(no_line)?;
        let mut trace = vec![line_step(&line)];
        let pressure = wanted.map(|force| pressure_for(&line, force, system)).transpose()?;
        if let Some((force, pressure)) = wanted.zip(pressure) {
            trace.push(pressure_step(&line, force, pressure));
        }
        let fit = line.fit();
        let (least, most) = line.pressure_range();
        let (weakest, strongest) = line.force_range();
        let force = |force| Quantity::show(&bounds::DOWN_FORCE, force, system);
        let shown = |pressure| Quantity::show(&bounds::ELEMENT_PRESSURE, pressure, system);
        Ok(CalibrationCheck {
            at_zero: force(Force::from_si(fit.at_zero)),
            slope: slope(fit.per_pascal, system),
            worst_miss: force(Force::from_si(fit.worst_miss)),
            least_pressure: shown(least),
            most_pressure: shown(most),
            least_force: force(weakest),
            most_force: force(strongest),
            check: line
                .check(k.calibration_miss.value)
                .map(|check| PointCheckOut::of(check, Show(system))),
            pressure: pressure.map(shown),
            trace,
        })
    }

    fn parse(&self) -> Result<(Vec<CalibrationPoint>, Option<Force>), ApiError> {
        let mut refused = Refused::default();
        refused.take(entries(
            "/points",
            self.points.len(),
            (2, 50),
            "one point gives no line, and nobody measures more than fifty",
        ));
        let mut points = Vec::with_capacity(self.points.len());
        for (index, point) in self.points.iter().enumerate() {
            let at = |name: &str| format!("/points/{index}/{name}");
            let pressure = point.pressure.parse(&at("pressure"), &bounds::ELEMENT_PRESSURE);
            let force = point.force.parse(&at("force"), &bounds::DOWN_FORCE);
            if let (Some(pressure), Some(force)) = (refused.take(pressure), refused.take(force)) {
                points.push(CalibrationPoint { pressure, force });
            }
        }
        let wanted = optional(&mut refused, self.force.as_ref(), "/force", &bounds::DOWN_FORCE);
        refused.finish()?;
        Ok((points, wanted))
    }
}

fn no_line(error: CalibrationError) -> ApiError {
    BadMember::new("/points", format!("{error}.")).into()
}

fn pressure_for(line: &Calibration, force: Force, system: System) -> Result<Pressure, ApiError> {
    let (point, words) = match line.pressure_for(force) {
        PressureFor::Within(pressure) => return Ok(pressure),
        PressureFor::BelowRange { least } => (least, "least"),
        PressureFor::AboveRange { most } => (most, "most"),
    };
    let show = |force| Quantity::show(&bounds::DOWN_FORCE, force, system);
    let (asked, end) = (show(force), show(point.force));
    let (least, most) = line.force_range();
    let member = BadMember::new(
        "/force",
        format!("The {words} that was measured is {} {}.", end.value, end.unit),
    )
    .given(format!("{} {}", asked.value, asked.unit))
    .allowed(format!("{} to {} {}", show(least).value, show(most).value, asked.unit))
    .why("a calibration is not carried beyond the pressures that were measured");
    Err(ApiError::new(
        ProblemCode::OutsideValidity,
        "The force lies outside the calibration. Measure a point nearer to it.",
    )
    .with_members(vec![member]))
}

const ON_THIS_PLANTER: Source = "least-squares line through what was measured on this planter";
const LINE: Known = Known::derived(
    "force for each unit of pressure",
    "sum((p - p_mean) (F - F_mean)) / sum((p - p_mean)^2)",
    ON_THIS_PLANTER,
);
const PRESSURE: Known =
    Known::derived("pressure for the force", "(F - F_0) / slope", ON_THIS_PLANTER);

fn line_step(line: &Calibration) -> TraceStep {
    let inputs = line
        .points()
        .iter()
        .flat_map(|point| {
            [
                Input::new("p", point.pressure.si() / 1000.0, "kPa"),
                Input::new("F", point.force.si(), "N"),
            ]
        })
        .collect();
    LINE.gives(inputs, line.fit().per_pascal * 1000.0, "N/kPa")
}

fn pressure_step(line: &Calibration, force: Force, pressure: Pressure) -> TraceStep {
    let fit = line.fit();
    let inputs = vec![
        Input::new("F", force.si(), "N"),
        Input::new("F_0", fit.at_zero, "N"),
        Input::new("slope", fit.per_pascal * 1000.0, "N/kPa"),
    ];
    PRESSURE.gives(inputs, pressure.si() / 1000.0, "kPa")
}

/// Pounds-force a psi, or newtons a kilopascal.
fn slope(per_pascal: f64, system: System) -> Quantity {
    match system {
        System::Us => {
            let of = |code| unit(code).map_or(1.0, |unit| unit.to_si(1.0));
            let value = per_pascal * of("[psi]") / of("[lbf_av]");
            Quantity::new(six_digits(value), "[lbf_av]/[psi]")
        }
        System::Si => Quantity::new(six_digits(per_pascal * 1000.0), "N/kPa"),
    }
}
