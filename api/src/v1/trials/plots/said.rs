//! A plot with what was found on it, for the wire.

use domain::trial::Plot;

use super::dto::{PlotReading, TrialPlot};
use super::entry::ValuesContent;
use super::state::{Found, content};
use crate::entities::trial_entries::Kind;
use crate::http::ApiError;
use crate::http::quantity::six_digits;
use crate::v1::trace::TraceStep;
use crate::v1::trials::measured::{Wanted, label};

impl TrialPlot {
    /// The answer for a plot.
    pub(in crate::v1) fn of(found: &Found, plot: &Plot) -> Result<Self, ApiError> {
        let treatment = found.treatment(plot)?;
        let mut readings = Vec::new();
        for wanted in &found.wanted {
            readings.extend(PlotReading::of(found, plot.number, wanted)?);
        }
        let mut notices = Vec::new();
        if treatment != plot.treatment {
            notices.push(format!(
                "planted as {}, not as {} of the map: it is analysed as it was planted",
                found.design.treatment_name(treatment),
                found.design.treatment_name(plot.treatment)
            ));
        }
        let lost = found.lost(plot.number)?;
        if lost.is_some() && !readings.is_empty() {
            notices.push("lost: its readings are kept and do not count".to_owned());
        }
        Ok(Self {
            trial_id: found.id(),
            plot: plot.number,
            block: plot.block,
            treatment: found.design.treatment_name(treatment).to_owned(),
            rows: plot.rows.clone(),
            lost,
            readings,
            notices,
        })
    }
}

impl PlotReading {
    fn of(found: &Found, plot: u16, wanted: &Wanted) -> Result<Option<Self>, ApiError> {
        let Some(row) = found.last(plot, Kind::Values, &wanted.key) else { return Ok(None) };
        let it: ValuesContent = content(row)?;
        Ok(Some(Self {
            response: wanted.key.clone(),
            mean: six_digits(mean(&it.numbers)),
            values: it.entered,
            unit: wanted.unit.clone(),
            revision: row.revision,
            observed_on: it.observed_on,
            entered_at: row.created_at,
            entered_by: row.created_by,
            dig_check_ids: it.dig_check_ids,
            stand_count_ids: it.stand_count_ids,
            harvest: it.harvest,
            steps: it.steps.into_iter().map(TraceStep::from).collect(),
            note: it.note,
        }))
    }
}

/// Mean of readings; there is one at least.
pub(super) fn mean(numbers: &[f64]) -> f64 {
    let many = u32::try_from(numbers.len()).map_or(f64::MAX, f64::from).max(1.0);
    numbers.iter().sum::<f64>() / many
}

/// `92, 95 and 90 %`: what is there, for a refusal.
pub(super) fn readings(it: &ValuesContent) -> String {
    let numbers: Vec<String> = it.entered.values.iter().take(10).map(ToString::to_string).collect();
    let more = if it.entered.values.len() > 10 { " and more" } else { "" };
    format!("{}{more} {}", numbers.join(", "), label(&it.entered.unit))
}
