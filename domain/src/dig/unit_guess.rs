//! Which unit may have been meant, where a number can't be in the one that was given.

use crate::quantity::{Bound, Length, Measured, Speed, bounds, unit, units_of};

/// What is usual for a member, in the US unit of its row in the table of bounds. Common practice, no
/// source; it serves for a guess in a message and for nothing else.
#[derive(Debug, Clone, Copy)]
pub struct Usual<Q: 'static> {
    bound: &'static Bound<Q>,
    least: f64,
    most: f64,
    /// The units in which people read it: nobody holds a ruler in miles against a furrow.
    read_in: &'static [&'static str],
}

const RULER: &[&str] = &["[in_i]", "mm", "cm"];
const DRIVEN: &[&str] = &["[mi_i]/h", "km/h", "m/s"];

/// The members of a dig for which a unit is guessed.
pub mod usual {
    use super::{DRIVEN, Length, RULER, Speed, Usual, bounds};

    /// Corn and soybean lie between an inch and three.
    pub const SEED_DEPTH: Usual<Length> =
        Usual { bound: &bounds::SEED_DEPTH, least: 1.0, most: 3.0, read_in: RULER };
    /// The lever stands for such a depth, wear added.
    pub const LEVER_DEPTH: Usual<Length> =
        Usual { bound: &bounds::PLANTING_DEPTH, least: 1.0, most: 3.5, read_in: RULER };
    /// Corn stands at 5 to 9 in, soybean at 1 to 4 in.
    pub const SEED_SPACING: Usual<Length> =
        Usual { bound: &bounds::SEED_SPACING, least: 1.0, most: 12.0, read_in: RULER };
    /// Planters run at 3 to 8 mph, some at 10.
    pub const SPEED: Usual<Speed> =
        Usual { bound: &bounds::GROUND_SPEED, least: 3.0, most: 10.0, read_in: DRIVEN };
}

/// The same numbers in other units that people read it in, where all of them would be usual:
/// `2 in`, or `3 in or 3 cm`; of several numbers the first is said. Nothing where no unit fits, or
/// the unit given does.
pub fn unit_guess<Q: Measured>(usual: &Usual<Q>, values: &[f64], given: &str) -> Option<String> {
    let first = values.first()?;
    let own = unit(usual.bound.us)?;
    let fits = |code: &str| {
        unit(code).is_some_and(|other| {
            values.iter().all(|value| {
                let in_own = own.of_si(other.to_si(*value));
                in_own >= usual.least && in_own <= usual.most
            })
        })
    };
    if unit(given).is_none_or(|it| it.kind != Q::KIND) || fits(given) {
        return None;
    }
    let guesses: Vec<String> = units_of(Q::KIND)
        .filter(|other| usual.read_in.contains(&other.code) && fits(other.code))
        .map(|other| format!("{first} {}", other.label))
        .collect();
    (!guesses.is_empty()).then(|| guesses.join(" or "))
}

#[cfg(test)]
mod tests {
    use super::{unit_guess, usual};

    fn depth(value: f64, unit: &str) -> Option<String> {
        unit_guess(&usual::SEED_DEPTH, &[value], unit)
    }

    #[test]
    fn another_unit_is_guessed_where_it_fits() {
        assert_eq!(depth(2.0, "m").as_deref(), Some("2 in"));
        assert_eq!(depth(45.0, "[in_i]").as_deref(), Some("45 mm"));
        assert_eq!(depth(45.0, "cm").as_deref(), Some("45 mm"));
        assert_eq!(depth(1.75, "[ft_i]").as_deref(), Some("1.75 in"));
        assert_eq!(depth(3.0, "m").as_deref(), Some("3 in or 3 cm"), "two are said");
    }

    #[test]
    fn nothing_is_guessed_where_nothing_fits() {
        assert_eq!(depth(17.5, "[in_i]"), None, "the point slipped: no unit makes it right");
        assert_eq!(depth(2.0, "[in_i]"), None, "it is usual as it is");
        assert_eq!(depth(0.125, "[in_i]"), None, "nobody reads a depth in feet");
        assert_eq!(depth(-2.0, "m"), None);
        assert_eq!(depth(f64::NAN, "m"), None);
        assert_eq!(depth(2.0, "[psi]"), None, "no length");
        assert_eq!(depth(2.0, "inch"), None, "no unit");
        assert_eq!(unit_guess(&usual::SEED_DEPTH, &[], "m"), None);
        assert_eq!(unit_guess(&usual::SEED_DEPTH, &[2.0, 40.0], "m"), None, "no unit fits both");
    }

    #[test]
    fn spacings_and_speeds_have_their_own_range() {
        let spacing = unit_guess(&usual::SEED_SPACING, &[150.0], "[in_i]");
        assert_eq!(spacing.as_deref(), Some("150 mm"));
        let speed = unit_guess(&usual::SPEED, &[8.0], "m/s");
        assert_eq!(speed.as_deref(), Some("8 mph or 8 km/h"));
    }
}
