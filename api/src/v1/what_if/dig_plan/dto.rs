//! What goes in.

use serde::Deserialize;
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::http::quantity::Quantity;

/// A planter, and what earlier digs showed.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "rows_of_planter": 8,
    "tyre_rows": [3, 6],
    "tolerance": {"value": 0.25, "unit": "[in_i]"}
})))]
pub(super) struct DigPlanIn {
    /// Rows of the planter.
    #[schema(minimum = 1, maximum = 64, example = 8)]
    pub rows_of_planter: u16,
    /// Rows behind a tractor or planter tyre, counted from 1 at the left end, each once.
    #[serde(default)]
    #[schema(max_items = 64, example = json!([3, 6]))]
    pub tyre_rows: Vec<u16>,
    /// How far from the wanted depth a seed may lie; the coefficient `depth_tolerance` when absent.
    /// Bound: `depth_tolerance`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub tolerance: Option<Quantity>,
    /// How sure the interval of the mean should be; 0.95 when absent, as digs are judged.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.5, maximum = 0.99, example = 0.95)]
    pub confidence: Option<f64>,
    /// What earlier digs on this planter showed of the spread of depth.
    #[serde(default)]
    #[schema(max_items = 100)]
    pub seen: Vec<SeenSpread>,
    /// The rows of the last dig: other rows are taken, except those that were odd.
    #[serde(default)]
    #[schema(max_items = 64)]
    pub dug: Vec<DugBefore>,
}

/// What one dig showed of the spread of depth.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "rows": 5, "seeds": 25,
    "sd_between_rows": {"value": 0.08, "unit": "[in_i]"},
    "sd_within_rows": {"value": 0.2, "unit": "[in_i]"}
})))]
pub(super) struct SeenSpread {
    /// Rows that were dug.
    #[schema(minimum = 2, maximum = 64, example = 5)]
    pub rows: u32,
    /// Seeds that were measured in all, more than rows.
    #[schema(minimum = 3, maximum = 12800, example = 25)]
    pub seeds: u32,
    /// Standard deviation between rows. Bound: `depth_sd`.
    pub sd_between_rows: Quantity,
    /// Standard deviation from seed to seed within a row. Bound: `depth_sd`.
    pub sd_within_rows: Quantity,
}

/// A row of the last dig.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"row": 4, "odd": true})))]
pub(super) struct DugBefore {
    /// The row.
    #[schema(minimum = 1, maximum = 64, example = 4)]
    pub row: u16,
    /// Whether it differed from the others, so that it is dug again.
    #[serde(default)]
    #[schema(example = true)]
    pub odd: bool,
}
