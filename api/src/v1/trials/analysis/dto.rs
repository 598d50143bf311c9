//! What goes over the wire.

use domain::trial::analysis::Confidence;
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::figures::{TrialFigures, figures};
use super::verdict::{TrialVerdict, verdict};
use super::work_out::{WorkedOut, work_out};
use crate::http::{ApiError, BadMember};
use crate::v1::trials::measured::Wanted;
use crate::v1::trials::plots::state::Found;
use crate::v1::trials::words::TrialStatus;

/// What a trial says.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!(super::example::analysis())))]
pub struct TrialAnalysis {
    /// The trial.
    pub trial_id: Uuid,
    /// Where it stands. While it runs, what is said may change.
    pub status: TrialStatus,
    /// Whether chance decided what lies where.
    #[schema(example = true)]
    pub randomised: bool,
    /// Plots of the layout.
    #[schema(minimum = 1, maximum = 72, example = 10)]
    pub plots: u32,
    /// Response by response.
    #[schema(max_items = 8)]
    pub responses: Vec<ResponseAnalysis>,
}

/// What one response says.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct ResponseAnalysis {
    /// The response, by its word.
    #[schema(example = "emergence")]
    pub response: String,
    /// As it stands in a sentence.
    #[schema(example = "emergence")]
    pub name: String,
    /// Unit of all figures.
    #[schema(example = "%")]
    pub unit: String,
    /// The smallest difference that would matter.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 3)]
    pub matters: Option<f64>,
    /// Plots that have a value that counts.
    #[schema(minimum = 0, maximum = 72, example = 10)]
    pub recorded: u32,
    /// What was done to the plots beside averaging.
    #[schema(max_items = 20, example = json!([]))]
    pub notices: Vec<String>,
    /// What can be concluded and what can't.
    pub verdict: TrialVerdict,
    /// The figures; absent while no plot has a value.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub figures: Option<TrialFigures>,
}

/// Which response, and how sure.
#[derive(Debug, Clone, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct AnalysisQuery {
    /// Only this response, by its word; all when absent.
    #[serde(default)]
    #[param(nullable = false, max_length = 30, example = "emergence")]
    pub response: Option<String>,
    /// Confidence of the intervals in percent, 90 or 95; 95 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 90, maximum = 95, example = 95)]
    pub confidence: Option<u8>,
}

impl AnalysisQuery {
    /// How sure intervals are to be.
    pub(super) fn confidence(&self) -> Result<Confidence, BadMember> {
        match self.confidence {
            None | Some(95) => Ok(Confidence::NinetyFive),
            Some(90) => Ok(Confidence::Ninety),
            Some(other) => Err(BadMember::new("?confidence", "Intervals are made for 90 or 95 %.")
                .given(other)
                .allowed("90 or 95")),
        }
    }

    /// The responses that are asked for.
    pub(super) fn asked<'a>(&self, found: &'a Found) -> Result<Vec<&'a Wanted>, BadMember> {
        let Some(key) = &self.response else { return Ok(found.wanted.iter().collect()) };
        let one = found.response(key).ok_or_else(|| {
            let words: Vec<&str> = found.wanted.iter().map(|it| it.key.as_str()).collect();
            BadMember::new("?response", "The trial does not measure this.")
                .given(key)
                .allowed(words.join(", "))
        })?;
        Ok(vec![one])
    }
}

impl TrialAnalysis {
    /// What a trial says.
    pub(super) fn of(found: &Found, query: &AnalysisQuery) -> Result<Self, ApiError> {
        let confidence = query.confidence()?;
        let asked = query.asked(found)?;
        let responses = asked.into_iter().map(|wanted| {
            let it = work_out(found, wanted, confidence)?;
            ResponseAnalysis::of(found, &it)
        });
        Ok(Self {
            trial_id: found.id(),
            status: found.row.status.into(),
            randomised: found.layout.randomised,
            plots: u32::try_from(found.layout.plots.len()).unwrap_or(u32::MAX),
            responses: responses.collect::<Result<_, _>>()?,
        })
    }
}

impl ResponseAnalysis {
    pub(super) fn of(found: &Found, it: &WorkedOut) -> Result<Self, ApiError> {
        Ok(Self {
            response: it.wanted.key.clone(),
            name: it.wanted.response.what.clone(),
            unit: it.wanted.unit.clone(),
            matters: it.wanted.matters,
            recorded: u32::try_from(it.plots).unwrap_or(u32::MAX),
            notices: it.notices.clone(),
            verdict: verdict(found, it)?,
            figures: it.analysis.as_ref().map(|all| figures(all, &it.trial.treatments)),
        })
    }
}
