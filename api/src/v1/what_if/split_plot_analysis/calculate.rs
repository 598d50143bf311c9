//! `POST /v1/what-if/split-plot-analysis`

use actix_web::post;
use domain::provenance::{Input, Source};
use domain::trial::analysis::{SplitPlotAnalysis, SplitTerm, TrialError, split_plot};

use super::dto::{SplitCell, SplitLeast, SplitMean, SplitPlotFound, SplitPlotIn, SplitTableLine};
use super::parse::{Factor, Parsed};
use crate::auth::{Caller, CanRead};
use crate::http::quantity::six_digits;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query};
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;
use crate::v1::what_if::step::{Known, answer};

const YATES: Source = "Yates 1935. Complex experiments. J. R. Stat. Soc. Suppl. 2:181-247";
const RATIO_WHOLES: Known = Known::derived(
    "ratio of the factor on whole plots to its error",
    "MS_wholes / MS_whole_plots",
    YATES,
);
const RATIO_PARTS: Known =
    Known::derived("ratio of the factor on parts to its error", "MS_parts / MS_part_plots", YATES);

const LIKELIHOOD: Source = "Patterson and Thompson 1971. Recovery of inter-block information when block \
     sizes are unequal. Biometrika 58:545-554; Fai and Cornelius 1996. J. Stat. Comput. Simul. 54:363-378";
const WALD_WHOLES: Known = Known::derived(
    "ratio of the factor on whole plots to its error, plots lost",
    "restricted maximum likelihood",
    LIKELIHOOD,
);
const WALD_PARTS: Known = Known::derived(
    "ratio of the factor on parts to its error, plots lost",
    "restricted maximum likelihood",
    LIKELIHOOD,
);

/// Analysis of a split-plot trial.
///
/// Two factors at once: one on whole plots (speed, down force), one on the parts that they are split
/// into (closing wheels side by side). Each has an error of its own: whole plots are repeated less
/// often. Samples of a plot are averaged first. Where plots were lost, both errors are estimated by
/// restricted maximum likelihood and degrees of freedom are approximate.
///
/// Worked example (invented figures, analysed by the method of Yates 1935; his oats come out in the
/// tests): two speeds in three blocks, each split by two closing wheels.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_split_plot_analysis", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SplitPlotIn, description = "The factors and the plots."),
    responses((status = 200, description = "What they say.", body = SplitPlotFound), ComputeErrors),
)]
#[post("/what-if/split-plot-analysis")]
pub(in crate::v1::what_if) async fn calculate(
    _: Caller<CanRead>,
    _: Query<UnitsQuery>,
    body: Body<SplitPlotIn>,
) -> Result<Answer<SplitPlotFound>, ApiError> {
    answer(body.into_inner().work_out()).await
}

impl SplitPlotIn {
    fn work_out(self) -> Result<SplitPlotFound, ApiError> {
        let parsed = self.parse()?;
        let found = split_plot(&parsed.trial).map_err(|error| bad(error, &parsed))?;
        let (wholes, parts) = (&parsed.wholes, &parsed.parts);
        let line = |it: &domain::trial::analysis::SplitLine| SplitTableLine {
            term: it.term.into(),
            squares: it.squares.map(six_digits),
            df: it.df,
            error_df: it.error_df.map(six_digits),
            f: it.f.map(six_digits),
            p: it.p.map(six_digits),
        };
        Ok(SplitPlotFound {
            words: found.words(&wholes.name, &parts.name),
            lost_plots: found.lost,
            table: found.table.iter().map(line).collect(),
            whole_means: means(wholes, &found.whole_means),
            part_means: means(parts, &found.part_means),
            cell_means: cells(wholes, parts, &found),
            least_differences: found
                .least_differences
                .iter()
                .map(|it| SplitLeast {
                    of: it.of.into(),
                    standard_error: six_digits(it.se),
                    least: six_digits(it.least),
                })
                .collect(),
            trace: steps(&found),
        })
    }
}

fn means(factor: &Factor, means: &[f64]) -> Vec<SplitMean> {
    let levels = factor.levels.iter().zip(means);
    levels
        .map(|(level, mean)| SplitMean { level: level.clone(), mean: six_digits(*mean) })
        .collect()
}

