//! What goes in and what comes out.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::v1::trace::TraceStep;
use crate::v1::trials::BetterWay;
use crate::v1::trials::analysis::figures::{AnalysedAs, TrialFigures};
use crate::v1::trials::analysis::verdict::TrialVerdict;

/// A trial with what was measured.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "design": "randomised_blocks",
    "treatments": ["V1", "V2", "V3", "V4"],
    "randomised": true,
    "response": {"what": "yield", "unit": "t/ha", "better": "higher"},
    "plots": [
        {"treatment": "V1", "block": 1, "values": [7.4]},
        {"treatment": "V2", "block": 1, "values": [9.8]},
        {"treatment": "V3", "block": 1, "values": [7.3]},
        {"treatment": "V4", "block": 1, "values": [9.5]},
        {"treatment": "V1", "block": 2, "values": [6.5]},
        {"treatment": "V2", "block": 2, "values": [6.8]},
        {"treatment": "V3", "block": 2, "values": [6.1]},
        {"treatment": "V4", "block": 2, "values": [8.0]},
        {"treatment": "V1", "block": 3, "values": [5.6]},
        {"treatment": "V2", "block": 3, "values": [6.2]},
        {"treatment": "V3", "block": 3, "values": [6.4]},
        {"treatment": "V4", "block": 3, "values": [7.4]}
    ]
})))]
pub(super) struct TrialDataIn {
    /// How treatments were put on the ground.
    pub design: AnalysedAs,
    /// Names of the treatments, each once, as they stand in a sentence.
    #[schema(min_items = 2, max_items = 6, max_length = 120, example = json!(["smooth wheels", "spiked wheels"]))]
    pub treatments: Vec<String>,
    /// The treatment that the others are held against; all pairs are compared when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, max_length = 120, example = "smooth wheels")]
    pub control: Option<String>,
    /// Whether chance decided which plot got which treatment.
    #[schema(example = true)]
    pub randomised: bool,
    /// Confidence of the intervals in percent, 90 or 95; 95 when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 90, maximum = 95, example = 95)]
    pub confidence: Option<u8>,
    /// What was measured.
    pub response: TrialDataResponse,
    /// The smallest difference that would matter, in the unit of the values.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.000_000_001, maximum = 1_000_000_000, example = 3)]
    pub matters: Option<f64>,
    /// The plots. One that was lost is left out, or has no values.
    #[schema(min_items = 1, max_items = 400)]
    pub plots: Vec<TrialDataPlot>,
}

/// What was measured.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"what": "emergence", "unit": "%", "better": "higher", "share": true})))]
pub(super) struct TrialDataResponse {
    /// As it stands in a sentence.
    #[schema(max_length = 60, example = "emergence")]
    pub what: String,
    /// The unit as people write it; a plain number when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, max_length = 20, example = "%")]
    pub unit: Option<String>,
    /// Which way is better.
    pub better: BetterWay,
    /// Whether values are shares from 0 to 100 %; no when absent.
    #[serde(default)]
    #[schema(example = true)]
    pub share: bool,
}

/// One plot: the ground that got one treatment once.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"treatment": "spiked wheels", "block": 1, "values": [91, 88, 92]})))]
pub(super) struct TrialDataPlot {
    /// Its treatment, by name.
    #[schema(max_length = 120, example = "spiked wheels")]
    pub treatment: String,
    /// Its block, pair or pass, counted from 1; not used without blocks.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 400, example = 1)]
    pub block: Option<u32>,
    /// What was measured in it: one value, or one for each dig, count or row, which are averaged.
    #[schema(max_items = 200, example = json!([91, 88, 92]))]
    pub values: Vec<f64>,
}

/// What the plots say.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(super::calculate::example())))]
pub(super) struct TrialDataAnalysis {
    /// What can be concluded and what can't.
    pub verdict: TrialVerdict,
    /// The figures.
    pub figures: TrialFigures,
    /// The calculation.
    #[schema(max_items = 20)]
    pub trace: Vec<TraceStep>,
}
