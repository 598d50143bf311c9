//! The calculation of a plan, step by step.

use super::Ask;
use super::size::{Asked, Size};
use crate::provenance::{Coefficients, Input, Mark, Step, Text, Trace, sources};
use crate::quantity::{Length, Measured};
use crate::stats::t_critical;

/// The steps of a dig that starts afresh.
pub(super) fn of_plan(ask: &Ask<'_>, asked: Asked, size: &Size, k: &Coefficients) -> Trace {
    let mut steps = vec![
        seeds_at_least_work(ask, size, k),
        wanted(ask, asked, k),
        one_row(ask, size.seeds_at_least_work),
        rows(ask, asked, size, k),
    ];
    let one_row = ask.spreads.of_a_row(f64::from(size.seeds));
    steps.extend(half_width(one_row, size.rows, size.seeds, ask.confidence));
    Trace { steps }
}

/// The step of the half-width, where there is more than one row.
pub(super) fn half_width(one_row: f64, rows: u16, seeds: u16, confidence: f64) -> Option<Step> {
    let t = t_critical(1.0 - confidence, f64::from(rows) - 1.0)?;
    Some(step(
        "half the width of the mean's interval that is likely",
        "t s_row / sqrt(rows)",
        vec![
            Input::new("t", t, "1"),
            Input::new("s_row", one_row * 1e3, "mm"),
            Input::new("rows", f64::from(rows), "1"),
            Input::new("seeds on a row", f64::from(seeds), "1"),
        ],
        (t * one_row / f64::from(rows).sqrt() * 1e3, "mm"),
        (sources::TWO_STAGE, Mark::Derived),
    ))
}

fn seeds_at_least_work(ask: &Ask<'_>, size: &Size, k: &Coefficients) -> Step {
    step(
        "seeds on a row at the least work",
        "sqrt(c) s_within / s_between, within least and most",
        vec![
            Input::new("c", k.dig_row_work.value, "1"),
            mm("s_within", ask.spreads.within),
            mm("s_between", ask.spreads.between),
            Input::new("least", k.dig_seeds_least.value, "1"),
            Input::new("most", k.dig_seeds_most.value, "1"),
        ],
        (size.seeds_at_least_work, "1"),
        (sources::TWO_STAGE, ask.spreads.mark.max(k.dig_row_work.mark)),
    )
}

fn wanted(ask: &Ask<'_>, asked: Asked, k: &Coefficients) -> Step {
    step(
        "half the width of the mean's interval that is wanted",
        "q t",
        vec![Input::new("q", k.dig_half_width.value, "1"), mm("t", ask.tolerance)],
        (asked.half_width.si() * 1e3, "mm"),
        (sources::OWN_CHOICE, k.dig_half_width.mark),
    )
}

fn one_row(ask: &Ask<'_>, seeds: f64) -> Step {
    step(
        "standard deviation of the mean of a row",
        "sqrt(s_between^2 + s_within^2 / n)",
        vec![
            mm("s_between", ask.spreads.between),
            mm("s_within", ask.spreads.within),
            Input::new("n", seeds, "1"),
        ],
        (ask.spreads.of_a_row(seeds) * 1e3, "mm"),
        (sources::TWO_STAGE, ask.spreads.mark.max(Mark::Derived)),
    )
}

fn rows(ask: &Ask<'_>, asked: Asked, size: &Size, k: &Coefficients) -> Step {
    step(
        "rows to dig",
        "the fewest with t s_row / sqrt(rows) <= half width, t at rows - 1 degrees; the least, and no more than the planter has",
        vec![
            Input::new("s_row", ask.spreads.of_a_row(size.seeds_at_least_work) * 1e3, "mm"),
            mm("half width", asked.half_width),
            Input::new("confidence", ask.confidence, "1"),
            Input::new("least", k.dig_rows_least.value, "1"),
            Input::new("rows of the planter", f64::from(ask.bar.rows), "1"),
        ],
        (f64::from(size.rows), "1"),
        (sources::TWO_STAGE, ask.spreads.mark.max(Mark::Derived)),
    )
}

fn step(
    name: &'static str,
    formula: &'static str,
    inputs: Vec<Input>,
    (value, unit): (f64, &'static str),
    (source, mark): (&'static str, Mark),
) -> Step {
    Step {
        step: Text::Borrowed(name),
        formula: Text::Borrowed(formula),
        inputs,
        value,
        unit: Text::Borrowed(unit),
        low: None,
        high: None,
        source: Text::Borrowed(source),
        mark,
    }
}

fn mm(symbol: &'static str, length: Length) -> Input {
    Input::new(symbol, length.si() * 1e3, "mm")
}
