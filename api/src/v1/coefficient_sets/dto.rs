//! What goes over the wire.

use chrono::{DateTime, Utc};
use domain::provenance::Figure;
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::store;
use crate::entities::coefficient_sets;
use crate::http::ApiError;
use crate::v1::trace::Mark;

/// A set of coefficients as a recommendation was worked out with it. Never changed.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "8f3c6e0a-51d2-8b77-9a10-3d5c2e8f4b61",
    "engine": "2026.4",
    "created_at": "2027-04-20T12:00:00Z",
    "figures": [{
        "name": "unit_weight", "value": 778, "low": 667, "high": 890, "unit": "N",
        "mark": "read", "mark_words": "read in the source",
        "source": "Iowa State University Extension, as reported in the farm press, about 2023. Why planter downforce is so important"
    }]
})))]
pub struct CoefficientSet {
    /// Id of the set, made from its content.
    pub id: Uuid,
    /// Version of the engine that the set was made for.
    #[schema(example = "2026.4")]
    pub engine: String,
    /// When it was first used.
    pub created_at: DateTime<Utc>,
    /// The figures, in the order of the model.
    #[schema(max_items = 1000)]
    pub figures: Vec<StoredFigure>,
}

/// One figure of a stored set.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "name": "opener_resistance", "value": 620, "low": 450, "high": 900, "unit": "N",
    "mark": "own", "mark_words": "the practice's own figure",
    "source": "pulled 12 openers with a load cell, April 2027"
})))]
pub struct StoredFigure {
    /// Name of the coefficient.
    #[schema(example = "opener_resistance")]
    pub name: String,
    /// The figure, in `unit`.
    #[schema(example = 620)]
    pub value: f64,
    /// Low end of the range, in `unit`.
    #[schema(example = 450)]
    pub low: f64,
    /// High end of the range, in `unit`.
    #[schema(example = 900)]
    pub high: f64,
    /// UCUM code, `1` for a plain number.
    #[schema(example = "N")]
    pub unit: String,
    /// How the figure was known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "the practice's own figure")]
    pub mark_words: String,
    /// The source, or that there was none.
    #[schema(example = "pulled 12 openers with a load cell, April 2027")]
    pub source: String,
}

impl CoefficientSet {
    /// The answer for a row.
    pub(super) fn of(row: coefficient_sets::Model) -> Result<Self, ApiError> {
        let figures = store::figures_of(&row)?.into_iter().map(StoredFigure::from).collect();
        let coefficient_sets::Model { id, engine_version, created_at, .. } = row;
        Ok(Self { id, engine: engine_version, created_at, figures })
    }
}

impl From<Figure> for StoredFigure {
    fn from(figure: Figure) -> Self {
        let Figure { name, value, low, high, unit, mark, source } = figure;
        Self {
            name: name.into_owned(),
            value,
            low,
            high,
            unit: unit.into_owned(),
            mark: mark.into(),
            mark_words: mark.words().to_owned(),
            source: source.into_owned(),
        }
    }
}
