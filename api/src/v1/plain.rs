//! Quantities in a sentence, as people write them.

use domain::quantity::unit;

use crate::http::quantity::Quantity;

/// `223 lbf`, `1.75 in`.
pub fn quantity(it: &Quantity) -> String {
    let label = unit(&it.unit).map_or(it.unit.as_str(), |unit| unit.label);
    format!("{} {label}", it.value)
}

/// `223 to 260 lbf`.
pub fn from_to(from: &Quantity, to: &Quantity) -> String {
    format!("{} to {}", from.value, quantity(to))
}

/// ` on row 3`, ` on rows 3, 5 and 7`; nothing for all rows.
pub fn on_rows(rows: &[u16]) -> String {
    let numbers: Vec<String> = rows.iter().map(ToString::to_string).collect();
    match numbers.as_slice() {
        [] => String::new(),
        [one] => format!(" on row {one}"),
        [most @ .., last] => format!(" on rows {} and {last}", most.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::{from_to, on_rows, quantity};
    use crate::http::quantity::Quantity;

    #[test]
    fn people_write_units_without_brackets() {
        assert_eq!(quantity(&Quantity::new(1.75, "[in_i]")), "1.75 in");
        let force = |value| Quantity::new(value, "[lbf_av]");
        assert_eq!(from_to(&force(223.0), &force(260.0)), "223 to 260 lbf");
    }

    #[test]
    fn rows_are_listed() {
        assert_eq!(on_rows(&[]), "");
        assert_eq!(on_rows(&[3]), " on row 3");
        assert_eq!(on_rows(&[3, 5, 7]), " on rows 3, 5 and 7");
    }
}
