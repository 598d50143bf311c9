//! How the statistics of spacings are worked out.
//!
//! The mean, and with it the population, has limits of Student's t on what each row adds. Spread,
//! coefficient of variation and precision are left to a jackknife over the rows, because skips and
//! multiples make spacings anything but normal: limits from chi-square, with spacings as units,
//! would hold the truth about half as often as they say.

use super::limits::Limits;
use super::observation::Observation;
use super::share::Share;
use super::spacing::{LimitsOf, RowSpacing, SpacingAgainst, SpacingStatistics};
use super::statistics::{Wanted, whole};
use crate::provenance::Coefficients;
use crate::quantity::{ArealNumberDensity, Length, Measured};
use crate::stand::{SpacingQuality, is_single, spacing_quality};
use crate::stats::{Pooled, figure_limits, fisher_exact, holm, mean, mean_limits, sd};

const INCH: f64 = 0.0254;

/// Fewer spacings of a row, or in all, say nothing about a meter.
const FEWEST: usize = 10;

/// Limits with more than this between low and high, as a ratio, say nothing and are left out.
const WIDEST: f64 = 400.0;

/// Spacings in m, in units: rows, or the single spacings of one row.
struct Units {
    groups: Vec<Vec<f64>>,
}

/// The spacings of one row in m, sorted, so that the order of digging cannot matter.
struct RowSpacings {
    row: u16,
    spacings: Vec<f64>,
}

pub(super) fn spacing_statistics(
    dig: &Observation,
    wanted: &Wanted,
    k: &Coefficients,
) -> Option<SpacingStatistics> {
    let rows = measured_rows(dig);
    let units = match rows.as_slice() {
        [one] => Units::single(&one.spacings),
        _ => Units { groups: rows.iter().map(|r| r.spacings.clone()).collect() },
    };
    let all = units.all();
    let centre = mean(&all)?;
    let limits = units.mean_limits();
    let width = wanted.row_width.si();
    let density = |spacing: f64| ArealNumberDensity::from_si(1.0 / (spacing * width));
    Some(SpacingStatistics {
        spacings: whole(all.len()),
        mean: Length::from_si(centre),
        mean_limits: limits.map(|l| l.map(Length::from_si)),
        sd: sd(&all).map(Length::from_si),
        sd_limits: units.limits(|p| p.sd).map(|l| l.map(Length::from_si)),
        cv: sd(&all).filter(|_| centre > 0.0).map(|s| s / centre),
        cv_limits: units.limits(variation),
        population: (centre * width > 1e-6).then(|| density(centre)),
        population_limits: limits
            .and_then(|l| upside_down(l, 1e-6 / width))
            .map(|l| l.map(density)),
        against: wanted.spacing.and_then(|x| units.against(x)),
        meter_check: meter_check(&all, k),
        limits_of: Some(if rows.len() > 1 { LimitsOf::Planter } else { LimitsOf::OneRow }),
        rows: by_row(&rows, wanted, k),
    })
}

fn measured_rows(dig: &Observation) -> Vec<RowSpacings> {
    let sorted = |list: &[Length]| {
        let mut spacings: Vec<f64> = list.iter().map(|s| s.si()).collect();
        spacings.sort_by(f64::total_cmp);
        spacings
    };
    dig.rows()
        .iter()
        .filter(|r| !r.spacings.is_empty())
        .map(|r| RowSpacings { row: r.row, spacings: sorted(&r.spacings) })
        .collect()
}

fn meter_check(spacings: &[f64], k: &Coefficients) -> bool {
    let limit = k.spacing_sd_limit.value * INCH;
    spacings.len() >= FEWEST && sd(spacings).is_some_and(|s| s > limit)
}

fn variation(of: Pooled) -> Option<f64> {
    of.sd.filter(|_| of.mean > 0.0).map(|s| s / of.mean)
}

/// Limits of something that falls as the spacing grows, while the low limit is above `least`.
fn upside_down(limits: Limits<f64>, least: f64) -> Option<Limits<f64>> {
    (limits.low > least).then_some(Limits { low: limits.high, high: limits.low })
}

impl Units {
    fn single(spacings: &[f64]) -> Self {
        Self { groups: spacings.iter().map(|s| vec![*s]).collect() }
    }

    fn all(&self) -> Vec<f64> {
        let mut all = self.groups.concat();
        all.sort_by(f64::total_cmp);
        all
    }

    fn mean_limits(&self) -> Option<Limits<f64>> {
        let (low, high) = mean_limits(&self.groups, 0.95)?;
        Some(Limits { low: low.max(0.0), high })
    }

