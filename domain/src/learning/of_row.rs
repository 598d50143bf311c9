//! What is known of the resistance factor of a row in a field: what its conditions let expect, and
//! what digs taught.

use super::lessons::Lessons;
use super::posterior::Posterior;
use crate::conditions::Conditions;
use crate::planter::Planter;
use crate::provenance::Coefficients;
use crate::quantity::{Force, Length, Speed};
use crate::settings::{AsSet, DugRow};

/// The factor of a row at a depth and speed, by its conditions and by lessons; by its conditions
/// alone where nobody dug.
pub fn factor_of_row(
    planter: &Planter,
    field: &Conditions,
    k: &Coefficients,
    (depth, speed): (Length, Speed),
    lessons: Option<&Lessons>,
) -> Posterior {
    let (field, _) = field.settled(k);
    let set = AsSet { down_force: Force::default(), speed, box_share: 0.5 };
    DugRow::at(planter, &field, k, depth, set).factor(lessons)
}
