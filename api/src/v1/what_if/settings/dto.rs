//! A planter, a field and what is wanted, all in one body.

use chrono::{DateTime, Utc};
use domain::settings::Inputs;
use serde::Deserialize;
use utoipa::ToSchema;

use super::example;
use crate::http::{ApiError, Refused};
use crate::v1::calibrations::dto::{CalibrationPoint, fit};
use crate::v1::conditions::dto::ConditionsIn;
use crate::v1::planters::Makeup;
use crate::v1::recommendations::goals::GoalsIn;
use crate::v1::what_if::report::{conditions, inside};

/// A planter, a field and what is wanted, all inline.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!(example::body())))]
pub(in crate::v1::what_if) struct SettingsIn {
    /// What the planter is made of.
    pub makeup: Makeup,
    /// What was measured of its down force, at 2 to 20 pressures; nothing when absent.
    #[serde(default)]
    #[schema(max_items = 20)]
    pub calibration: Vec<CalibrationPoint>,
    /// What was seen and felt in the field.
    pub conditions: ConditionsIn,
    /// What is wanted; the engine's own choice when absent.
    #[serde(default)]
    pub goals: GoalsIn,
}

impl SettingsIn {
    /// The only way from the wire to the engine.
    pub(super) fn parse(&self, now: DateTime<Utc>) -> Result<Inputs, ApiError> {
        let Self { makeup, calibration, conditions: report, goals } = self;
        let mut refused = Refused::default();
        let line = match calibration.as_slice() {
            [] => None,
            points => refused.take_all(fit("/calibration", points)),
        };
        let planter = refused.take_all(makeup.parse("/makeup", line));
        let field = conditions(report, now, &mut refused);
        let goals = goals.parse("/goals").map_err(|error| inside("", &error));
        let goals = refused.take_all(goals);
        let (Some(planter), Some(field), Some(goals)) = (planter, field, goals) else {
            return Err(refused.into());
        };
        refused.finish()?;
        Ok(Inputs::new(planter, field, goals))
    }
}
