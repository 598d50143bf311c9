//! What is believed before the first dig, and how much each level varies.

use serde::{Deserialize, Serialize};

use super::grid::Blur;
use crate::provenance::Coefficients;

/// The prior on the logarithm of the resistance factor. All standard deviations are in natural
/// logarithms: 0.1 is about 10 %.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Prior {
    /// The factor in the middle: 1 means as the coefficients say.
    pub median: f64,
    /// Between practices.
    pub practice: f64,
    /// Between soil and cover classes of a practice.
    pub class: f64,
    /// Between planters in a class.
    pub planter: f64,
    /// Between fields of a planter in a class.
    pub field: f64,
    /// Between seasons of a field.
    pub season: f64,
    /// Between digs of a field in one season.
    pub dig: f64,
    /// What each year that has passed adds to the spread between seasons: after n years the
    /// standard deviation is sqrt(season² + n forget²).
    pub forget: f64,
}

impl Prior {
    /// The prior that the coefficients in force stand for.
    pub fn of(k: &Coefficients) -> Self {
        Self {
            median: k.resistance_factor.value,
            practice: k.practices_differ.value,
            class: k.classes_differ.value,
            planter: k.planters_differ.value,
            field: k.fields_differ.value,
            season: k.seasons_differ.value,
            dig: k.digs_differ.value,
            forget: k.forgotten_a_year.value,
        }
    }

    /// The standard deviation of the factor in a field of which nothing is known.
    pub fn total(&self) -> f64 {
        let parts = [self.practice, self.class, self.planter, self.field, self.season, self.dig];
        parts.iter().map(|sd| sd * sd).sum::<f64>().sqrt()
    }

    /// The standard deviation of a season that lies `years` back.
    pub(super) fn season_after(&self, years: u16) -> f64 {
        (self.season.powi(2) + f64::from(years) * self.forget.powi(2)).sqrt()
    }
}

/// The blurs of a prior, made once.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Blurs {
    pub class: Blur,
    pub planter: Blur,
    pub field: Blur,
    pub season: Vec<Blur>,
    pub dig: Blur,
}

/// Older seasons than this count as this old.
const OLDEST: u16 = 30;

impl Blurs {
    pub(super) fn of(prior: &Prior) -> Self {
        Self {
            class: Blur::new(prior.class),
            planter: Blur::new(prior.planter),
            field: Blur::new(prior.field),
            season: (0..=OLDEST).map(|years| Blur::new(prior.season_after(years))).collect(),
            dig: Blur::new(prior.dig),
        }
    }

    /// The blur of a season that lies some years back.
    pub(super) fn season(&self, years: u16) -> &Blur {
        let index = usize::from(years.min(OLDEST));
        self.season.get(index).unwrap_or(&self.dig)
    }
}
