//! The planter from behind: which row carries what.

use domain::trial::Heading;
use domain::trial::Way;
use maud::{Markup, html};

use super::facts::Facts;
use super::ink::{letter, tone};

/// Width of the drawing.
const WIDTH: f64 = 720.0;

/// The planter, seen from behind, where single rows or halves carry something; once for each choice of
/// rows.
pub(super) fn planter(facts: &Facts) -> Markup {
    if matches!(facts.layout.way, Way::Strips { .. }) {
        return html! {};
    }
    let mut drawn: Vec<Vec<Option<u16>>> = Vec::new();
    let mut places: Vec<Vec<u16>> = Vec::new();
    for block in 1..=facts.design.blocks {
        let rows = carried(facts, block);
        let known = drawn.iter().position(|it| *it == rows);
        if let Some(place) = known.and_then(|at| places.get_mut(at)) {
            place.push(block);
        } else {
            drawn.push(rows);
            places.push(vec![block]);
        }
    }
    let all = drawn.len() == 1;
    html! {
        section {
            h2 { "The planter, seen from behind" }
            @for (rows, blocks) in drawn.iter().zip(&places) {
                @if !all { p { "Block " (listed(blocks)) ":" } }
                (bar(facts, rows))
            }
            p.small { "T: runs behind a tyre. Rows without a letter are planted as always, and not looked at." }
        }
    }
}

/// What each row carries in a block, from the left.
fn carried(facts: &Facts, block: u16) -> Vec<Option<u16>> {
    let plots: Vec<_> = facts.layout.plots.iter().filter(|it| it.block == block).collect();
    (1..=facts.planter_rows)
        .map(|row| plots.iter().find(|it| it.rows.contains(&row)).map(|it| it.treatment))
        .collect()
}

fn bar(facts: &Facts, rows: &[Option<u16>]) -> Markup {
    let many = u32::try_from(rows.len()).map_or(1.0, f64::from).max(1.0);
    let step = WIDTH / many;
    let box_width = (step * 0.7).min(40.0);
    html! {
        svg viewBox="0 0 720 66" role="img" aria-label="Rows of the planter and what they carry" {
            rect x="0" y="6" width="720" height="5" fill="#000" {}
            @for (row, carries) in (1_u16..).zip(rows) {
                @let middle = step * (f64::from(row) - 0.5);
                line x1=(middle) y1="11" x2=(middle) y2="18" stroke="#000" stroke-width="2" {}
                rect x=(middle - box_width / 2.0) y="18" width=(box_width) height="26"
                    fill=(carries.map_or("#fff", tone)) stroke="#000"
                    stroke-dasharray=[carries.is_none().then_some("2 2")] {}
                @if let Some(treatment) = carries {
                    (letter(middle, 31.0, Facts::letter(*treatment)))
                }
                text x=(middle) y="57" text-anchor="middle" font-size="11" {
                    (row) @if facts.layout.tyre_rows.contains(&row) { " T" }
                }
            }
        }
    }
}

/// `1, 2 and 5`.
pub(super) fn listed(numbers: &[u16]) -> String {
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    match numbers.as_slice() {
        [most @ .., last] if !most.is_empty() => format!("{} and {last}", most.join(", ")),
        _ => numbers.join(""),
    }
}

/// The way a pass is driven, as an arrow.
pub(super) fn arrow(heading: Option<Heading>) -> &'static str {
    match heading {
        Some(Heading::There) => "↑",
        Some(Heading::Back) => "↓",
        None => "↑↓",
    }
}
