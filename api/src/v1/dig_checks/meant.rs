//! A guess at the unit that was meant, for a value that can't be.

use domain::dig::{Usual, unit_guess};
use domain::quantity::Measured;

use crate::http::BadMember;

/// The refusal with the guess, where the same number is usual in another unit.
pub(super) fn meant<Q: Measured>(
    mut refusal: BadMember,
    usual: &Usual<Q>,
    value: f64,
    unit: &str,
) -> BadMember {
    if let Some(guess) = unit_guess(usual, &[value], unit) {
        refusal.detail = format!("{}: did you mean {guess}?", refusal.detail);
    }
    refusal
}