fn cells(wholes: &Factor, parts: &Factor, found: &SplitPlotAnalysis) -> Vec<SplitCell> {
    let of_whole = |(level, means): (&String, &Vec<f64>)| -> Vec<SplitCell> {
        let cell = |(part, mean): (&String, &f64)| SplitCell {
            whole: level.clone(),
            part: part.clone(),
            mean: six_digits(*mean),
        };
        parts.levels.iter().zip(means).map(cell).collect()
    };
    wholes.levels.iter().zip(&found.cell_means).flat_map(of_whole).collect()
}

fn steps(found: &SplitPlotAnalysis) -> Vec<TraceStep> {
    let line = |term| found.table.iter().find(|l| l.term == term);
    let square = |term| {
        let line = line(term)?;
        (line.df > 0).then_some(six_digits(line.squares? / f64::from(line.df)))
    };
    let by_squares =
        |known: Known, own: (&'static str, SplitTerm), error: (&'static str, SplitTerm)| {
            let inputs = vec![
                Input::new(own.0, square(own.1)?, "1"),
                Input::new(error.0, square(error.1)?, "1"),
            ];
            Some(known.gives(inputs, six_digits(line(own.1)?.f?), "1"))
        };
    let by_likelihood = |known: Known, own: SplitTerm| {
        let own = line(own)?;
        let inputs = vec![
            Input::new("degrees_of_freedom", f64::from(own.df), "1"),
            Input::new("error_degrees_of_freedom", six_digits(own.error_df?), "1"),
        ];
        Some(known.gives(inputs, six_digits(own.f?), "1"))
    };
    let steps = if found.lost == 0 {
        let whole_error = ("MS_whole_plots", SplitTerm::WholePlots);
        let part_error = ("MS_part_plots", SplitTerm::PartPlots);
        [
            by_squares(RATIO_WHOLES, ("MS_wholes", SplitTerm::Wholes), whole_error),
            by_squares(RATIO_PARTS, ("MS_parts", SplitTerm::Parts), part_error),
        ]
    } else {
        [by_likelihood(WALD_WHOLES, SplitTerm::Wholes), by_likelihood(WALD_PARTS, SplitTerm::Parts)]
    };
    steps.into_iter().flatten().collect()
}

fn bad(error: TrialError, parsed: &Parsed) -> ApiError {
    let name = |factor: &Factor, level: usize| {
        factor.levels.get(level).map_or_else(String::new, Clone::clone)
    };
    let bad = match error {
        TrialError::Twice { plot, first } => BadMember::new(
            format!("/plots/{plot}"),
            format!(
                "Plot {first} of this list (counted from 0) is the same plot: put their values together."
            ),
        ),
        TrialError::NoneLeft { whole, part } => BadMember::new(
            "/plots",
            format!(
                "No plot is left with {} and {}: it can't be compared.",
                name(&parsed.wholes, whole),
                name(&parsed.parts, part)
            ),
        ),
        _ => BadMember::new(
            "/plots",
            "The blocks that are left share too few treatments to be compared.",
        ),
    };
    bad.into()
}

/// The answer to the example of the body, worked out.
pub(super) fn example() -> serde_json::Value {
    let found = [
        ("4 mph", "smooth", [88, 86, 90]),
        ("4 mph", "spiked", [91, 90, 92]),
        ("6 mph", "smooth", [82, 83, 84]),
        ("6 mph", "spiked", [88, 87, 90]),
    ];
    let plots: Vec<serde_json::Value> = found
        .iter()
        .flat_map(|(whole, part, values)| {
            (1..).zip(values).map(move |(block, value)| {
                serde_json::json!({"block": block, "whole": whole, "part": part, "values": [value]})
            })
        })
        .collect();
    let body = serde_json::json!({
        "whole": {"name": "speed", "levels": ["4 mph", "6 mph"]},
        "part": {"name": "closing wheels", "levels": ["smooth", "spiked"]},
        "plots": plots
    });
    serde_json::from_value::<SplitPlotIn>(body)
        .ok()
        .and_then(|it| it.work_out().ok())
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
