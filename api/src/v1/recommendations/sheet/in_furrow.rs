//! The line of the sheet on what runs in the furrow. A stop is in capitals.

use super::table::Line;
use super::words::{quantity, sentence, why};
use crate::v1::recommendations::answer::{CaughtOut, InFurrowOut};
use crate::v1::recommendations::in_furrow::InFurrowVerdict;

/// Rate, what to catch, how far a tank goes; or that it must stay out.
pub(super) fn line(it: &InFurrowOut) -> Line {
    let (set, more) = match (it.verdict, &it.rate) {
        (InFurrowVerdict::Stop, _) => {
            ("NOT IN THE FURROW".to_owned(), "shut the outlets for this product".to_owned())
        }
        (_, None) => ("The rate on its label".to_owned(), String::new()),
        (InFurrowVerdict::Lower, Some(rate)) => {
            (format!("{} AND NO MORE", quantity(rate)), how(it))
        }
        (_, Some(rate)) => (quantity(rate), how(it)),
    };
    Line { name: "In furrow", set, more, why: reason(it) }
}

/// Product in the liquid, catch of each outlet, area of a tank.
fn how(it: &InFurrowOut) -> String {
    let thinned = it.product_rate.as_ref().filter(|product| Some(*product) != it.rate.as_ref());
    let product = thinned.map(|product| format!("{} of it product", quantity(product)));
    let outlet = it.outlet.as_ref().map(|outlet| {
        format!(
            "each outlet gives {} a minute at {}, or {} on {} of row",
            cup(&outlet.in_a_minute),
            quantity(&outlet.speed),
            cup(&outlet.on_course),
            quantity(&outlet.course)
        )
    });
    let tank = it.tank.as_ref().map(|tank| format!("a tank does {}", quantity(&tank.area)));
    let parts: Vec<String> = [product, outlet, tank].into_iter().flatten().collect();
    parts.join("; ")
}

/// `16.2 fl oz (478 mL)`.
fn cup(caught: &CaughtOut) -> String {
    format!("{} ({})", quantity(&caught.ounces), quantity(&caught.millilitres))
}

/// Every stop, or the first reason and the first thing to watch.
fn reason(it: &InFurrowOut) -> String {
    if it.verdict == InFurrowVerdict::Stop {
        let all: Vec<String> = it.because.iter().map(|reason| sentence(&reason.text)).collect();
        return all.join(" ");
    }
    format!("{} {}", why(&it.because), why(&it.watch))
}
