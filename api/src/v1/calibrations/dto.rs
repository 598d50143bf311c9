//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use domain::planter as engine;
use domain::quantity::{Force, Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store::NewCalibration;
use crate::entities::calibrations;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::units::Units;

/// Earliest day of a measurement: long before row units had air bags or cylinders.
const EARLIEST: NaiveDate = match NaiveDate::from_yo_opt(1950, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

/// Most points of a calibration.
const MOST_POINTS: usize = 20;

/// A new calibration.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "calibrated_on": "2027-04-03",
    "points": [
        {"pressure": {"value": 15, "unit": "[psi]"}, "force": {"value": 120, "unit": "[lbf_av]"}},
        {"pressure": {"value": 60, "unit": "[psi]"}, "force": {"value": 420, "unit": "[lbf_av]"}}
    ]
})))]
pub struct CalibrationIn {
    /// The day of the measurement; not in the future.
    #[schema(example = "2027-04-03")]
    pub calibrated_on: NaiveDate,
    /// What was measured, at 2 to 20 pressures. Block the planter and keep clear of the units
    /// while there is pressure; the machine's manual wins.
    #[schema(min_items = 2, max_items = 20)]
    pub points: Vec<CalibrationPoint>,
    /// Notes.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Row 4, on a platform scale.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

/// A pressure, and the force it gave under a lowered unit at working height.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CalibrationPoint {
    /// Pressure on the gauge, 0 to 4000 psi.
    pub pressure: Quantity,
    /// Added force at the gauge wheels of one row, -500 to 1200 lbf.
    pub force: Quantity,
}

impl CalibrationIn {
    /// The only way from the wire to the store. `today` is the last day that is taken.
    pub(super) fn parse(self, today: NaiveDate) -> Result<NewCalibration, ApiError> {
        let Self { calibrated_on, points, notes } = self;
        let mut refused = Refused::default();
        if !(EARLIEST..=today).contains(&calibrated_on) {
            let detail = "The day lies in the future, or before there were such planters.";
            let member = BadMember::new("/calibrated_on", detail).given(calibrated_on);
            refused.add(member.allowed(format!("{EARLIEST} to {today}")));
        }
        refused.take_all(fit("/points", &points));
        let notes = notes.and_then(|given| refused.take(text::notes("/notes", &given)));
        refused.finish()?;
        Ok(NewCalibration { calibrated_on, points, notes })
    }
}

/// The line through the points, if they make one.
pub(in crate::v1) fn fit(
    pointer: &str,
    points: &[CalibrationPoint],
) -> Result<engine::Calibration, Vec<BadMember>> {
    if !(2..=MOST_POINTS).contains(&points.len()) {
        let member = BadMember::new(pointer, "The number of points is out of range.");
        let allowed = format!("2 to {MOST_POINTS}");
        return Err(vec![member.given(points.len()).allowed(allowed)]);
    }
    let mut refused = Refused::default();
    let mut parsed = Vec::with_capacity(points.len());
    for (index, CalibrationPoint { pressure, force }) in points.iter().enumerate() {
        let at = |name: &str| format!("{pointer}/{index}/{name}");
        let pressure = refused.take(pressure.parse(&at("pressure"), &bounds::ELEMENT_PRESSURE));
        let force = refused.take(force.parse(&at("force"), &bounds::DOWN_FORCE));
        if let (Some(pressure), Some(force)) = (pressure, force) {
            parsed.push(engine::CalibrationPoint { pressure, force });
        }
    }
    let members = refused.into_members();
    if !members.is_empty() {
        return Err(members);
    }
    engine::Calibration::from_points(&parsed)
        .map_err(|error| vec![BadMember::new(pointer, format!("{error}."))])
}

/// A calibration: what was measured, and what follows from it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000006",
    "planter_id": "01964f1e-6a00-7000-8000-000000000005",
    "calibrated_on": "2027-04-03",
    "points": [
        {"pressure": {"value": 15, "unit": "[psi]"}, "force": {"value": 120, "unit": "[lbf_av]"}},
        {"pressure": {"value": 60, "unit": "[psi]"}, "force": {"value": 420, "unit": "[lbf_av]"}}
    ],
    "least_force": {"value": 120, "unit": "[lbf_av]"},
    "most_force": {"value": 420, "unit": "[lbf_av]"},
    "worst_miss": {"value": 0, "unit": "[lbf_av]"},
    "created_at": "2027-04-20T12:00:00Z",
    "created_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct Calibration {
    /// Id of the calibration.
    pub id: Uuid,
    /// The planter it was measured on.
    pub planter_id: Uuid,
    /// The day of the measurement.
    #[schema(example = "2027-04-03")]
    pub calibrated_on: NaiveDate,
    /// What was measured, as it was entered.
    #[schema(min_items = 2, max_items = 20)]
    pub points: Vec<CalibrationPoint>,
    /// Force of the fitted line at the least measured pressure. Outside the measured pressures
    /// nobody knows.
    pub least_force: Quantity,
    /// Force of the fitted line at the greatest measured pressure.
    pub most_force: Quantity,
    /// Largest distance of a point from the line; 0 with two points.
    pub worst_miss: Quantity,
    /// Notes.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Row 4, on a platform scale.")]
    pub notes: Option<String>,
    /// When it was entered.
    pub created_at: DateTime<Utc>,
    /// Account that entered it.
    pub created_by: Uuid,
}

impl Calibration {
    /// A row as it goes out, with computed values in `units`.
    pub fn show(row: calibrations::Model, units: Units) -> Result<Self, ApiError> {
        let line = super::store::line(&row)?;
        let calibrations::Model {
            practice_id: _,
            id,
            planter_id,
            calibrated_on,
            points,
            notes,
            created_at,
            created_by,
        } = row;
        let show = |force| Quantity::show(&bounds::DOWN_FORCE, force, units.into());
        let (least, most) = line.force_range();
        Ok(Self {
            id,
            planter_id,
            calibrated_on,
            points: serde_json::from_value(points).map_err(ApiError::internal)?,
            least_force: show(least),
            most_force: show(most),
            worst_miss: show(Force::from_si(line.fit().worst_miss)),
            notes,
            created_at,
            created_by,
        })
    }
}

/// A page of calibrations.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct CalibrationPage {
    /// The calibrations of this page, in the order in which they were entered.
    #[schema(max_items = 200)]
    pub items: Vec<Calibration>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which calibrations.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct CalibrationFilter {
    /// Units of computed values; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub units: Option<Units>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
