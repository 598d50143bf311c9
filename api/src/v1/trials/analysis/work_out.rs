//! From what was found on the plots to what the trial says.

use std::collections::BTreeMap;

use domain::trial::analysis::{Analysis, Confidence, Plot, Trial, TrialError, analyse};

use crate::http::ApiError;
use crate::v1::trials::measured::Wanted;
use crate::v1::trials::plots::state::Found;
use crate::v1::trials::replications::kind;

/// What one response says.
#[derive(Debug)]
pub struct WorkedOut {
    /// The response.
    pub wanted: Wanted,
    /// The trial as it was analysed.
    pub trial: Trial,
    /// The analysis; `None` while no plot has a value.
    pub analysis: Option<Analysis>,
    /// Plots with a value that counts.
    pub plots: usize,
    /// What was done to the plots beside averaging.
    pub notices: Vec<String>,
}

/// Analyses one response.
pub fn work_out(
    found: &Found,
    wanted: &Wanted,
    confidence: Confidence,
) -> Result<WorkedOut, ApiError> {
    let mut notices = Vec::new();
    let mut groups: BTreeMap<(u16, u16), Vec<Vec<f64>>> = BTreeMap::new();
    let mut plots = 0;
    for plot in &found.layout.plots {
        if found.lost(plot.number)?.is_some() {
            continue;
        }
        let Some(values) = found.values(plot.number, &wanted.key)? else { continue };
        plots += 1;
        let treatment = found.treatment(plot)?;
        groups.entry((plot.block, treatment)).or_default().push(values.numbers);
    }
    let mut of_trial = Vec::new();
    for ((block, treatment), mut all) in groups {
        // Planted wrong, a block may hold a treatment twice: together they are one plot.
        let values = if all.len() == 1 {
            all.pop().unwrap_or_default()
        } else {
            notices.push(format!(
                "block {block} holds {} {} times, as it was planted: their means count as one plot",
                found.design.treatment_name(treatment),
                all.len()
            ));
            all.iter().map(|values| mean(values)).collect()
        };
        let block = usize::from(block.saturating_sub(1));
        of_trial.push(Plot { treatment: usize::from(treatment), block, values });
    }
    let trial = trial(found, wanted, confidence, of_trial);
    let analysis = match analyse(&trial) {
        Ok(analysis) => Some(analysis),
        Err(TrialError::NoValues) => None,
        Err(other) => return Err(ApiError::internal(other)),
    };
    Ok(WorkedOut { wanted: wanted.clone(), trial, analysis, plots, notices })
}

fn trial(found: &Found, wanted: &Wanted, confidence: Confidence, plots: Vec<Plot>) -> Trial {
    let design = &found.design;
    Trial {
        design: kind(design),
        treatments: design.treatments.iter().map(|it| it.name.trim().to_owned()).collect(),
        control: design.treatments.iter().position(|it| it.control),
        plots,
        randomised: found.layout.randomised,
        confidence,
        response: wanted.response.clone(),
        matters: wanted.matters,
    }
}

fn mean(values: &[f64]) -> f64 {
    let many = u32::try_from(values.len()).map_or(f64::MAX, f64::from).max(1.0);
    values.iter().sum::<f64>() / many
}
