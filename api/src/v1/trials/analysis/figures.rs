//! The figures of an analysis over the wire. A figure that can't be told is absent.

use domain::trial::analysis as domain;
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::six_digits;
use crate::v1::mirror::mirror;

mirror! {
    /// The design that it was analysed by.
    AnalysedAs = domain::DesignKind { Paired RandomisedBlocks CompletelyRandomised SplitPlanter }

    /// Where scatter comes from: `blocks`, `treatments` (blocks taken out), `plots` (the error),
    /// `total`, and `samples` within plots, on which no test of treatments rests.
    ScatterTerm = domain::Term { Blocks Treatments Plots Total Samples }

    /// How effects were held against each other: two treatments by Student's t, several against a
    /// control by Dunnett, all pairs by Tukey and Kramer.
    ComparedBy = domain::Comparison { StudentT Dunnett TukeyKramer }

    /// What a difference means: it is shown and `matters`; it is `shown`; it is `too_small` to matter,
    /// whether it is there or not; one `cant_tell`; or there was `no_replication`.
    EffectReading = domain::Reading { Matters Shown TooSmall CantTell NoReplication }

    /// What was checked: `bell`-shaped scatter (Shapiro and Wilk), `one_apart` (Grubbs), `same_scatter`
    /// of treatments (Brown and Forsythe), `same_in_all_blocks` (Tukey, one degree of freedom),
    /// `samples_scatter_alike` (Cochran, Bartlett), shares `at_the_ends` of 0 and 100 %.
    CheckedFor = domain::CheckKind {
        Bell OneApart SameScatter SameInAllBlocks SamplesScatterAlike AtTheEnds
    }

    /// How a check came out.
    CheckedResult = domain::CheckResult { Fine Doubtful CantTell }
}

/// The figures of one response.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialFigures {
    /// The design that it was analysed by.
    pub analysed_as: AnalysedAs,
    /// Confidence of the intervals, in percent.
    #[schema(minimum = 90, maximum = 95, example = 95)]
    pub confidence: u8,
    /// What it rests on.
    pub rests_on: TrialBasis,
    /// Treatment by treatment, in the order of the design.
    #[schema(max_items = 6)]
    pub means: Vec<TrialMean>,
    /// The table of analysis, of plot means.
    #[schema(max_items = 10)]
    pub table: Vec<TrialTableLine>,
    /// Standard deviation from plot to plot that neither treatment nor block explains.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 2.4)]
    pub residual_sd: Option<f64>,
    /// The same in percent of the mean of all plots.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 2.7)]
    pub cv_percent: Option<f64>,
    /// How effects were held against each other.
    pub compared_by: ComparedBy,
    /// Differences between treatments.
    #[schema(max_items = 15)]
    pub effects: Vec<TrialEffect>,
    /// The least difference of two means that counts as shown, for one comparison (LSD).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 3.2)]
    pub least_difference: Option<f64>,
    /// The same when all pairs are compared (HSD).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 4.1)]
    pub honest_difference: Option<f64>,
    /// How many times the replications one would need without the blocks.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 1.8)]
    pub relative_efficiency: Option<f64>,
    /// Variance from plot to plot, where plots were sampled more than once.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 4.4)]
    pub variance_of_plots: Option<f64>,
    /// Variance from sample to sample within a plot, where plots were sampled more than once.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 6.1)]
    pub variance_of_samples: Option<f64>,
    /// Of pairs: in how many of them the first treatment of the effect did more than the other.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pairs: Option<TrialPairs>,
    /// Whether what the analysis takes for granted holds.
    #[schema(max_items = 10)]
    pub checks: Vec<TrialCheck>,
}

/// What an analysis rests on.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialBasis {
    /// Plots that have a value.
    #[schema(minimum = 0, maximum = 400, example = 10)]
    pub plots: u32,
    /// Blocks that help to compare treatments.
    #[schema(minimum = 0, maximum = 400, example = 5)]
    pub blocks: u32,
    /// Values in all: digs, counts, rows.
    #[schema(minimum = 0, example = 30)]
    pub values: u32,
    /// Degrees of freedom of the error. Below 1 nothing can be said about chance.
    #[schema(minimum = 0, example = 4)]
    pub error_df: u32,
    /// Whether all treatments can be compared through the blocks that are left.
    #[schema(example = true)]
    pub connected: bool,
}

/// One treatment.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialMean {
    /// Name of the treatment.
    #[schema(example = "spiked wheels")]
    pub treatment: String,
    /// Its plots that have a value.
    #[schema(minimum = 0, maximum = 400, example = 5)]
    pub plots: u32,
    /// Plain mean of its plots.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 92.1)]
    pub plain: Option<f64>,
    /// Mean as if it had stood in every block.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 92.1)]
    pub adjusted: Option<f64>,
    /// Standard error of the adjusted mean.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.9)]
    pub standard_error: Option<f64>,
    /// Low limit of the adjusted mean.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 89.6)]
    pub low: Option<f64>,
    /// High limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 94.6)]
    pub high: Option<f64>,
}

/// A line of the table of analysis.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialTableLine {
    /// Where the scatter comes from.
    pub term: ScatterTerm,
    /// Sum of squares.
    #[schema(example = 62.5)]
    pub squares: f64,
    /// Degrees of freedom.
    #[schema(minimum = 0, example = 1)]
    pub df: u32,
    /// Mean square.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 62.5)]
    pub mean_square: Option<f64>,
    /// Ratio to the mean square of the plots.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 11.2)]
    pub f: Option<f64>,
    /// The chance of such a ratio without an effect.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.029)]
    pub p: Option<f64>,
}

