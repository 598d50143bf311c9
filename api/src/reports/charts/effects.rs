//! What a trial found: differences with their intervals, held against no difference.

use domain::season::report::{TrialEffect, TrialSummary};
use maud::Markup;

use super::canvas::{Anchor, Canvas, FEW, INK, LAST, PLAIN, RULE, SOFT, STRONG, WIDTH};
use super::scale::Scale;
use crate::reports::words::{number, unit_label};

const LEFT: f64 = 216.0;
const RIGHT: f64 = WIDTH - 150.0;
const TOP: f64 = 26.0;
const ROW: f64 = 36.0;

/// None without effects.
pub fn effects(trial: &TrialSummary) -> Option<Markup> {
    if trial.effects.is_empty() {
        return None;
    }
    let label = unit_label(&trial.unit);
    let many = u16::try_from(trial.effects.len()).map_or(0.0, f64::from);
    let bottom = TOP + ROW * many;
    let ends = trial
        .effects
        .iter()
        .flat_map(ends)
        .fold((0.0_f64, 0.0_f64), |(low, high), it| (low.min(it), high.max(it)));
    let room = (ends.1 - ends.0).max(1e-9) * 0.08;
    let across = Scale::new((ends.0 - room, ends.1 + room), (LEFT, RIGHT));
    let (ticks, digits) = across.ticks(5.0);
    let mut canvas = Canvas::new(bottom + 36.0);
    for tick in ticks {
        let x = across.at(tick);
        canvas.line((x, TOP - 6.0), (x, bottom), RULE, 1.0);
        canvas.words((x, bottom + 15.0), SOFT.at(Anchor::Middle), &signed(tick, digits));
    }
    let zero = across.at(0.0);
    canvas.line((zero, TOP - 6.0), (zero, bottom + 3.0), INK, 1.6);
    canvas.words((zero, 12.0), SOFT.at(Anchor::Middle), "no difference");
    canvas.line((LEFT, bottom), (RIGHT, bottom), INK, 1.0);
    let axis = format!("difference in {}, {label}; lines: 95 % intervals", trial.response);
    canvas.words((LEFT, bottom + 31.0), SOFT, &axis);
    for (effect, nth) in trial.effects.iter().zip(0_u16..) {
        row(&mut canvas, effect, TOP + ROW * (f64::from(nth) + 0.5), across, label);
    }
    Some(canvas.chart(&format!("Trial: {}", trial.trial.name), &shows(trial, label)))
}

fn ends(effect: &TrialEffect) -> [f64; 3] {
    let at = effect.difference;
    [at, effect.low.unwrap_or(at), effect.high.unwrap_or(at)]
}

/// As many digits as tell two figures of this size apart.
fn digits(effect: &TrialEffect) -> usize {
    let largest = ends(effect).iter().fold(0.0_f64, |most, it| most.max(it.abs()));
    if largest >= 100.0 {
        0
    } else if largest >= 1.0 {
        1
    } else {
        3
    }
}

fn signed(value: f64, digits: usize) -> String {
    let text = number(value, digits);
    if value > 0.0 && text != "0" { format!("+{text}") } else { text }
}

fn row(canvas: &mut Canvas, effect: &TrialEffect, middle: f64, across: Scale, label: &str) {
    canvas.words((0.0, middle - 2.0), STRONG, &cut(&effect.treatment));
    canvas.words((0.0, middle + 12.0), SOFT, &format!("against {}", cut(&effect.against)));
    let at = (across.at(effect.difference), middle);
    let x = RIGHT + 14.0;
    let digits = digits(effect);
    let shown = format!("{} {label}", signed(effect.difference, digits));
    if let (Some(low), Some(high)) = (effect.low, effect.high) {
        canvas.line((across.at(low), middle), (across.at(high), middle), LAST, 2.4);
        for end in [low, high] {
            canvas.line((across.at(end), middle - 5.0), (across.at(end), middle + 5.0), LAST, 1.6);
        }
        canvas.dot(at, 5.0, LAST);
        canvas.words((x, middle - 2.0), STRONG, &shown);
        let limits = format!("{} to {}", signed(low, digits), signed(high, digits));
        canvas.words((x, middle + 12.0), SOFT, &limits);
    } else {
        canvas.ring(at, 5.0, FEW);
        canvas.words((x, middle - 2.0), PLAIN, &shown);
        canvas.words((x, middle + 12.0), SOFT, "no replication");
    }
}

/// Letters of a name that have room.
fn cut(name: &str) -> String {
    const MOST: usize = 30;
    let mut letters = name.chars();
    let kept: String = letters.by_ref().take(MOST).collect();
    if letters.next().is_some() { kept + "…" } else { kept }
}

fn shows(trial: &TrialSummary, label: &str) -> String {
    let words: Vec<String> = trial
        .effects
        .iter()
        .map(|effect| {
            let digits = digits(effect);
            let limits = match (effect.low, effect.high) {
                (Some(low), Some(high)) => {
                    format!(", interval {} to {}", signed(low, digits), signed(high, digits))
                }
                _ => ", no interval without replication".to_owned(),
            };
            format!(
                "{} against {}: {} {label}{limits}",
                effect.treatment,
                effect.against,
                signed(effect.difference, digits)
            )
        })
        .collect();
    format!("{}.", words.join("; "))
}
