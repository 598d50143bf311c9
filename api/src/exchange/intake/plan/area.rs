//! An area against the land inside the boundary: a wrong unit shows.

use domain::quantity::{Kind, bounds, unit, units_of};

use crate::http::BadMember;
use crate::http::quantity::Quantity;

/// How near an area must be to the land inside to be taken for it.
const NEAR: f64 = 0.05;

/// Checks an area at `pointer`. `inside` is the land inside the boundary in m², where there is one.
///
/// An area in the wrong unit is off by the factor between two units: 2.47 between acres and hectares,
/// 4047 or 10,000 to square metres. It is refused with the unit that fits, never put right.
///
/// # Errors
/// The member, when it is no area of a field.
pub(super) fn check(pointer: &str, given: &Quantity, inside: Option<f64>) -> Result<(), BadMember> {
    if let Some(inside) = inside.filter(|inside| *inside > 0.0)
        && let Some(fits) = unit_that_fits(given, inside)
    {
        let Quantity { value, unit } = given;
        let detail = format!(
            "The area does not fit the boundary, but {value} {fits} would: the unit looks wrong."
        );
        return Err(BadMember::new(pointer, detail)
            .given(format!("{value} {unit}"))
            .allowed(format!("about {} {unit}", in_unit(inside, unit)))
            .why("the boundary encloses so much, on the ellipsoid of WGS 84"));
    }
    given.parse(pointer, &bounds::FIELD_AREA).map(|_| ())
}

/// The unit in which the number would fit, where it does not fit in its own.
fn unit_that_fits(given: &Quantity, inside: f64) -> Option<&'static str> {
    let own = unit(&given.unit).filter(|unit| unit.kind == Kind::Area)?;
    let off = |square_metres: f64| (square_metres / inside - 1.0).abs();
    if off(own.to_si(given.value)) < 0.25 {
        return None;
    }
    let near = units_of(Kind::Area).find(|unit| off(unit.to_si(given.value)) < NEAR);
    near.map(|unit| unit.code)
}

fn in_unit(square_metres: f64, code: &str) -> String {
    unit(code).map_or_else(String::new, |unit| format!("{:.1}", unit.of_si(square_metres)))
}

#[cfg(test)]
mod tests {
    use super::check;
    use crate::http::quantity::Quantity;

    /// The oracle G1: 159,875.4 m² on the ellipsoid of WGS 84 by an independent library.
    const INSIDE: f64 = 159_875.4;

    fn refused(value: f64, unit: &str) -> Option<String> {
        check("/area", &Quantity::new(value, unit), Some(INSIDE)).err().map(|bad| bad.detail)
    }

    #[test]
    fn a_wrong_unit_is_found_by_its_factor() {
        for (value, unit, fits) in [
            (39.506, "har", "39.506 [acr_us]"),
            (15.99, "[acr_us]", "15.99 har"),
            (159_875.0, "har", "159875 m2"),
            (159_875.0, "[acr_us]", "159875 m2"),
            (39.5, "m2", "39.5 [acr_us]"),
            (1_720_884.0, "[acr_us]", "1720884 [sft_i]"),
        ] {
            let detail = refused(value, unit).expect("refused");
            assert!(detail.contains(fits), "{value} {unit}: {detail}");
        }
    }

    #[test]
    fn what_fits_or_is_off_by_no_unit_is_taken() {
        for (value, unit) in [
            (39.506, "[acr_us]"),
            (15.99, "har"),
            (36.0, "[acr_us]"),
            (42.5, "[acr_us]"),
            (20.0, "[acr_us]"),
            (159_875.0, "m2"),
        ] {
            assert_eq!(refused(value, unit), None, "{value} {unit}");
        }
        assert!(check("/area", &Quantity::new(39.5, "har"), None).is_ok());
        assert!(refused(39.5, "acres").is_some() && refused(-1.0, "har").is_some());
    }
}
