//! What a stand count says: population, emergence, gaps, spacing, unevenness.

use serde::{Deserialize, Serialize};

use super::counts_wanted::{CountMethod, counts_for_a_tenth};
use super::gaps::{Gaps, gaps};
use super::population::{Patch, Population, population};
use super::spacing_loss::{SpacingLoss, spacing_loss};
use super::spacing_quality::{SpacingQuality, spacing_quality};
use super::uneven::{Uneven, uneven};
use crate::conditions::Crop;
use crate::provenance::{Input, Mark, Step, Trace, sources};
use crate::quantity::{ArealNumberDensity, Length, Measured, System, bounds};
use crate::stats::{count, mean, sd};

/// Plants of a walk by the wheel.
pub const WHEEL_PLANTS: u32 = 150;

/// One count.
#[derive(Debug, Clone, PartialEq)]
pub struct Counted {
    /// The place in the field.
    pub place: u16,
    /// Plants.
    pub plants: u32,
    /// Over which stretch of one row; `None` in a hoop.
    pub row: Option<Length>,
    /// Gaps in it; `None` where nobody looked.
    pub gaps: Option<Vec<Length>>,
    /// Where the plants stand along it, ascending; `None` where nobody measured.
    pub positions: Option<Vec<Length>>,
    /// How many of the plants came up late; `None` where nobody looked.
    pub late: Option<u32>,
}

/// A stand count.
#[derive(Debug, Clone, PartialEq)]
pub struct StandObservation {
    /// The crop.
    pub crop: Crop,
    /// How it was counted.
    pub method: CountMethod,
    /// Distance between rows.
    pub row_width: Length,
    /// Inside diameter of the hoop.
    pub hoop: Option<Length>,
    /// Seeds that were planted.
    pub seeds: Option<ArealNumberDensity>,
    /// How much later than the first plants the late ones came up, days.
    pub days_late: Option<f64>,
    /// The counts.
    pub counts: Vec<Counted>,
}

/// Low, likely and high percent.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PercentRange {
    /// The figure.
    pub value: f64,
    /// Low limit at 95 %; `None` from one count.
    pub low: Option<f64>,
    /// High limit.
    pub high: Option<f64>,
}

/// How the plants stand along the row.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StandSpacing {
    /// Distances that were measured.
    pub spacings: u32,
    /// Their mean.
    pub mean: Length,
    /// Their standard deviation; `None` from one.
    pub sd: Option<Length>,
    /// Distance that was meant, from the seeds that were planted.
    pub meant: Option<Length>,
    /// Distances of at most half of what was meant, percent: doubles.
    pub multiples_percent: Option<f64>,
    /// Distances above one and a half of what was meant, percent: skips.
    pub miss_percent: Option<f64>,
    /// Corn: what such a spread cost in older trials.
    pub loss: Option<SpacingLoss>,
}

/// What a stand count says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StandFound {
    /// Plants on an area.
    pub population: Population,
    /// Share of the seeds that became plants.
    pub emergence: Option<PercentRange>,
    /// Gaps; `None` where nobody looked.
    pub gaps: Option<Gaps>,
    /// How the plants stand along the row; `None` where nobody measured.
    pub spacing: Option<StandSpacing>,
    /// Share of late plants, 0 to 1; `None` where nobody looked.
    pub late_share: Option<f64>,
    /// Corn: what late plants cost; `None` where nobody looked, or said how late.
    pub uneven: Option<Uneven>,
    /// Counts that would tell the stand to within a tenth, by how much these differ.
    pub counts_for_a_tenth: Option<u32>,
    /// The calculation.
    pub trace: Trace,
}

/// Works out what a stand count says. `None` where nothing was counted over any ground.
pub fn stand_found(seen: &StandObservation) -> Option<StandFound> {
    let patches: Option<Vec<Patch>> = seen.counts.iter().map(|it| patch(seen, it)).collect();
    let population = population(&patches?)?;
    let emergence = seen.seeds.filter(|seeds| seeds.si() > 0.0).map(|seeds| {
        let percent = |plants: ArealNumberDensity| 100.0 * plants.si() / seeds.si();
        PercentRange {
            value: percent(population.stand),
            low: population.limits.map(|(low, _)| percent(low)),
            high: population.limits.map(|(_, high)| percent(high)),
        }
    });
    let late_share = late_share(&seen.counts);
    let days_late = seen.days_late.filter(|_| seen.crop == Crop::Corn);
    Some(StandFound {
        emergence,
        gaps: gaps_of(seen),
        spacing: spacing_of(seen),
        late_share,
        uneven: late_share.zip(days_late).and_then(|(share, days)| uneven(share, days)),
        counts_for_a_tenth: population.cv.and_then(counts_for_a_tenth),
        trace: trace_of(seen, &population, emergence),
        population,
    })
}

