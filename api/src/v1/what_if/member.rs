//! Members of a calculation that are no quantities, or need not be given.

use domain::quantity::{Bound, Measured};

use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused};

/// A quantity that need not be given.
pub(super) fn optional<Q: Measured>(
    refused: &mut Refused,
    given: Option<&Quantity>,
    pointer: &str,
    bound: &Bound<Q>,
) -> Option<Q> {
    given.and_then(|quantity| refused.take(quantity.parse(pointer, bound)))
}

/// A plain number within a range.
pub(super) fn number(
    pointer: &str,
    value: f64,
    (least, most): (f64, f64),
    why: &str,
) -> Result<f64, BadMember> {
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    Err(outside(pointer, &value.to_string(), &format!("{least} to {most}"), why))
}

/// A whole number within a range.
pub(super) fn whole(
    pointer: &str,
    value: u32,
    (least, most): (u32, u32),
    why: &str,
) -> Result<u32, BadMember> {
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    Err(outside(pointer, &value.to_string(), &format!("{least} to {most}"), why))
}

/// A list with a sensible number of entries.
pub(super) fn entries(
    pointer: &str,
    length: usize,
    (least, most): (usize, usize),
    why: &str,
) -> Result<(), BadMember> {
    if (least..=most).contains(&length) {
        return Ok(());
    }
    let given = format!("{length} entries");
    Err(outside(pointer, &given, &format!("{least} to {most} entries"), why))
}

fn outside(pointer: &str, given: &str, allowed: &str, why: &str) -> BadMember {
    BadMember::new(pointer, format!("{given} is outside {allowed}."))
        .given(given)
        .allowed(allowed)
        .why(why)
}
