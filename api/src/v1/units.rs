//! The system of units of computed answers.

use domain::quantity::System;
use sea_orm::{DeriveActiveEnum, EnumIter};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};

/// `us`: inches, pounds-force, acres, miles an hour. `si`: millimetres, newtons, hectares,
/// kilometres an hour. What was entered is always answered as it was entered.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Default,
    Serialize,
    Deserialize,
    ToSchema,
    EnumIter,
    DeriveActiveEnum,
)]
#[serde(rename_all = "snake_case")]
#[sea_orm(rs_type = "String", db_type = "Text")]
pub enum Units {
    /// Customary units of the United States.
    #[default]
    #[sea_orm(string_value = "us")]
    Us,
    /// Metric units.
    #[sea_orm(string_value = "si")]
    Si,
}

impl Units {
    /// The name on the wire.
    pub fn code(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Si => "si",
        }
    }
}

impl From<Units> for System {
    fn from(units: Units) -> Self {
        match units {
            Units::Us => Self::Us,
            Units::Si => Self::Si,
        }
    }
}

/// In which units a computed answer comes.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct UnitsQuery {
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
}
