//! A trial that is planned, as calculations take it: design, scatter, confidence.

use domain::provenance::{Coefficient as Figure, Coefficients, Input, Source};
use domain::trial::analysis::Confidence;
use domain::trial::power::{Planned, sd_of_plot};
use serde::Deserialize;
use utoipa::ToSchema;

use super::member::{number, whole};
use super::step::Known;
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused};
use crate::tagged_union;
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::conditions::Crop;
use crate::v1::trace::TraceStep;
use crate::v1::trials::analysis::figures::AnalysedAs;

/// Treatments beyond which nobody lays out a trial.
pub(super) const MOST_TREATMENTS: u32 = 12;
/// Replications beyond which nobody lays out a trial.
pub(super) const MOST_REPLICATIONS: u32 = 100;

pub(super) const NONCENTRAL_T: Source =
    "definition: noncentral t against the critical value of the test that the analysis makes";

const SD_FROM_CV: Known = Known::derived(
    "standard deviation from plot to plot",
    "CV mean / 100",
    "definition of the coefficient of variation",
);
const SD_OF_MEAN: Known = Known::derived(
    "standard deviation of a plot's mean",
    "sqrt(s_plots^2 + s_samples^2 / samples)",
    "definition: variance of a mean of samples in plots",
);

tagged_union! {
    /// How much plots of one treatment differ within a block: as a standard deviation, in percent of
    /// the mean, or, of yield, as uniformity trials found it.
    #[schema(examples(json!({"kind": "sd", "sd": 5})))]
    pub(super) enum PlotScatter by "kind" {
        /// As a standard deviation.
        Sd = "sd" {
            /// Standard deviation from plot to plot, in the unit of the difference.
            #[schema(minimum = 0.000_000_001, maximum = 1_000_000_000, example = 5)]
            sd: f64,
        },
        /// Split: from plot to plot, and from sample to sample within a plot.
        Sampled = "sampled" {
            /// Standard deviation from plot to plot.
            #[schema(minimum = 0, maximum = 1_000_000_000, example = 2)]
            sd_of_plots: f64,
            /// Standard deviation from sample to sample within a plot.
            #[schema(minimum = 0.000_000_001, maximum = 1_000_000_000, example = 6)]
            sd_of_samples: f64,
            /// Samples of a plot: digs, counts, rows. They are averaged.
            #[schema(minimum = 1, maximum = 200, example = 4)]
            samples: u32,
        },
        /// In percent of the mean.
        Cv = "cv" {
            /// Coefficient of variation from plot to plot, %.
            #[schema(minimum = 0.01, maximum = 200, example = 8)]
            cv_percent: f64,
            /// Mean of the plots, in the unit of the difference.
            #[schema(minimum = 0.000_000_001, maximum = 1_000_000_000, example = 200)]
            mean: f64,
        },
        /// Of yield, as uniformity trials found it: coefficients `trial_scatter_corn` and
        /// `trial_scatter_soybean`.
        Published = "published" {
            /// The crop.
            crop: Crop,
            /// The yield that is expected, in the unit of the difference.
            #[schema(minimum = 0.000_000_001, maximum = 1_000_000_000, example = 200)]
            mean: f64,
        },
    }
}

/// The design that is planned.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"design": "paired"})))]
pub(super) struct PlannedTrial {
    /// How treatments are put on the ground.
    pub design: AnalysedAs,
    /// Treatments, the control among them; 2 when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 2, maximum = 12, example = 2)]
    pub treatments: Option<u32>,
    /// Whether all pairs are compared, and not each with the control; no when absent.
    #[serde(default)]
    #[schema(example = false)]
    pub all_pairs: bool,
    /// Confidence of the intervals in percent, 90 or 95; 95 when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 90, maximum = 95, example = 95)]
    pub confidence: Option<u8>,
}

/// The standard deviation of a plot, how it came about, and what stood in.
pub(super) struct Scatter {
    pub sd: f64,
    pub steps: Vec<TraceStep>,
    pub defaults: Vec<Coefficient>,
}

