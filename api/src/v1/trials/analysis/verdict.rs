//! What can be concluded and what can't: the words of the statistics, and of the layout.

use domain::trial::analysis::Verdict;
use domain::trial::not_told_by;
use serde::Serialize;
use utoipa::ToSchema;

use super::figures::EffectReading;
use super::work_out::WorkedOut;
use crate::http::ApiError;
use crate::v1::trials::plots::state::Found;

/// What can be concluded and what can't, in plain words.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialVerdict {
    /// In one word; absent while no plot has a value.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub outcome: Option<EffectReading>,
    /// In one sentence.
    #[schema(example = "Emergence with spiked wheels was 5 % higher, and that is shown.")]
    pub headline: String,
    /// How large effects are and how sure that is.
    #[schema(max_items = 30, example = json!(["Spiked wheels: 5 % more (0.8 to 9.2)."]))]
    pub findings: Vec<String>,
    /// What can't be concluded, and why.
    #[schema(max_items = 30, example = json!(["One season and one field: it may differ elsewhere."]))]
    pub cannot_conclude: Vec<String>,
    /// What to do next.
    #[schema(max_items = 20, example = json!(["Repeat it in another field."]))]
    pub next: Vec<String>,
}

impl TrialVerdict {
    /// The words of the statistics.
    pub fn of(told: &Verdict) -> Self {
        Self {
            outcome: Some(told.outcome.into()),
            headline: told.headline.clone(),
            findings: told.findings.clone(),
            cannot_conclude: told.cannot_conclude.clone(),
            next: told.next.clone(),
        }
    }
}

/// The verdict on one response.
pub fn verdict(found: &Found, it: &WorkedOut) -> Result<TrialVerdict, ApiError> {
    let mut verdict = match &it.analysis {
        Some(analysis) => TrialVerdict::of(&analysis.verdict),
        None => TrialVerdict {
            outcome: None,
            headline: format!("No plot has a value of {} yet.", it.wanted.response.what),
            findings: Vec::new(),
            cannot_conclude: vec!["Nothing can be concluded yet.".to_owned()],
            next: vec!["Note what is found on each plot.".to_owned()],
        },
    };
    verdict.cannot_conclude.extend(of_layout(found)?);
    verdict.cannot_conclude.extend(unfinished(found, it)?);
    Ok(verdict)
}

fn of_layout(found: &Found) -> Result<Vec<String>, ApiError> {
    let mut said = not_told_by(&found.layout, found.design.trying.into());
    let mut wrong = 0;
    for plot in &found.layout.plots {
        wrong += usize::from(found.treatment(plot)? != plot.treatment);
    }
    if wrong > 0 {
        said.push(format!(
            "That chance decided everywhere: {wrong} plot{} planted otherwise than the map says.",
            if wrong == 1 { " was" } else { "s were" }
        ));
    }
    Ok(said)
}

/// What is still missing, and why.
fn unfinished(found: &Found, it: &WorkedOut) -> Result<Option<String>, ApiError> {
    let all = found.layout.plots.len();
    let mut lost = 0;
    for plot in &found.layout.plots {
        lost += usize::from(found.lost(plot.number)?.is_some());
    }
    let open = all.saturating_sub(lost).saturating_sub(it.plots);
    Ok((open > 0 && it.plots > 0).then(|| {
        format!(
            "Anything for good: {} of {all} plots are in ({lost} lost, {open} still open), and the rest may change it.",
            it.plots
        )
    }))
}
