//! What a day's delay costs: published losses by planting date, as a range over the sources.
//!
//! Guidance: region and year stand beside every figure, years scatter widely, and nothing is
//! carried beyond the dates that a source covers.

mod curves;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::relative_yield::days_after_april;
use crate::conditions::Crop;
use crate::provenance::{Mark, Text};
use curves::{Curve, curves};

/// In what a source gives a loss.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LossUnit {
    /// Percent of the best yield.
    Percent,
    /// Bushels an acre.
    BushelsPerAcre,
}

/// What one source says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SourcedLoss {
    /// Where it was found.
    pub region: Text,
    /// When it was published.
    pub year: Text,
    /// Low end, in `unit`.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// In what it is given.
    pub unit: LossUnit,
    /// How it is known.
    pub mark: Mark,
    /// The citation.
    pub source: Text,
}

/// A low and a high end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LossRange {
    /// Least of all sources.
    pub low: f64,
    /// Most of all sources.
    pub high: f64,
}

/// What the sources say together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Loss {
    /// Percent of the best yield; `None` where no source gives one and no yield is expected.
    pub percent: Option<LossRange>,
    /// Bushels an acre; `None` where no source gives them and no yield is expected.
    pub bushels: Option<LossRange>,
    /// Source by source. Empty outside of what they cover.
    pub by_source: Vec<SourcedLoss>,
}

/// Loss for each day that planting waits, near a date.
///
/// Negative where waiting still gains. With an expected yield (bu/ac) percent and bushels are
/// turned into each other.
pub fn loss_per_day(crop: Crop, date: NaiveDate, expected_yield: Option<f64>) -> Loss {
    let day = days_after_april(date);
    gather(crop, expected_yield, |points| {
        Some(Curve::loss(points, day + 1.0)? - Curve::loss(points, day)?)
    })
}

/// Loss over all the ground when planting it takes `slower` days instead of `faster`, both from
/// the same date, going forward evenly.
///
/// The first acre is planted on the same day either way, the last one later by the whole
/// difference. Days are calendar days, `faster` not above `slower`.
pub fn loss_of_delay(
    crop: Crop,
    date: NaiveDate,
    (faster, slower): (f64, f64),
    expected_yield: Option<f64>,
) -> Loss {
    let day = days_after_april(date);
    gather(crop, expected_yield, |points| {
        Some(Curve::mean_loss(points, day, slower)? - Curve::mean_loss(points, day, faster)?)
    })
}

/// Loss when all the ground is planted on a later day instead of an earlier one.
pub fn loss_between(
    crop: Crop,
    (earlier, later): (NaiveDate, NaiveDate),
    expected_yield: Option<f64>,
) -> Loss {
    let (from, to) = (days_after_april(earlier), days_after_april(later));
    gather(crop, expected_yield, |points| {
        Some(Curve::loss(points, to)? - Curve::loss(points, from)?)
    })
}

fn gather(
    crop: Crop,
    expected_yield: Option<f64>,
    ask: impl Fn(&[(f64, f64)]) -> Option<f64>,
) -> Loss {
    let asked = |curve: Curve| {
        let [first, second] = &curve.either;
        let (a, b) = (ask(first)?, ask(second)?);
        Some(SourcedLoss {
            region: curve.region.into(),
            year: curve.year.into(),
            low: a.min(b),
            high: a.max(b),
            unit: curve.unit,
            mark: curve.mark,
            source: curve.source.into(),
        })
    };
    let by_source: Vec<SourcedLoss> = curves(crop).into_iter().filter_map(asked).collect();
    let known = expected_yield.filter(|bushels| *bushels > 0.0);
    Loss {
        percent: together(&by_source, LossUnit::Percent, known.map(|y| 100.0 / y)),
        bushels: together(&by_source, LossUnit::BushelsPerAcre, known.map(|y| y / 100.0)),
        by_source,
    }
}

/// The range of the sources in this unit, and of the others where a factor turns them into it.
fn together(all: &[SourcedLoss], unit: LossUnit, others: Option<f64>) -> Option<LossRange> {
    let in_unit = all.iter().filter_map(|it| {
        let factor = if it.unit == unit { Some(1.0) } else { others }?;
        Some(LossRange { low: it.low * factor, high: it.high * factor })
    });
    in_unit.reduce(|a, b| LossRange { low: a.low.min(b.low), high: a.high.max(b.high) })
}
