//! The changes of a coefficient, on the wire.

use chrono::{DateTime, Utc};
use domain::provenance::OwnFigure;
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store;
use crate::entities::own_coefficients;

/// Which page of the changes.
#[derive(Debug, Default, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct HistoryFilter {
    /// Rows of a page.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, default = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}

/// One change of a coefficient.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "version": 1,
    "figure": {
        "value": 620, "low": 450, "high": 900,
        "source": "pulled 12 openers with a load cell, April 2027"
    },
    "set_at": "2027-04-20T12:00:00Z", "set_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct CoefficientChange {
    /// Counts the changes of the coefficient.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
    /// The own figure from then on; absent where the practice went back to the standard.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub figure: Option<OwnFigureOut>,
    /// The note.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Heavier brackets since 2025.")]
    pub note: Option<String>,
    /// When.
    pub set_at: DateTime<Utc>,
    /// Account that made the change.
    pub set_by: Uuid,
}

/// An own figure, in the unit of its coefficient.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "value": 620, "low": 450, "high": 900, "source": "pulled 12 openers with a load cell, April 2027"
})))]
pub struct OwnFigureOut {
    /// The figure.
    #[schema(example = 620)]
    pub value: f64,
    /// Low end of the range.
    #[schema(example = 450)]
    pub low: f64,
    /// High end of the range.
    #[schema(example = 900)]
    pub high: f64,
    /// Where the practice has it from.
    #[schema(example = "pulled 12 openers with a load cell, April 2027")]
    pub source: String,
}

impl From<own_coefficients::Model> for CoefficientChange {
    fn from(row: own_coefficients::Model) -> Self {
        let figure = store::figure_of(&row).map(|own| {
            let OwnFigure { name: _, value, low, high, source } = own;
            OwnFigureOut { value, low, high, source }
        });
        let own_coefficients::Model { version, note, set_at, set_by, .. } = row;
        Self { version, figure, note, set_at, set_by }
    }
}

/// A page of the changes of a coefficient.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct CoefficientChangePage {
    /// The changes, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<CoefficientChange>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "01964f1e-6a00-7000-8000-000000000006")]
    pub next_cursor: Option<String>,
}
