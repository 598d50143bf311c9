//! A stand with its interval, from counts at several places.

use serde::{Deserialize, Serialize};

use crate::quantity::{ArealNumberDensity, Measured};
use crate::stats::{count, mean, sd, t_critical};

/// Plants counted on a piece of ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Patch {
    /// The place in the field.
    pub place: u16,
    /// Plants.
    pub plants: f64,
    /// Ground, m².
    pub ground: f64,
}

/// What the interval of a stand rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StandUnits {
    /// Places in the field.
    Places,
    /// Counts at one place: the interval holds for that place only.
    Counts,
}

/// The stand of one place.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PlaceStand {
    /// The place.
    pub place: u16,
    /// Counts there.
    pub counts: u32,
    /// Plants on an area.
    pub population: ArealNumberDensity,
}

/// A stand from counts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Population {
    /// All plants over all ground.
    pub stand: ArealNumberDensity,
    /// Low and high limit at 95 %; `None` from one count.
    pub limits: Option<(ArealNumberDensity, ArealNumberDensity)>,
    /// What the limits rest on.
    pub units: StandUnits,
    /// How many of these units there are.
    pub unit_count: u32,
    /// Place by place, in order.
    pub places: Vec<PlaceStand>,
    /// Standard deviation of the single counts over their mean; `None` from one.
    pub cv: Option<f64>,
}

/// The stand of a field: all plants over all ground, with the places as units.
///
/// Counts at one place resemble each other, so places are what the field was sampled by; with one
/// place only, its counts are. The limits are those of a ratio: k / (k - 1) times the sum of squares
/// of what each unit has beyond its share, over the ground squared, with Student's t. `None` without
/// ground.
pub fn population(patches: &[Patch]) -> Option<Population> {
    let ground: f64 = patches.iter().map(|it| it.ground).sum();
    if patches.iter().any(|it| it.ground.is_nan() || it.ground <= 0.0) || ground <= 0.0 {
        return None;
    }
    let stand = patches.iter().map(|it| it.plants).sum::<f64>() / ground;
    let by_place = places(patches);
    let many = by_place.len() > 1;
    let units = if many { StandUnits::Places } else { StandUnits::Counts };
    let sums: Vec<(f64, f64)> = if many {
        by_place.iter().map(|(_, of_it)| total(of_it)).collect()
    } else {
        patches.iter().map(|it| (it.plants, it.ground)).collect()
    };
    let singles: Vec<f64> = patches.iter().map(|it| it.plants / it.ground).collect();
    let cv = sd(&singles).zip(mean(&singles)).filter(|(_, m)| *m > 0.0).map(|(s, m)| s / m);
    Some(Population {
        stand: ArealNumberDensity::from_si(stand),
        limits: limits(&sums, stand, ground),
        units,
        unit_count: u32::try_from(sums.len()).unwrap_or(u32::MAX),
        places: by_place.iter().map(|(place, of_it)| place_stand(*place, of_it)).collect(),
        cv,
    })
}

fn limits(
    units: &[(f64, f64)],
    stand: f64,
    ground: f64,
) -> Option<(ArealNumberDensity, ArealNumberDensity)> {
    let k = count(units.len());
    let t = t_critical(0.05, k - 1.0)?;
    let squares: f64 = units.iter().map(|(plants, area)| (plants - stand * area).powi(2)).sum();
    let half = t * (k / (k - 1.0) * squares).sqrt() / ground;
    let at = |x: f64| ArealNumberDensity::from_si(x.max(0.0));
    Some((at(stand - half), at(stand + half)))
}

fn places(patches: &[Patch]) -> Vec<(u16, Vec<Patch>)> {
    let mut found: Vec<(u16, Vec<Patch>)> = Vec::new();
    for patch in patches {
        match found.iter_mut().find(|(place, _)| *place == patch.place) {
            Some((_, of_it)) => of_it.push(*patch),
            None => found.push((patch.place, vec![*patch])),
        }
    }
    found.sort_by_key(|(place, _)| *place);
    found
}

fn total(patches: &[Patch]) -> (f64, f64) {
    patches.iter().fold((0.0, 0.0), |(n, a), it| (n + it.plants, a + it.ground))
}

fn place_stand(place: u16, patches: &[Patch]) -> PlaceStand {
    let (plants, ground) = total(patches);
    PlaceStand {
        place,
        counts: u32::try_from(patches.len()).unwrap_or(u32::MAX),
        population: ArealNumberDensity::from_si(plants / ground),
    }
}
