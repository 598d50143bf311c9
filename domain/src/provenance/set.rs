//! A whole set of coefficients as a plain list, to be stored beside what it gave.

use serde::{Deserialize, Serialize};

use super::mark::Mark;
use super::table::Coefficients;
use super::trace::Text;

/// One figure of a stored set. What the coefficient is stays in the table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Figure {
    /// The name of the coefficient.
    pub name: Text,
    /// The figure to start with, in `unit`.
    pub value: f64,
    /// Low end of the range, in `unit`.
    pub low: f64,
    /// High end of the range, in `unit`.
    pub high: f64,
    /// UCUM code.
    pub unit: Text,
    /// How the figure was known.
    pub mark: Mark,
    /// Where it was from.
    pub source: Text,
}

/// Why a stored set can't be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SetFault {
    /// The set lacks a coefficient.
    #[error("the set lacks `{0}`")]
    Missing(String),
    /// The set has a coefficient that the table lacks.
    #[error("the set has `{0}`, which the table lacks")]
    Unknown(String),
    /// The set has a coefficient twice.
    #[error("the set has `{0}` twice")]
    Twice(String),
    /// A coefficient has another unit now: its figure would mean something else.
    #[error("`{name}` was stored in {stored} and is in {now} now")]
    OtherUnit {
        /// The coefficient.
        name: String,
        /// The unit when it was stored.
        stored: String,
        /// The unit now.
        now: String,
    },
}

impl Coefficients {
    /// The set as a plain list, in the order of the table.
    pub fn figures(&self) -> Vec<Figure> {
        let figure = |k: &super::Coefficient| Figure {
            name: Text::Borrowed(k.name),
            value: k.value,
            low: k.low,
            high: k.high,
            unit: Text::Borrowed(k.unit),
            mark: k.mark,
            source: k.source.clone(),
        };
        self.all().into_iter().map(figure).collect()
    }

    /// The set that this version of the engine stored: complete, with nothing else in it.
    ///
    /// # Errors
    /// What is missing, unknown, twice, or in another unit.
    pub fn from_figures(figures: &[Figure]) -> Result<Self, SetFault> {
        let set = Self::from_older_figures(figures)?;
        let names: Vec<&str> = set.all().into_iter().map(|k| k.name).collect();
        if let Some(unknown) = figures.iter().find(|figure| !names.contains(&&*figure.name)) {
            return Err(SetFault::Unknown(unknown.name.to_string()));
        }
        match names.into_iter().find(|name| figures.iter().all(|figure| figure.name != *name)) {
            Some(missing) => Err(SetFault::Missing(missing.to_owned())),
            None => Ok(set),
        }
    }

    /// The set that an older version stored. A coefficient that came later has the figure that
    /// ships; one that has gone since is left out, for nothing asks for it.
    ///
    /// # Errors
    /// What is twice or in another unit.
    pub fn from_older_figures(figures: &[Figure]) -> Result<Self, SetFault> {
        let mut set = Self::STANDARD;
        for k in set.all_mut() {
            let mut found = figures.iter().filter(|figure| figure.name == k.name);
            let Some(figure) = found.next() else { continue };
            if found.next().is_some() {
                return Err(SetFault::Twice(k.name.to_owned()));
            }
            if figure.unit != k.unit {
                return Err(SetFault::OtherUnit {
                    name: k.name.to_owned(),
                    stored: figure.unit.to_string(),
                    now: k.unit.to_owned(),
                });
            }
            (k.value, k.low, k.high) = (figure.value, figure.low, figure.high);
            k.mark = figure.mark;
            k.source = figure.source.clone();
        }
        Ok(set)
    }
}
