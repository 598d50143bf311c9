//! What goes over the wire.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::parts::{CountedShare, PlanterMean, RowSummary};
use crate::http::patch::present;
use crate::http::quantity::{Quantities, Quantity};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::conditions::Crop;
use crate::v1::trace::TraceStep;

/// Seed depths of some rows.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "soybean",
    "depth_wanted": {"value": 1.5, "unit": "[in_i]"},
    "rows_of_planter": 6,
    "rows": [
        {"row": 1, "depths": {"unit": "[in_i]", "values": [1.545, 1.44, 1.44, 1.52, 1.58]}},
        {"row": 2, "depths": {"unit": "[in_i]", "values": [1.54, 1.555, 1.49, 1.56, 1.495]}},
        {"row": 3, "depths": {"unit": "[in_i]", "values": [1.595, 1.55, 1.605, 1.51, 1.56]}},
        {"row": 4, "depths": {"unit": "[in_i]", "values": [1.445, 1.44, 1.595, 1.465, 1.545]}},
        {"row": 5, "depths": {"unit": "[in_i]", "values": [1.595, 1.63, 1.515, 1.635, 1.625]}},
        {"row": 6, "depths": {"unit": "[in_i]", "values": [1.52, 1.455, 1.45, 1.48, 1.445]}}
    ]
})))]
pub(super) struct DepthStatisticsIn {
    /// The crop; for corn the share of seed that lies too shallow to root well is told.
    pub crop: Crop,
    /// The depth that was wanted. Bound: `planting_depth`.
    pub depth_wanted: Quantity,
    /// How far from it a seed may lie; the coefficient `depth_tolerance` when absent. Bound:
    /// `depth_tolerance`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub tolerance: Option<Quantity>,
    /// Rows of the planter.
    #[schema(minimum = 1, maximum = 64, example = 16)]
    pub rows_of_planter: u32,
    /// The rows that were dug.
    #[schema(min_items = 1, max_items = 64)]
    pub rows: Vec<DugRow>,
}

/// Seed depths of one row.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "row": 1, "depths": {"unit": "[in_i]", "values": [1.545, 1.44, 1.44, 1.52, 1.58]}
})))]
pub(super) struct DugRow {
    /// The row, counted from 1 at the left end.
    #[schema(minimum = 1, maximum = 64, example = 1)]
    pub row: u32,
    /// Depth of each seed, from the soil surface under the residue. Bound: `seed_depth`.
    pub depths: Quantities,
    /// Whether the row runs behind a tractor or planter tyre.
    #[serde(default)]
    #[schema(default = false)]
    pub behind_tyre: bool,
    /// Whether it is one of the outer rows of the bar.
    #[serde(default)]
    #[schema(default = false)]
    pub outer: bool,
}