impl PlannedTrial {
    pub(super) fn parse(&self, at: &str, refused: &mut Refused) -> Option<Planned> {
        let why = "each treatment needs plots in every block";
        let treatments = self.treatments.unwrap_or(2);
        let pointer = format!("{at}/treatments");
        let treatments = refused.take(whole(&pointer, treatments, (2, MOST_TREATMENTS), why));
        if matches!(self.design, AnalysedAs::Paired) && self.treatments.is_some_and(|n| n > 2) {
            let detail = "A paired trial has two treatments; more go into randomised blocks.";
            refused.add(BadMember::new(pointer, detail).allowed("2"));
        }
        let confidence = refused.take(confidence(&format!("{at}/confidence"), self.confidence));
        Some(Planned {
            design: self.design.into(),
            treatments: treatments?,
            control: !self.all_pairs,
            confidence: confidence?,
        })
    }
}

/// 90 or 95 %, as the domain has it.
pub(super) fn confidence(pointer: &str, given: Option<u8>) -> Result<Confidence, BadMember> {
    match given {
        None | Some(95) => Ok(Confidence::NinetyFive),
        Some(90) => Ok(Confidence::Ninety),
        Some(other) => Err(BadMember::new(pointer, "Intervals are made for 90 or 95 %.")
            .given(other)
            .allowed("90 or 95")),
    }
}

const POSITIVE: (f64, f64) = (1e-9, 1e9);

/// A size above 0.
pub(super) fn size(pointer: &str, value: f64) -> Result<f64, BadMember> {
    number(pointer, value, POSITIVE, "a size lies above 0")
}

impl PlotScatter {
    pub(super) fn parse(&self, at: &str, k: &Coefficients) -> Result<Scatter, ApiError> {
        let place = |name: &str| format!("{at}/{name}");
        let mut refused = Refused::default();
        match self {
            Self::Sd { sd } => {
                let sd = refused.take(size(&place("sd"), *sd));
                Self::plain(sd, refused)
            }
            Self::Cv { cv_percent, mean } => {
                let why = "a scatter of twice the mean is no trial";
                let cv =
                    refused.take(number(&place("cv_percent"), *cv_percent, (0.01, 200.0), why));
                let mean = refused.take(size(&place("mean"), *mean));
                let (Some(cv), Some(mean)) = (cv, mean) else { return Err(refused.into()) };
                let steps = vec![SD_FROM_CV.gives(cv_and_mean(cv, mean), cv * mean / 100.0, "1")];
                Ok(Scatter { sd: cv * mean / 100.0, steps, defaults: Vec::new() })
            }
            Self::Published { crop, mean } => {
                let mean = refused.take(size(&place("mean"), *mean));
                let Some(mean) = mean else { return Err(refused.into()) };
                Ok(published(*crop, mean, k))
            }
            Self::Sampled { sd_of_plots, sd_of_samples, samples } => {
                let why = "a scatter is not below 0";
                let plots =
                    refused.take(number(&place("sd_of_plots"), *sd_of_plots, (0.0, 1e9), why));
                let within = refused.take(size(&place("sd_of_samples"), *sd_of_samples));
                let why = "a plot is sampled once at least";
                let times = refused.take(whole(&place("samples"), *samples, (1, 200), why));
                let (Some(plots), Some(within), Some(times)) = (plots, within, times) else {
                    return Err(refused.into());
                };
                let sd = sd_of_plot(plots, within, times);
                let inputs = vec![
                    Input::new("s_plots", plots, "1"),
                    Input::new("s_samples", within, "1"),
                    Input::new("samples", f64::from(times), "1"),
                ];
                let steps = vec![SD_OF_MEAN.gives(inputs, sd, "1")];
                Ok(Scatter { sd, steps, defaults: Vec::new() })
            }
        }
    }

    fn plain(sd: Option<f64>, refused: Refused) -> Result<Scatter, ApiError> {
        let Some(sd) = sd else { return Err(refused.into()) };
        Ok(Scatter { sd, steps: Vec::new(), defaults: Vec::new() })
    }
}

fn published(crop: Crop, mean: f64, k: &Coefficients) -> Scatter {
    let figure: &Figure = match crop {
        Crop::Corn => &k.trial_scatter_corn,
        Crop::Soybean => &k.trial_scatter_soybean,
    };
    let sd = figure.value * mean / 100.0;
    let step = SD_FROM_CV.gives_by(figure, cv_and_mean(figure.value, mean), sd, "1");
    Scatter { sd, steps: vec![step], defaults: vec![Coefficient::from(figure)] }
}

fn cv_and_mean(cv: f64, mean: f64) -> Vec<Input> {
    vec![Input::new("CV", cv, "%"), Input::new("mean", mean, "1")]
}
