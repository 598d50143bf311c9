//! A measured number on the wire: never without its unit.

use domain::quantity::{Bound, Measured, Refusal, RefusalReason, System};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::BadMember;

/// The pattern of a UCUM code for the API document.
pub const UNIT_PATTERN: &str = r"^[A-Za-z0-9\[\]_%/*.'{}-]+$";

/// A measured number with its unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"value": 1.75, "unit": "[in_i]"})))]
pub struct Quantity {
    /// The number, in `unit`.
    #[schema(example = 1.75)]
    pub value: f64,
    /// UCUM code of the unit, case-sensitive: `[in_i]`, `mm`, `[lbf_av]`, `N`, `[psi]`, `kPa`,
    /// `[mi_i]/h`, `km/h`, `[degF]`, `Cel`, `[acr_us]`, `har`. Any listed unit of the right
    /// dimension is taken.
    #[schema(
        min_length = 1,
        max_length = 20,
        pattern = "^[A-Za-z0-9\\[\\]_%/*.'{}-]+$",
        example = "[in_i]"
    )]
    pub unit: String,
}

/// Readings of one kind, all in one unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"unit": "[in_i]", "values": [1.8, 1.7, 2.0]})))]
pub struct Quantities {
    /// UCUM code of the unit, case-sensitive; see `Quantity`.
    #[schema(
        min_length = 1,
        max_length = 20,
        pattern = "^[A-Za-z0-9\\[\\]_%/*.'{}-]+$",
        example = "[in_i]"
    )]
    pub unit: String,
    /// The numbers, in `unit`, in the order in which they were read.
    #[schema(max_items = 1000, example = json!([1.8, 1.7, 2.0]))]
    pub values: Vec<f64>,
}

/// Most readings in one list.
pub const MOST_READINGS: usize = 1000;

impl Quantity {
    /// A number in a unit.
    pub fn new(value: f64, unit: &str) -> Self {
        Self { value, unit: unit.to_owned() }
    }

    /// A computed quantity for an answer, in the caller's units, to six significant digits.
    pub fn show<Q: Measured>(bound: &Bound<Q>, quantity: Q, system: System) -> Self {
        let (value, unit) = bound.show(quantity, system);
        Self::new(six_digits(value), unit)
    }

    /// Into the domain, if the unit fits and the value is in range.
    pub fn parse<Q: Measured>(&self, pointer: &str, bound: &Bound<Q>) -> Result<Q, BadMember> {
        bound.parse(self.value, &self.unit).map_err(|refusal| refused(pointer, &refusal))
    }
}

impl Quantities {
    /// Into the domain, if the unit fits and every value is in range. The pointer of a refused
    /// value is `<pointer>/values/<index>`.
    pub fn parse<Q: Measured>(
        &self,
        pointer: &str,
        bound: &Bound<Q>,
    ) -> Result<Vec<Q>, Vec<BadMember>> {
        if self.values.len() > MOST_READINGS {
            let member =
                BadMember::new(format!("{pointer}/values"), "These are too many readings.")
                    .given(self.values.len())
                    .allowed(format!("at most {MOST_READINGS}"));
            return Err(vec![member]);
        }
        let mut bad = Vec::new();
        let mut parsed = Vec::with_capacity(self.values.len());
        for (index, value) in self.values.iter().enumerate() {
            match bound.parse(*value, &self.unit) {
                Ok(quantity) => parsed.push(quantity),
                Err(refusal) => {
                    bad.push(refused(&format!("{pointer}/values/{index}"), &refusal));
                }
            }
        }
        if bad.is_empty() { Ok(parsed) } else { Err(bad) }
    }
}

/// A refusal of the domain as a member of a problem.
pub fn refused(pointer: &str, refusal: &Refusal) -> BadMember {
    let member = BadMember::new(pointer, refusal.reason.to_string())
        .given(format!("{} {}", refusal.value, refusal.unit));
    match &refusal.reason {
        RefusalReason::UnknownUnit { accepted, .. }
        | RefusalReason::WrongDimension { accepted, .. } => member.allowed(accepted.clone()),
        RefusalReason::NotFinite | RefusalReason::OutOfRange { .. } => member
            .allowed(format!("{} to {} {}", refusal.least, refusal.most, refusal.range_unit))
            .why(refusal.why),
    }
}

/// Six significant digits: more would pretend to a precision nobody measured.
pub fn six_digits(value: f64) -> f64 {
    let short =
        if value.is_finite() { format!("{value:.5e}").parse().unwrap_or(value) } else { value };
    // Nothing has no sign: -0 becomes 0.
    short + 0.0
}

#[cfg(test)]
mod tests {
    use super::{Quantities, Quantity, UNIT_PATTERN, six_digits};
    use domain::quantity::{UNITS, bounds};

    #[test]
    fn every_unit_fits_the_pattern_of_the_document() {
        let inside =
            |letter: char| letter.is_ascii_alphanumeric() || "[]_%/*.'{}-".contains(letter);
        for unit in UNITS {
            assert!(unit.code.chars().all(inside), "{} against {UNIT_PATTERN}", unit.code);
            assert!(unit.code.len() <= 20, "{}", unit.code);
        }
    }

    #[test]
    fn a_refusal_names_member_value_range_and_reason() {
        let deep = Quantity::new(9.0, "[in_i]");
        let member = deep.parse("/depth", &bounds::PLANTING_DEPTH).expect_err("too deep");
        assert_eq!(member.pointer, "/depth");
        assert_eq!(member.given.as_deref(), Some("9 [in_i]"));
        assert_eq!(member.allowed.as_deref(), Some("0.25 to 5 [in_i]"));
        assert!(member.why.is_some());

        let readings = Quantities { unit: "mm".to_owned(), values: vec![45.0, -3.0] };
        let bad = readings.parse("/depths", &bounds::SEED_DEPTH).expect_err("below zero");
        assert_eq!(bad[0].pointer, "/depths/values/1");
    }

    #[test]
    fn six_digits_are_kept() {
        assert!((six_digits(123.456_789) - 123.457).abs() < 1e-12);
        assert!(six_digits(0.0).abs() < 1e-12);
    }
}