/// A difference between two treatments: what a drawing of effects needs.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialEffect {
    /// The treatment.
    #[schema(example = "spiked wheels")]
    pub treatment: String,
    /// What it is held against.
    #[schema(example = "smooth wheels")]
    pub against: String,
    /// Its adjusted mean less that of the other.
    #[schema(example = 5)]
    pub difference: f64,
    /// The same in percent of the other's mean.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 5.7)]
    pub percent: Option<f64>,
    /// Its standard error.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 1.5)]
    pub standard_error: Option<f64>,
    /// Low limit, held for the number of comparisons.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.8)]
    pub low: Option<f64>,
    /// High limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 9.2)]
    pub high: Option<f64>,
    /// The difference over its standard error.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 3.3)]
    pub t: Option<f64>,
    /// The chance of such a difference without an effect, held for the number of comparisons. Absent
    /// without replication.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.029)]
    pub p: Option<f64>,
    /// What it means.
    pub reading: EffectReading,
}

/// The pairs of a trial with two treatments.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialPairs {
    /// Pairs that are whole.
    #[schema(minimum = 0, maximum = 12, example = 5)]
    pub pairs: u32,
    /// Pairs in which the first treatment of the effect did more than the other.
    #[schema(minimum = 0, maximum = 12, example = 5)]
    pub more: u32,
    /// Standard deviation of the differences.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 3.4)]
    pub sd: Option<f64>,
    /// The chance by the exact signed-rank test.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.0625)]
    pub signed_rank_p: Option<f64>,
    /// The chance by all ways in which the signs could have fallen.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.0625)]
    pub sign_flip_p: Option<f64>,
}

/// One check of what an analysis takes for granted.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialCheck {
    /// What was checked.
    pub checked: CheckedFor,
    /// How it came out.
    pub result: CheckedResult,
    /// The chance of it when all is well.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.41)]
    pub p: Option<f64>,
    /// The same in words.
    #[schema(example = "what is left over is spread as a bell")]
    pub words: String,
}

/// The figures of an analysis, with the names of the treatments.
pub fn figures(analysis: &domain::Analysis, names: &[String]) -> TrialFigures {
    let name = |place: usize| names.get(place).cloned().unwrap_or_default();
    let parts = analysis.components;
    TrialFigures {
        analysed_as: analysis.design.into(),
        confidence: analysis.confidence.percent(),
        rests_on: basis(&analysis.rests_on),
        means: analysis.means.iter().map(|it| mean(it, name(it.treatment))).collect(),
        table: analysis.table.iter().map(line).collect(),
        residual_sd: short(analysis.residual_sd),
        cv_percent: short(analysis.cv_percent),
        compared_by: analysis.comparison.into(),
        effects: analysis
            .effects
            .iter()
            .map(|it| effect(it, name(it.treatment), name(it.against)))
            .collect(),
        least_difference: short(analysis.least_difference),
        honest_difference: short(analysis.honest_difference),
        relative_efficiency: short(analysis.relative_efficiency),
        variance_of_plots: short(parts.map(|it| it.plots)),
        variance_of_samples: short(parts.map(|it| it.samples)),
        pairs: analysis.pairs.as_ref().map(pairs),
        checks: analysis.checks.iter().map(check).collect(),
    }
}

fn short(value: Option<f64>) -> Option<f64> {
    value.map(six_digits)
}

fn basis(it: &domain::RestsOn) -> TrialBasis {
    TrialBasis {
        plots: it.plots,
        blocks: it.blocks,
        values: it.values,
        error_df: it.error_df,
        connected: it.connected,
    }
}

fn mean(it: &domain::TreatmentMean, treatment: String) -> TrialMean {
    TrialMean {
        treatment,
        plots: it.plots,
        plain: short(it.plain),
        adjusted: short(it.adjusted),
        standard_error: short(it.se),
        low: short(it.low),
        high: short(it.high),
    }
}

fn line(it: &domain::Line) -> TrialTableLine {
    TrialTableLine {
        term: it.term.into(),
        squares: six_digits(it.squares),
        df: it.df,
        mean_square: short(it.mean_square),
        f: short(it.f),
        p: short(it.p),
    }
}

fn effect(it: &domain::Effect, treatment: String, against: String) -> TrialEffect {
    TrialEffect {
        treatment,
        against,
        difference: six_digits(it.difference),
        percent: short(it.percent),
        standard_error: short(it.se),
        low: short(it.low),
        high: short(it.high),
        t: short(it.t),
        p: short(it.p),
        reading: it.reading.into(),
    }
}

fn pairs(it: &domain::Pairs) -> TrialPairs {
    TrialPairs {
        pairs: it.pairs,
        more: it.more,
        sd: short(it.sd),
        signed_rank_p: short(it.signed_rank.map(|it| it.p)),
        sign_flip_p: short(it.sign_flip.map(|it| it.p)),
    }
}

fn check(it: &domain::Check) -> TrialCheck {
    TrialCheck {
        checked: it.kind.into(),
        result: it.result.into(),
        p: short(it.p),
        words: it.words.clone(),
    }
}
