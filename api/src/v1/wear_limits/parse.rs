//! From the wire into the domain: sizes in range, and limits that a part can reach.

use std::collections::BTreeSet;

use domain::planter::Planter;
use domain::planter::inspection::{
    Direction, ItemCode, OwnerLimits, OwnerPart, direction, new_size,
};
use domain::quantity::bounds;

use super::dto::{PartLimitIn, WearLimitsIn};
use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused, text};
use crate::v1::inspections::read_measure as read;

/// Longest note on where a figure stands.
const LONGEST_SOURCE: usize = 200;
/// Highest price of a part.
const MOST_PRICE: f64 = 100_000.0;

impl WearLimitsIn {
    /// The limits in the domain, as they may be for this planter.
    pub(super) fn parse(&self, planter: &Planter) -> Result<OwnerLimits, Vec<BadMember>> {
        let mut refused = Refused::default();
        let blade = self.blade_thickness.as_ref();
        let blade_thickness = blade
            .and_then(|it| refused.take(it.parse("/blade_thickness", &bounds::BLADE_THICKNESS)));
        let mut owner = OwnerLimits { blade_thickness, ..OwnerLimits::default() };
        let mut seen = BTreeSet::new();
        for (place, part) in self.parts.iter().enumerate() {
            let pointer = format!("/parts/{place}");
            let code = ItemCode::from(part.item);
            if !seen.insert(code) {
                let member =
                    BadMember::new(format!("{pointer}/item"), "This item was given before.");
                refused.add(member.given(code.code()));
            }
            if let Some(parsed) = refused.take_all(part.parse(&pointer, planter)) {
                owner.parts.insert(code, parsed);
            }
        }
        self.check_currency(&mut refused);
        let bad = refused.into_members();
        if bad.is_empty() { Ok(owner) } else { Err(bad) }
    }

    fn check_currency(&self, refused: &mut Refused) {
        let priced = self.parts.iter().any(|part| part.price_each.is_some());
        let three = |code: &String| {
            code.len() == 3 && code.bytes().all(|letter| letter.is_ascii_uppercase())
        };
        match &self.currency {
            Some(code) if !three(code) => refused.add(
                BadMember::new("/currency", "This is no code of a currency.")
                    .given(code.escape_debug())
                    .allowed("three capital letters of ISO 4217"),
            ),
            None if priced => {
                refused.add(BadMember::new("/currency", "A price needs its currency."));
            }
            Some(_) | None => {}
        }
    }
}

impl PartLimitIn {
    fn parse(&self, pointer: &str, planter: &Planter) -> Result<OwnerPart, Vec<BadMember>> {
        let Self { item, new_size, watch_at, replace_at, price_each, source } = self;
        let at = |member: &str| format!("{pointer}/{member}");
        let code = ItemCode::from(*item);
        let mut refused = Refused::default();
        let known = code.item();
        if let Some(known) = known.filter(|known| !known.needs.has(planter)) {
            let detail = format!("The planter has no {}.", known.needs.words());
            refused.add(BadMember::new(at("item"), detail).given(code.code()));
        }
        let wears = direction(code).filter(|it| *it != Direction::Between);
        let measure = known.and_then(|known| known.measure).filter(|_| wears.is_some());
        let mut size = |member: &str, given: &Option<Quantity>| {
            let given = given.as_ref()?;
            let none = || {
                BadMember::new(at(member), "This item has no size that wears.").given(code.code())
            };
            let measure = measure.as_ref().ok_or_else(none);
            refused.take(measure.and_then(|measure| read(measure, given, &at(member))))
        };
        let part = OwnerPart {
            new: size("new_size", new_size),
            watch: size("watch_at", watch_at),
            replace: size("replace_at", replace_at),
            source: None,
        };
        if code == ItemCode::OpenerDiameter && new_size.is_some() {
            refused.add(
                BadMember::new(at("new_size"), "The make-up of the planter says this.")
                    .why("one place for one figure: recommendations reckon with the make-up"),
            );
        }
        if let Some(direction) = wears {
            refused.take_all(in_order(pointer, &part, (code, direction), planter));
        }
        if let Some(price) = price_each.filter(|price| !(0.0..=MOST_PRICE).contains(price)) {
            refused.add(
                BadMember::new(at("price_each"), "The price is out of range.")
                    .given(price)
                    .allowed(format!("0 to {MOST_PRICE}")),
            );
        }
        let source = source
            .as_ref()
            .and_then(|it| refused.take(text::line(&at("source"), it, LONGEST_SOURCE)));
        let bad = refused.into_members();
        if bad.is_empty() { Ok(OwnerPart { source, ..part }) } else { Err(bad) }
    }
}

/// A part is new, then watched, then replaced.
fn in_order(
    pointer: &str,
    part: &OwnerPart,
    (code, direction): (ItemCode, Direction),
    planter: &Planter,
) -> Result<(), Vec<BadMember>> {
    let worn = |value: f64| if direction == Direction::Falls { -value } else { value };
    let own = OwnerLimits { parts: [(code, part.clone())].into(), ..OwnerLimits::default() };
    let new = new_size(code, planter, &own).filter(|_| direction == Direction::Falls);
    let mut refused = Refused::default();
    let later = |first: Option<f64>, then: Option<f64>| match (first, then) {
        (Some(first), Some(then)) => worn(then) > worn(first) + 1e-9,
        _ => true,
    };
    let at = |member: &str| format!("{pointer}/{member}");
    for (member, limit) in [("replace_at", part.replace), ("watch_at", part.watch)] {
        if !later(new, limit) {
            refused.add(
                BadMember::new(at(member), "The part would be worn when it is new.")
                    .why("a part gets smaller as it wears, so its limit lies below new"),
            );
        }
    }
    if !later(part.watch, part.replace) {
        refused.add(
            BadMember::new(at("watch_at"), "The part would be watched after it is replaced.")
                .why("watching begins before the limit"),
        );
    }
    let bad = refused.into_members();
    if bad.is_empty() { Ok(()) } else { Err(bad) }
}