fn patch(seen: &StandObservation, it: &Counted) -> Option<Patch> {
    let ground = match (it.row, seen.hoop) {
        (Some(row), _) => row.si() * seen.row_width.si(),
        (None, Some(hoop)) => std::f64::consts::FRAC_PI_4 * hoop.si().powi(2),
        (None, None) => return None,
    };
    Some(Patch { place: it.place, plants: f64::from(it.plants), ground })
}

/// Late plants over all plants, of the counts in which somebody looked.
fn late_share(counts: &[Counted]) -> Option<f64> {
    let looked = counts.iter().filter_map(|it| Some((it.late?, it.plants)));
    let (late, all) = looked.fold((0_u32, 0_u32), |(late, all), (l, n)| (late + l, all + n));
    (all > 0).then(|| f64::from(late) / f64::from(all))
}

/// Gaps as they were entered, or as the places of the plants show them.
fn gaps_of(seen: &StandObservation) -> Option<Gaps> {
    let mut lengths = Vec::new();
    let mut row = 0.0;
    for it in &seen.counts {
        let found = it.gaps.clone().or_else(|| it.positions.as_deref().map(spacings));
        if let (Some(found), Some(length)) = (found, it.row) {
            lengths.extend(found);
            row += length.si();
        }
    }
    gaps(seen.crop, &lengths, Length::from_si(row))
}

/// Distances from plant to plant.
fn spacings(positions: &[Length]) -> Vec<Length> {
    positions.iter().zip(positions.iter().skip(1)).map(|(a, b)| *b - *a).collect()
}

fn spacing_of(seen: &StandObservation) -> Option<StandSpacing> {
    let all: Vec<Length> =
        seen.counts.iter().filter_map(|it| it.positions.as_deref()).flat_map(spacings).collect();
    let metres: Vec<f64> = all.iter().map(|it| it.si()).collect();
    let centre = mean(&metres)?;
    let spread = sd(&metres).map(Length::from_si);
    let meant = seen.seeds.map(|seeds| 1.0 / (seeds.si() * seen.row_width.si()));
    let meant = meant.filter(|it| it.is_finite() && *it > 0.0).map(Length::from_si);
    let quality: Option<SpacingQuality> = meant.and_then(|it| spacing_quality(&all, it).ok());
    let loss = spread.filter(|_| seen.crop == Crop::Corn).and_then(spacing_loss);
    Some(StandSpacing {
        spacings: u32::try_from(all.len()).unwrap_or(u32::MAX),
        mean: Length::from_si(centre),
        sd: spread,
        meant,
        multiples_percent: quality.as_ref().map(|it| it.multiples_percent),
        miss_percent: quality.as_ref().map(|it| it.miss_percent),
        loss,
    })
}

fn trace_of(
    seen: &StandObservation,
    population: &Population,
    emergence: Option<PercentRange>,
) -> Trace {
    let per_acre = |it: ArealNumberDensity| bounds::SEED_POPULATION.show(it, System::Us).0;
    let (low, high) = population.limits.unzip();
    let (formula, source) = match seen.method {
        CountMethod::RowLength => ("sum n / (sum L W)", sources::ILLINOIS_COUNT),
        CountMethod::Wheel => ("150 k / (sum L W)", sources::ILLINOIS_COUNT),
        CountMethod::Hoop => ("sum n / (k pi D^2 / 4)", sources::PURDUE_HOOP),
    };
    let mut trace = Trace::default();
    let plants: f64 = seen.counts.iter().map(|it| f64::from(it.plants)).sum();
    trace.push(Step {
        step: "stand".into(),
        formula: formula.into(),
        inputs: vec![
            Input::new("sum n", plants, "1"),
            Input::new("k", count(seen.counts.len()), "1"),
        ],
        value: per_acre(population.stand),
        unit: "1/[acr_us]".into(),
        low: low.map(per_acre),
        high: high.map(per_acre),
        source: source.into(),
        mark: Mark::Derived,
    });
    if let Some((emergence, seeds)) = emergence.zip(seen.seeds) {
        trace.push(Step {
            step: "share of the seeds that became plants".into(),
            formula: "100 stand / seeds".into(),
            inputs: vec![
                Input::new("stand", per_acre(population.stand), "1/[acr_us]"),
                Input::new("seeds", per_acre(seeds), "1/[acr_us]"),
            ],
            value: emergence.value,
            unit: "%".into(),
            low: emergence.low,
            high: emergence.high,
            source: sources::DEFINITION.into(),
            mark: Mark::Derived,
        });
    }
    trace
}
