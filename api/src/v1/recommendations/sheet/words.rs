//! Codes and quantities as people write them.

use domain::quantity::unit;

use crate::http::quantity::Quantity;
use crate::v1::planters::ClosingPair;
use crate::v1::recommendations::words::{CleanerUse, ClosingSpring, CoulterUse, HopperFill};
use crate::v1::trace::Reason;

/// `223 lbf`, `34,000 per ac`.
pub(super) fn quantity(it: &Quantity) -> String {
    let label = unit(&it.unit).map_or(it.unit.as_str(), |unit| unit.label);
    format!("{} {label}", number(it.value))
}

/// `137 to 200 lbf`.
pub(super) fn from_to(low: &Quantity, high: &Quantity) -> String {
    format!("{} to {}", number(low.value), quantity(high))
}

/// With commas from ten thousand on.
fn number(value: f64) -> String {
    let text = value.to_string();
    let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
    let (sign, digits) = whole.strip_prefix('-').map_or(("", whole), |rest| ("-", rest));
    let mut grouped = String::new();
    for (place, digit) in digits.chars().enumerate() {
        if digits.len() > 4 && place > 0 && (digits.len() - place).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let point = if part.is_empty() { "" } else { "." };
    format!("{sign}{grouped}{point}{part}")
}

/// `30 %`.
pub(super) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

/// The first reason as a sentence.
pub(super) fn why(because: &[Reason]) -> String {
    because.first().map(|reason| sentence(&reason.text)).unwrap_or_default()
}

/// At most so many letters.
pub(super) fn cut(text: &str, most: usize) -> String {
    let mut letters = text.chars();
    let kept: String = letters.by_ref().take(most).collect();
    if letters.next().is_some() { kept + "…" } else { kept }
}

/// With a capital and a full stop.
pub(super) fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|letter| letter.to_uppercase().to_string());
    let mut made = first.unwrap_or_default() + letters.as_str();
    if !made.is_empty() && !made.ends_with(['.', '!', '?']) {
        made.push('.');
    }
    made
}

pub(super) fn pair(pair: ClosingPair) -> &'static str {
    match pair {
        ClosingPair::Rubber => "two smooth rubber wheels",
        ClosingPair::CastIron => "two smooth cast-iron wheels",
        ClosingPair::SpikedAndRubber => "one spiked, one rubber wheel",
        ClosingPair::TwoSpiked => "two spiked wheels",
        ClosingPair::Finger => "finger wheels",
    }
}

pub(super) fn spring(spring: ClosingSpring) -> &'static str {
    match spring {
        ClosingSpring::None => "no spring",
        ClosingSpring::Light => "spring at the lightest notch that closes",
        ClosingSpring::Medium => "spring at a middle notch",
    }
}

pub(super) fn coulter(coulter: CoulterUse) -> &'static str {
    match coulter {
        CoulterUse::NotFitted => "None fitted",
        CoulterUse::Run => "Run it",
        CoulterUse::TakeOff => "Take it off, or lift it clear",
    }
}

pub(super) fn cleaner(cleaner: CleanerUse) -> &'static str {
    match cleaner {
        CleanerUse::NotFitted => "None fitted",
        CleanerUse::Skim => "Skim: part the residue, leave the soil",
        CleanerUse::Float => "Float, just brushing",
        CleanerUse::Lift => "Lift it clear",
    }
}

pub(super) fn hopper(fill: HopperFill) -> &'static str {
    match fill {
        HopperFill::Full => "Full",
        HopperFill::Half => "Half",
        HopperFill::Empty => "Empty",
        HopperFill::Central => "Seed on the frame",
    }
}

#[cfg(test)]
mod tests {
    use super::{cut, number, quantity, sentence};
    use crate::http::quantity::Quantity;

    #[test]
    fn quantities_read_as_people_write_them() {
        assert_eq!(quantity(&Quantity::new(34_000.0, "1/[acr_us]")), "34,000 per ac");
        assert_eq!(quantity(&Quantity::new(1.75, "[in_i]")), "1.75 in");
        assert_eq!(quantity(&Quantity::new(5.0, "[mi_i]/h")), "5 mph");
        assert_eq!(number(-1234.5), "-1234.5");
        assert_eq!(number(-12_345.0), "-12,345");
        assert_eq!(number(1_234_567.0), "1,234,567");
        assert_eq!(sentence("the ball crumbles"), "The ball crumbles.");
        assert_eq!(sentence(""), "");
        assert_eq!((cut("wing", 4), cut("left wing", 4)), ("wing".into(), "left…".into()));
    }
}
