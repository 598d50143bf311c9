//! Parts of the answer.

use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;

/// A counted share with its 95 % limits (Wilson).
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "share": {"value": 100, "unit": "%"}, "low": {"value": 74.4937, "unit": "%"},
    "high": {"value": 100, "unit": "%"}, "counted": 30, "worth": 11.2194
})))]
pub(super) struct CountedShare {
    /// The share that was seen.
    pub share: Quantity,
    /// Low limit.
    pub low: Quantity,
    /// High limit.
    pub high: Quantity,
    /// Seeds that were counted.
    #[schema(example = 30)]
    pub counted: u32,
    /// Independent seeds that they are worth: seeds of one row resemble each other.
    #[schema(example = 11.2)]
    pub worth: f64,
}

/// A mean with rows as units.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "mean": {"value": 1.5275, "unit": "[in_i]"}, "low": {"value": 1.478, "unit": "[in_i]"},
    "high": {"value": 1.577, "unit": "[in_i]"}, "rows": 6
})))]
pub(super) struct PlanterMean {
    /// Mean of the row means.
    pub mean: Quantity,
    /// Low limit of 95 %; absent with one row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub low: Option<Quantity>,
    /// High limit of 95 %; absent with one row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub high: Option<Quantity>,
    /// Rows that it rests on.
    #[schema(example = 6)]
    pub rows: u32,
}

/// One row.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "row": 1, "seeds": 5, "mean": {"value": 1.505, "unit": "[in_i]"},
    "sd": {"value": 0.0626, "unit": "[in_i]"}
})))]
pub(super) struct RowSummary {
    /// The row.
    #[schema(example = 1)]
    pub row: u16,
    /// Seeds that were measured in it.
    #[schema(example = 5)]
    pub seeds: u32,
    /// Their mean.
    pub mean: Quantity,
    /// Their standard deviation; absent with a single seed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
}
