//! A practice's own figures in the place of those that ship.

use super::coefficient::{Coefficient, Within};
use super::mark::Mark;
use super::table::Coefficients;
use super::trace::Text;

/// A practice's own figure for one coefficient, in the unit of the coefficient.
#[derive(Debug, Clone, PartialEq)]
pub struct OwnFigure {
    /// The name of the coefficient.
    pub name: String,
    /// The figure to start with.
    pub value: f64,
    /// Low end of the range.
    pub low: f64,
    /// High end of the range.
    pub high: f64,
    /// Where the practice has it from.
    pub source: String,
}

/// Why an own figure is not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OwnFault {
    /// The table has no such coefficient.
    #[error("there is no coefficient `{0}`")]
    UnknownName(String),
    /// A figure is outside its hard bounds, or not a number.
    #[error("{member} {given} is outside {} to {} {unit}", within.least, within.most)]
    Outside {
        /// `low`, `value` or `high`.
        member: &'static str,
        /// What was given.
        given: f64,
        /// What is taken.
        within: Within,
        /// The unit of the coefficient.
        unit: &'static str,
    },
    /// The low end is above the figure.
    #[error("the low end {low} is above the figure {value}")]
    LowAboveValue {
        /// The low end.
        low: f64,
        /// The figure.
        value: f64,
    },
    /// The figure is above the high end.
    #[error("the figure {value} is above the high end {high}")]
    ValueAboveHigh {
        /// The figure.
        value: f64,
        /// The high end.
        high: f64,
    },
    /// Nobody said where the figure is from.
    #[error("the source is empty")]
    NoSource,
}

impl Coefficient {
    /// Everything that is wrong with an own figure for this coefficient; nothing when it is fit.
    pub fn faults_of(&self, own: &OwnFigure) -> Vec<OwnFault> {
        let OwnFigure { name: _, value, low, high, source } = own;
        let (value, low, high) = (*value, *low, *high);
        let mut faults: Vec<OwnFault> = [("value", value), ("low", low), ("high", high)]
            .into_iter()
            .filter(|(_, given)| !self.within.holds(*given))
            .map(|(member, given)| OwnFault::Outside {
                member,
                given,
                within: self.within,
                unit: self.unit,
            })
            .collect();
        if low > value {
            faults.push(OwnFault::LowAboveValue { low, value });
        }
        if value > high {
            faults.push(OwnFault::ValueAboveHigh { value, high });
        }
        if source.trim().is_empty() {
            faults.push(OwnFault::NoSource);
        }
        faults
    }

    fn take(&mut self, own: &OwnFigure) {
        // A negative zero becomes a plain one: no reader means it, and not every database keeps it.
        self.value = own.value + 0.0;
        self.low = own.low + 0.0;
        self.high = own.high + 0.0;
        self.mark = Mark::Own;
        self.source = Text::Owned(own.source.trim().to_owned());
    }
}

impl Coefficients {
    /// The coefficient of this name.
    pub fn find(&self, name: &str) -> Option<&Coefficient> {
        self.all().into_iter().find(|k| k.name == name)
    }

    /// This set with a practice's own figures in it, marked as such.
    ///
    /// # Errors
    /// The first figure that is not fit: an unknown name, a value outside the hard bounds of its
    /// row, an order other than low, value, high, or no source.
    pub fn with_own(&self, own: &[OwnFigure]) -> Result<Self, OwnFault> {
        let (set, faults) = self.with_fit(own);
        faults.into_iter().next().map_or(Ok(set), |(_, fault)| Err(fault))
    }

    /// This set with those own figures that are fit, and what is wrong with the others, by name.
    ///
    /// For figures that were taken by an older version, which may have had other coefficients and
    /// other bounds: what no longer fits must not stop the rest.
    pub fn with_fit(&self, own: &[OwnFigure]) -> (Self, Vec<(String, OwnFault)>) {
        let mut set = self.clone();
        let mut wrong = Vec::new();
        for figure in own {
            let place = set.all_mut().into_iter().find(|k| k.name == figure.name);
            let faults = match place {
                Some(k) => {
                    let faults = k.faults_of(figure);
                    if faults.is_empty() {
                        k.take(figure);
                    }
                    faults
                }
                None => vec![OwnFault::UnknownName(figure.name.clone())],
            };
            wrong.extend(faults.into_iter().map(|fault| (figure.name.clone(), fault)));
        }
        (set, wrong)
    }

    /// How many coefficients there are of each mark, the best known first; marks that none has
    /// are left out.
    pub fn counts_by_mark(&self) -> Vec<(Mark, usize)> {
        let count = |mark| self.all().into_iter().filter(|k| k.mark == mark).count();
        Mark::ALL.into_iter().map(|mark| (mark, count(mark))).filter(|(_, n)| *n > 0).collect()
    }
}
