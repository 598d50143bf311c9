//! Meters, drive and spacing.

use super::super::finding::Evidence;
use super::super::say;
use super::super::scene::Scene;
use super::super::spacing::SpacingStatistics;
use crate::quantity::Measured;

pub(in super::super) fn spacing_too_fast(scene: &Scene<'_>) -> Option<Evidence> {
    let spacing = scene.stats.spacing.as_ref().filter(|s| s.meter_check)?;
    let speed = scene.case.speed_in_use(scene.dig);
    let design = scene.case.coefficients.reference_speed.high;
    if speed.si() / 0.447_04 <= design + 1e-9 {
        return None;
    }
    let quiet = scene.seeds_per_row() >= 3.0 && !scene.scattered();
    Some(
        uneven(spacing)
            .pro_if(scene.dig.settings().speed.is_some(), format!("driven at {}", say::mph(speed)))
            .con_if(quiet, "depth does not scatter from seed to seed, so the units ride quietly"),
    )
}

pub(in super::super) fn meter(scene: &Scene<'_>) -> Option<Evidence> {
    let spacing = scene.stats.spacing.as_ref().filter(|s| s.meter_check)?;
    let design = scene.case.coefficients.reference_speed.high;
    let fast = scene.case.speed_in_use(scene.dig).si() / 0.447_04 > design + 1e-9;
    Some(
        uneven(spacing)
            .con_if(fast, "speed may be to blame: slow down first")
            .on(scene.only_row_with_spacings()),
    )
}

fn uneven(spacing: &SpacingStatistics) -> Evidence {
    let sd = spacing.sd.map_or_else(|| "unknown".to_owned(), say::inches);
    let mut evidence =
        Evidence::default().pro(format!("the spacings scatter by {sd} (standard deviation)"));
    if let Some(quality) = &spacing.against {
        let (skips, multiples) = (quality.skips.share, quality.multiples.share);
        evidence = evidence.pro_if(
            skips + multiples > 0.1,
            format!("{} skips and {} multiples", say::percent(skips), say::percent(multiples)),
        );
    }
    evidence
}

pub(in super::super) fn rate_off(scene: &Scene<'_>) -> Option<Evidence> {
    let spacing = scene.stats.spacing.as_ref()?;
    let off = spacing.against.as_ref()?.population_off?;
    let limit = scene.case.coefficients.rate_limit.value;
    let n = f64::from(spacing.spacings);
    // Two standard errors of the mean spacing, as a share of it.
    let blur = 2.0 * spacing.sd?.si() / n.sqrt() / spacing.mean.si();
    if off.abs() <= limit || off.abs() <= blur {
        return None;
    }
    let side = if off > 0.0 { "more" } else { "less" };
    let words =
        format!("the mean spacing amounts to {} {side} seed than wanted", say::percent(off.abs()));
    Some(
        Evidence::default()
            .pro(words)
            .con_if(spacing.meter_check, "the spacings scatter: skips and doubles may explain it")
            .on(scene.only_row_with_spacings()),
    )
}
