//! What goes in and what comes out.

use domain::trial::analysis as domain;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::v1::mirror::mirror;
use crate::v1::trace::TraceStep;

mirror! {
    /// Where scatter comes from: `blocks`, the factor on whole plots (`wholes`) with its error
    /// `whole_plots`, the factor on `parts`, both `together` with their error `part_plots`, and
    /// `samples` within plots.
    SplitScatterTerm = domain::SplitTerm {
        Blocks Wholes WholePlots Parts Together PartPlots Samples
    }

    /// What is compared: two levels on whole plots (`wholes`), on `parts`, two `parts_of_one_whole`, or
    /// two `wholes_at_one_part`.
    SplitCompared = domain::SplitComparison { Wholes Parts PartsOfOneWhole WholesAtOnePart }
}

/// A trial of two factors with what was measured. Plots that were lost are left out of the list; some
/// plot must be left of every part at every level of the whole plots.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "whole": {"name": "speed", "levels": ["4 mph", "6 mph"]},
    "part": {"name": "closing wheels", "levels": ["smooth", "spiked"]},
    "plots": [
        {"block": 1, "whole": "4 mph", "part": "smooth", "values": [88]},
        {"block": 1, "whole": "4 mph", "part": "spiked", "values": [91]},
        {"block": 1, "whole": "6 mph", "part": "smooth", "values": [82]},
        {"block": 1, "whole": "6 mph", "part": "spiked", "values": [88]},
        {"block": 2, "whole": "4 mph", "part": "smooth", "values": [86]},
        {"block": 2, "whole": "4 mph", "part": "spiked", "values": [90]},
        {"block": 2, "whole": "6 mph", "part": "smooth", "values": [83]},
        {"block": 2, "whole": "6 mph", "part": "spiked", "values": [87]},
        {"block": 3, "whole": "4 mph", "part": "smooth", "values": [90]},
        {"block": 3, "whole": "4 mph", "part": "spiked", "values": [92]},
        {"block": 3, "whole": "6 mph", "part": "smooth", "values": [84]},
        {"block": 3, "whole": "6 mph", "part": "spiked", "values": [90]}
    ]
})))]
pub(super) struct SplitPlotIn {
    /// The factor that needs whole plots.
    pub whole: SplitFactor,
    /// The factor within them.
    pub part: SplitFactor,
    /// Confidence of the intervals in percent, 90 or 95; 95 when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 90, maximum = 95, example = 95)]
    pub confidence: Option<u8>,
    /// The plots that were measured.
    #[schema(min_items = 4, max_items = 400)]
    pub plots: Vec<SplitPart>,
}

/// A factor.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"name": "closing wheels", "levels": ["smooth", "spiked"]})))]
pub(super) struct SplitFactor {
    /// Its name as it stands in a sentence.
    #[schema(max_length = 60, example = "closing wheels")]
    pub name: String,
    /// Its levels, each once.
    #[schema(min_items = 2, max_items = 8, max_length = 120, example = json!(["smooth", "spiked"]))]
    pub levels: Vec<String>,
}

/// One part of a whole plot.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"block": 1, "whole": "4 mph", "part": "spiked", "values": [91]})))]
pub(super) struct SplitPart {
    /// Its block, counted from 1.
    #[schema(minimum = 1, maximum = 400, example = 1)]
    pub block: u32,
    /// Level of the factor on whole plots.
    #[schema(max_length = 120, example = "4 mph")]
    pub whole: String,
    /// Level of the factor on parts.
    #[schema(max_length = 120, example = "spiked")]
    pub part: String,
    /// What was measured in it; several samples are averaged.
    #[schema(min_items = 1, max_items = 200, example = json!([91]))]
    pub values: Vec<f64>,
}

/// What the plots say.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(super::calculate::example())))]
pub(super) struct SplitPlotFound {
    /// What can be concluded and what can't.
    #[schema(max_items = 10, example = json!(["Speed: levels differ."]))]
    pub words: Vec<String>,
    /// Parts of whole plots, of all blocks, that nothing was measured in.
    #[schema(minimum = 0, example = 0)]
    pub lost_plots: u32,
    /// The table, of plot means.
    #[schema(max_items = 7)]
    pub table: Vec<SplitTableLine>,
    /// Means of the factor on whole plots, over all parts; where plots were lost, those to be expected
    /// without the loss.
    #[schema(max_items = 8)]
    pub whole_means: Vec<SplitMean>,
    /// Means of the factor on parts, over all whole plots.
    #[schema(max_items = 8)]
    pub part_means: Vec<SplitMean>,
    /// Means of each part at each level of the whole plots.
    #[schema(max_items = 64)]
    pub cell_means: Vec<SplitCell>,
    /// The least differences that count as shown, for one comparison; where plots were lost, of the two
    /// levels that are the hardest to tell apart.
    #[schema(max_items = 4)]
    pub least_differences: Vec<SplitLeast>,
    /// The calculation.
    #[schema(max_items = 10)]
    pub trace: Vec<TraceStep>,
}

/// A line of the table.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"term": "wholes", "squares": 75, "df": 1, "error_df": 2, "f": 30.1, "p": 0.03})))]
pub(super) struct SplitTableLine {
    /// Where the scatter comes from.
    pub term: SplitScatterTerm,
    /// Sum of squares; absent where plots were lost, since sources can't be parted by squares then.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 75)]
    pub squares: Option<f64>,
    /// Degrees of freedom.
    #[schema(minimum = 0, example = 1)]
    pub df: u32,
    /// Degrees of freedom of its own error; where plots were lost about so many, and not a whole number.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, example = 2)]
    pub error_df: Option<f64>,
    /// Ratio to its own error.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 30.1)]
    pub f: Option<f64>,
    /// The chance of it without an effect.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.03)]
    pub p: Option<f64>,
}

/// The mean of a level.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"level": "4 mph", "mean": 89.5})))]
pub(super) struct SplitMean {
    /// The level.
    #[schema(example = "4 mph")]
    pub level: String,
    /// Its mean.
    #[schema(example = 89.5)]
    pub mean: f64,
}

/// The mean of a part at a level of the whole plots.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"whole": "4 mph", "part": "spiked", "mean": 91})))]
pub(super) struct SplitCell {
    /// Level on whole plots.
    #[schema(example = "4 mph")]
    pub whole: String,
    /// Level on parts.
    #[schema(example = "spiked")]
    pub part: String,
    /// Its mean.
    #[schema(example = 91)]
    pub mean: f64,
}

/// A least difference.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"of": "parts", "standard_error": 0.6, "least": 1.7})))]
pub(super) struct SplitLeast {
    /// What is compared.
    pub of: SplitCompared,
    /// Standard error of the difference.
    #[schema(example = 0.6)]
    pub standard_error: f64,
    /// The least difference that counts as shown.
    #[schema(example = 1.7)]
    pub least: f64,
}