    /// Limits of a figure of all spacings, unless they are so wide that they say nothing.
    fn limits(&self, figure: impl Fn(Pooled) -> Option<f64>) -> Option<Limits<f64>> {
        let limits: Limits<f64> = figure_limits(&self.groups, figure, 0.95)?.into();
        (limits.high <= WIDEST * limits.low).then_some(limits)
    }

    fn against(&self, wanted: Length) -> Option<SpacingAgainst> {
        let lengths: Vec<Length> = self.all().into_iter().map(Length::from_si).collect();
        let found = spacing_quality(&lengths, wanted).ok()?;
        let SpacingQuality { regions, positions, singles_mean, singles_sd, .. } = found;
        let x = wanted.si();
        let singles = |s: &Vec<f64>| s.iter().copied().filter(|s| is_single(s / x)).collect();
        let only = Self { groups: self.groups.iter().map(singles).collect() };
        let off = |spacing: f64| x / spacing - 1.0;
        let centre = off(found.mean.si());
        Some(SpacingAgainst {
            wanted,
            multiples: self.share(|s| s / x < 1.0 && !is_single(s / x))?,
            singles: self.share(|s| is_single(s / x))?,
            skips: self.share(|s| s / x > 1.0 && !is_single(s / x))?,
            regions: Some(regions),
            positions,
            singles_mean,
            singles_sd,
            precision_over_wanted: found.precision_over_meant.map(|p| p / 100.0),
            precision_over_wanted_limits: only.limits(|p| p.sd.map(|s| s / x)),
            precision_over_mean: found.precision_over_singles_mean.map(|p| p / 100.0),
            precision_over_mean_limits: only.limits(variation),
            population_off: centre.is_finite().then_some(centre),
            population_off_limits: self
                .mean_limits()
                .and_then(|l| upside_down(l, 1e-6 * x))
                .map(|l| l.map(off)),
        })
    }

    /// With single spacings as units there is nothing that units could share.
    fn share(&self, hit: impl Fn(f64) -> bool) -> Option<Share> {
        Share::by_rows(&self.groups, hit)
    }
}

fn by_row(rows: &[RowSpacings], wanted: &Wanted, k: &Coefficients) -> Vec<RowSpacing> {
    let found = rows.iter().filter_map(|r| one_row(r, wanted, k));
    let mut found: Vec<RowSpacing> = found.collect();
    for (row, p) in found.iter_mut().zip(faults(rows, wanted)) {
        row.faults_p = p.filter(|_| row.against.is_some());
    }
    found
}

fn one_row(row: &RowSpacings, wanted: &Wanted, k: &Coefficients) -> Option<RowSpacing> {
    let units = Units::single(&row.spacings);
    let enough = row.spacings.len() >= FEWEST;
    Some(RowSpacing {
        row: row.row,
        spacings: whole(row.spacings.len()),
        mean: Length::from_si(mean(&row.spacings)?),
        mean_limits: units.mean_limits().map(|l| l.map(Length::from_si)),
        sd: sd(&row.spacings).map(Length::from_si),
        sd_limits: units.limits(|p| p.sd).map(|l| l.map(Length::from_si)),
        against: wanted.spacing.filter(|_| enough).and_then(|x| units.against(x)),
        meter_check: meter_check(&row.spacings, k),
        faults_p: None,
    })
}

/// The chance of each row's multiples and skips against those of the other rows, held (Holm) for
/// the rows that have enough spacings to be looked at.
fn faults(rows: &[RowSpacings], wanted: &Wanted) -> Vec<Option<f64>> {
    let Some(x) = wanted.spacing.map(Measured::si).filter(|x| *x > 0.0) else {
        return vec![None; rows.len()];
    };
    let fault = |s: &&f64| !is_single(**s / x);
    let counts: Vec<(u32, u32)> = rows
        .iter()
        .map(|r| (whole(r.spacings.iter().filter(fault).count()), whole(r.spacings.len())))
        .collect();
    let (hits, all) = counts.iter().fold((0, 0), |(h, n), c| (h + c.0, n + c.1));
    let raw: Vec<Option<f64>> = counts
        .iter()
        .map(|(own, of)| {
            let looked_at = usize::try_from(*of).is_ok_and(|n| n >= FEWEST);
            looked_at.then(|| fisher_exact(*own, *of, hits - own, all - of)).flatten()
        })
        .collect();
    let mut held = holm(&raw.iter().copied().flatten().collect::<Vec<_>>()).into_iter();
    raw.into_iter().map(|p| p.and_then(|_| held.next())).collect()
}
