//! `POST /v1/what-if/split-plot-analysis`

use actix_web::post;
use domain::provenance::{Input, Source};
use domain::trial::analysis::{SplitPlotAnalysis, SplitTerm, TrialError, split_plot};

use super::dto::{SplitCell, SplitLeast, SplitMean, SplitPlotFound, SplitPlotIn, SplitTableLine};
use super::parse::Factor;
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

/// Analysis of a split-plot trial.
///
/// Two factors at once: one on whole plots (speed, down force), one on the parts that they are split
/// into (closing wheels side by side). Each has an error of its own: whole plots are repeated less
/// often. Samples of a plot are averaged first.
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
        let found = split_plot(&parsed.trial).map_err(|error| ApiError::from(bad(error)))?;
        let (wholes, parts) = (&parsed.wholes, &parsed.parts);
        let line = |it: &domain::trial::analysis::SplitLine| SplitTableLine {
            term: it.term.into(),
            squares: six_digits(it.squares),
            df: it.df,
            f: it.f.map(six_digits),
            p: it.p.map(six_digits),
        };
        Ok(SplitPlotFound {
            words: found.words(&wholes.name, &parts.name),
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
    let square = |term| {
        let line = found.table.iter().find(|l| l.term == term)?;
        (line.df > 0).then(|| six_digits(line.squares / f64::from(line.df)))
    };
    let step = |known: Known, own: (&'static str, SplitTerm), error: (&'static str, SplitTerm)| {
        let f = found.table.iter().find(|l| l.term == own.1)?.f?;
        let inputs = vec![
            Input::new(own.0, square(own.1)?, "1"),
            Input::new(error.0, square(error.1)?, "1"),
        ];
        Some(known.gives(inputs, six_digits(f), "1"))
    };
    let wholes = step(
        RATIO_WHOLES,
        ("MS_wholes", SplitTerm::Wholes),
        ("MS_whole_plots", SplitTerm::WholePlots),
    );
    let parts =
        step(RATIO_PARTS, ("MS_parts", SplitTerm::Parts), ("MS_part_plots", SplitTerm::PartPlots));
    wholes.into_iter().chain(parts).collect()
}

fn bad(error: TrialError) -> BadMember {
    match error {
        TrialError::Twice { plot, first } => BadMember::new(
            format!("/plots/{plot}"),
            format!(
                "Plot {first} of this list (counted from 0) is the same plot: put their values together."
            ),
        ),
        _ => BadMember::new("/plots", "Every part of every whole plot must stand in every block."),
    }
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
