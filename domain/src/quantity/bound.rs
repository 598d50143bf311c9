//! A named member of the wire, its unit, its physical range, and the reason for the range.

use std::marker::PhantomData;

use super::kind::{Kind, Measured, System};
use super::unit::{Unit, unit, units_of};

/// One row of the table of bounds: what a member may be, in which units it is shown, and why.
#[derive(Debug, Clone, Copy)]
pub struct Bound<Q> {
    /// The name of the quantity, as in the API.
    pub name: &'static str,
    /// Least value allowed, in `us`.
    pub least: f64,
    /// Greatest value allowed, in `us`.
    pub most: f64,
    /// UCUM code of `least` and `most`, and of answers in US units.
    pub us: &'static str,
    /// UCUM code of answers in SI units.
    pub si: &'static str,
    /// Why the range is what it is.
    pub why: &'static str,
    quantity: PhantomData<Q>,
}

/// Why a value was not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{name}: {reason}")]
pub struct Refusal {
    /// The name in the table of bounds.
    pub name: &'static str,
    /// The number given.
    pub value: f64,
    /// The unit given.
    pub unit: String,
    /// Least value allowed, in the unit given, or in the table's own if that was unknown.
    pub least: f64,
    /// Greatest value allowed, likewise.
    pub most: f64,
    /// The unit of `least` and `most`.
    pub range_unit: String,
    /// What was wrong.
    pub reason: RefusalReason,
    /// Why the range is what it is.
    pub why: &'static str,
}

/// What was wrong with a value.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RefusalReason {
    /// The code is not in the unit table.
    #[error("the unit {unit:?} is not known; give {wanted} in one of {accepted}")]
    UnknownUnit {
        /// The code given.
        unit: String,
        /// The kind of quantity wanted, in words.
        wanted: &'static str,
        /// The codes that are taken here.
        accepted: String,
    },
    /// The unit measures something else.
    #[error("{unit:?} measures {given}, but {wanted} is needed; give one of {accepted}")]
    WrongDimension {
        /// The code given.
        unit: String,
        /// What the given unit measures, in words.
        given: &'static str,
        /// The kind of quantity wanted, in words.
        wanted: &'static str,
        /// The codes that are taken here.
        accepted: String,
    },
    /// Not a number, or infinite.
    #[error("the value must be a finite number")]
    NotFinite,
    /// Outside what is physically possible.
    #[error("{value} {unit} is outside {least} to {most} {unit}")]
    OutOfRange {
        /// The number given.
        value: f64,
        /// The unit given.
        unit: String,
        /// Least value allowed in that unit.
        least: f64,
        /// Greatest value allowed in that unit.
        most: f64,
    },
}

impl<Q: Measured> Bound<Q> {
    pub(super) const fn new(
        name: &'static str,
        range: (f64, f64),
        units: (&'static str, &'static str),
        why: &'static str,
    ) -> Self {
        let (least, most) = range;
        let (us, si) = units;
        Self { name, least, most, us, si, why, quantity: PhantomData }
    }

    /// The kind of quantity.
    pub const fn kind(&self) -> Kind {
        Q::KIND
    }

    /// Takes a value in any unit of the right kind, if it is finite and in range.
    ///
    /// # Errors
    /// A [`Refusal`] that says what was given, what is allowed in the unit given, and why.
    pub fn parse(&self, value: f64, code: &str) -> Result<Q, Box<Refusal>> {
        let given = self.known_unit(value, code)?;
        let refuse = |reason| self.refusal(value, given, reason);
        if !value.is_finite() {
            return Err(refuse(RefusalReason::NotFinite));
        }
        let (least, most) = self.range_in(given);
        // The ends belong to the range, whatever the last binary digit of a conversion is.
        let slack = 1e-9 * (most - least).abs();
        if value < least - slack || value > most + slack {
            let reason = RefusalReason::OutOfRange {
                value,
                unit: code.to_owned(),
                least: short(least),
                most: short(most),
            };
            return Err(refuse(reason));
        }
        Ok(Q::from_si(given.to_si(value)))
    }

    /// The range in another unit of the same kind.
    pub fn range_in(&self, target: &Unit) -> (f64, f64) {
        unit(self.us).map_or((self.least, self.most), |own| {
            (target.of_si(own.to_si(self.least)), target.of_si(own.to_si(self.most)))
        })
    }

    /// The code in which an answer is given.
    pub const fn code(&self, system: System) -> &'static str {
        match system {
            System::Us => self.us,
            System::Si => self.si,
        }
    }

    /// The value and code in which an answer is given.
    pub fn show(&self, quantity: Q, system: System) -> (f64, &'static str) {
        let code = self.code(system);
        let value = unit(code).map_or_else(|| quantity.si(), |u| u.read(quantity));
        (value, code)
    }

    fn known_unit(&self, value: f64, code: &str) -> Result<&'static Unit, Box<Refusal>> {
        let accepted = || units_of(Q::KIND).map(|u| u.code).collect::<Vec<_>>().join(", ");
        let wanted = Q::KIND.name();
        let reason = match unit(code) {
            Some(u) if u.kind == Q::KIND => return Ok(u),
            Some(u) => RefusalReason::WrongDimension {
                unit: code.to_owned(),
                given: u.kind.name(),
                wanted,
                accepted: accepted(),
            },
            None => {
                RefusalReason::UnknownUnit { unit: code.to_owned(), wanted, accepted: accepted() }
            }
        };
        Err(Box::new(Refusal {
            name: self.name,
            value,
            unit: code.to_owned(),
            least: self.least,
            most: self.most,
            range_unit: self.us.to_owned(),
            reason,
            why: self.why,
        }))
    }

    fn refusal(&self, value: f64, given: &Unit, reason: RefusalReason) -> Box<Refusal> {
        let (least, most) = self.range_in(given);
        Box::new(Refusal {
            name: self.name,
            value,
            unit: given.code.to_owned(),
            least: short(least),
            most: short(most),
            range_unit: given.code.to_owned(),
            reason,
            why: self.why,
        })
    }
}

/// Six significant digits: a range in a message needs no more.
fn short(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    format!("{value:.5e}").parse().unwrap_or(value)
}