/// What the depths say.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "seeds": 30,
    "mean": {"value": 1.5275, "unit": "[in_i]"},
    "sd": {"value": 0.063_023_7, "unit": "[in_i]"},
    "tolerance": {"value": 0.25, "unit": "[in_i]"},
    "within_tolerance": {
        "share": {"value": 100, "unit": "%"},
        "low": {"value": 74.4937, "unit": "%"},
        "high": {"value": 100, "unit": "%"},
        "counted": 30,
        "worth": 11.2194
    },
    "planter": {
        "mean": {"value": 1.5275, "unit": "[in_i]"},
        "low": {"value": 1.47767, "unit": "[in_i]"},
        "high": {"value": 1.57733, "unit": "[in_i]"},
        "rows": 6
    },
    "sd_between_rows": {"value": 0.042_000_6, "unit": "[in_i]"},
    "sd_within_rows": {"value": 0.049_510_1, "unit": "[in_i]"},
    "intraclass": 0.418_487,
    "rows_set_aside": [],
    "settled": true,
    "settled_words": "the mean lies within tolerance",
    "more_rows": 0,
    "rows": [
        {
            "row": 1,
            "seeds": 5,
            "mean": {"value": 1.505, "unit": "[in_i]"},
            "sd": {"value": 0.063_047_6, "unit": "[in_i]"}
        },
        {
            "row": 2,
            "seeds": 5,
            "mean": {"value": 1.528, "unit": "[in_i]"},
            "sd": {"value": 0.033_279_1, "unit": "[in_i]"}
        },
        {
            "row": 3,
            "seeds": 5,
            "mean": {"value": 1.564, "unit": "[in_i]"},
            "sd": {"value": 0.037_980_3, "unit": "[in_i]"}
        },
        {
            "row": 4,
            "seeds": 5,
            "mean": {"value": 1.498, "unit": "[in_i]"},
            "sd": {"value": 0.068_702_3, "unit": "[in_i]"}
        },
        {
            "row": 5,
            "seeds": 5,
            "mean": {"value": 1.6, "unit": "[in_i]"},
            "sd": {"value": 0.05, "unit": "[in_i]"}
        },
        {
            "row": 6,
            "seeds": 5,
            "mean": {"value": 1.47, "unit": "[in_i]"},
            "sd": {"value": 0.031_024_2, "unit": "[in_i]"}
        }
    ],
    "defaults": [
        {
            "name": "depth_tolerance",
            "symbol": "t",
            "what": "How far from the target a seed may lie",
            "value": 0.25,
            "low": 0.25,
            "high": 0.5,
            "unit": "[in_i]",
            "mark": "common_practice",
            "mark_words": "common practice, no source",
            "source": "common practice, no source",
            "corrected_by_digs": false
        }
    ],
    "trace": [
        {
            "step": "mean of the row means",
            "formula": "sum(row means) / rows",
            "inputs": [
                {"symbol": "row mean", "value": 38.227, "unit": "mm"},
                {"symbol": "row mean", "value": 38.8112, "unit": "mm"},
                {"symbol": "row mean", "value": 39.7256, "unit": "mm"},
                {"symbol": "row mean", "value": 38.0492, "unit": "mm"},
                {"symbol": "row mean", "value": 40.64, "unit": "mm"},
                {"symbol": "row mean", "value": 37.338, "unit": "mm"},
                {"symbol": "rows", "value": 6, "unit": "1"}
            ],
            "value": 38.7985,
            "unit": "mm",
            "source": "definition: Student's t over row means, rows as units; one-way random model",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "half the width of its 95 % interval",
            "formula": "t(0.975, rows - 1) s(row means) / sqrt(rows)",
            "inputs": [{"symbol": "rows", "value": 6, "unit": "1"}],
            "value": 1.2656,
            "unit": "mm",
            "source": "definition: Student's t over row means, rows as units; one-way random model",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "standard deviation between rows",
            "formula": "sqrt(max(0, (MS_between - MS_within) / n_0))",
            "inputs": [{"symbol": "s_within", "value": 1.25756, "unit": "mm"}],
            "value": 1.06682,
            "unit": "mm",
            "source": "definition: Student's t over row means, rows as units; one-way random model",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "share of the variance between rows",
            "formula": "s_between^2 / (s_between^2 + s_within^2)",
            "inputs": [
                {"symbol": "s_between", "value": 1.06682, "unit": "mm"},
                {"symbol": "s_within", "value": 1.25756, "unit": "mm"}
            ],
            "value": 0.418_487,
            "unit": "1",
            "source": "definition: Student's t over row means, rows as units; one-way random model",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "share within tolerance",
            "formula": "seeds within / seeds",
            "inputs": [
                {"symbol": "tolerance", "value": 6.35, "unit": "mm"},
                {"symbol": "seeds", "value": 30, "unit": "1"},
                {"symbol": "seeds they are worth", "value": 11.2194, "unit": "1"}
            ],
            "value": 1,
            "unit": "1",
            "source": "definition: Wilson's limits of a counted share",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct DepthSummary {
    /// Seeds that were measured.
    #[schema(example = 30)]
    pub seeds: u32,
    /// Mean of all seeds.
    pub mean: Quantity,
    /// Standard deviation of all seeds; absent with a single seed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// How far from the wanted depth a seed may lie.
    pub tolerance: Quantity,
    /// Share of seeds within tolerance.
    pub within_tolerance: CountedShare,
    /// The mean with rows as units, over the rows that speak for the planter.
    pub planter: PlanterMean,
    /// Standard deviation between rows; absent when it can't be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd_between_rows: Option<Quantity>,
    /// Standard deviation from seed to seed within a row; absent when it can't be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd_within_rows: Option<Quantity>,
    /// Share of the variance that lies between rows, 0 to 1; absent when it can't be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.418_487)]
    pub intraclass: Option<f64>,
    /// Numbers of rows that do not speak for the planter, and were set aside.
    #[schema(max_items = 64, example = json!([]))]
    pub rows_set_aside: Vec<u16>,
    /// Whether the dig settles where the mean lies.
    #[schema(example = true)]
    pub settled: bool,
    /// The same in words.
    #[schema(example = "the mean lies within tolerance")]
    pub settled_words: String,
    /// Rows to dig besides those that were dug, where that is likely to settle it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0)]
    pub more_rows: Option<u16>,
    /// Row by row.
    #[schema(max_items = 64)]
    pub rows: Vec<RowSummary>,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 100)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 100)]
    pub trace: Vec<TraceStep>,
}
