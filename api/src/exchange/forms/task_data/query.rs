//! What a task file is to carry.

use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};

use crate::v1::units::Units;

/// The version of the file: ISO 11783-10 of 2015 (4), or the one before (3).
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[schema(example = "v4")]
pub enum TaskDataVersion {
    /// 4.3, with links that keep our ids.
    #[default]
    #[serde(rename = "v4")]
    Four,
    /// 3.3, for older terminals.
    #[serde(rename = "v3")]
    Three,
}

/// What a task file is to carry beside the rates.
#[derive(Debug, Clone, Copy, Default, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct TaskDataQuery {
    /// The version of the file; `v4` when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "v4")]
    pub version: Option<TaskDataVersion>,
    /// Whether to put in a setpoint of the depth (DDI 56). Few terminals obey it; the lever is set by hand.
    #[serde(default)]
    #[param(nullable = false, example = false)]
    pub depth_setpoint: Option<bool>,
    /// Whether to put in a setpoint of the down force (DDI 426).
    #[serde(default)]
    #[param(nullable = false, example = false)]
    pub down_force_setpoint: Option<bool>,
    /// Whether to put in a setpoint of the speed (DDI 396).
    #[serde(default)]
    #[param(nullable = false, example = false)]
    pub speed_setpoint: Option<bool>,
    /// Units of the notes; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
}
