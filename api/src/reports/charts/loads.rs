//! Load on the gauge wheels against speed, as it was logged at digs.

use domain::season::report::LoadAtSpeed;
use maud::Markup;

use super::canvas::{Anchor, Canvas, INK, LAST, PLAIN, RULE, SOFT, WIDTH};
use super::scale::Scale;
use crate::reports::words::{In, count, number};

const LEFT: f64 = 46.0;
const TOP: f64 = 58.0;
const BOTTOM: f64 = 272.0;

/// None without loads.
pub fn loads(it: &[LoadAtSpeed], system: In) -> Option<Markup> {
    let (first, rest) = it.split_first()?;
    let speeds = spread(first, rest, |at| system.speed_value(at.speed));
    let loads = spread(first, rest, |at| system.load_value(at.load));
    let across = Scale::new((speeds.0 - 0.4, speeds.1 + 0.4), (LEFT, WIDTH - 14.0));
    let step = (loads.1 - loads.0).max(20.0) * 0.12;
    let up = Scale::new(((loads.0 - step).max(0.0), loads.1 + step), (BOTTOM, TOP));
    let mut canvas = Canvas::new(BOTTOM + 38.0);
    axes(&mut canvas, across, up, system);
    for at in it {
        let place = (across.at(system.speed_value(at.speed)), up.at(system.load_value(at.load)));
        let radius = radius(at.digs);
        canvas.ring(place, radius, LAST);
        // The area filled is the share inside.
        let share = f64::from(at.inside) / f64::from(at.digs.max(1));
        if at.inside > 0 {
            canvas.dot(place, radius * share.sqrt(), LAST);
        }
    }
    key(&mut canvas);
    Some(canvas.chart("Load on the gauge wheels against speed", &shows(it, system)))
}

fn spread(
    first: &LoadAtSpeed,
    rest: &[LoadAtSpeed],
    of: impl Fn(&LoadAtSpeed) -> f64,
) -> (f64, f64) {
    let start = (of(first), of(first));
    rest.iter().map(of).fold(start, |(low, high), it| (low.min(it), high.max(it)))
}

/// The area of a circle tells the digs.
fn radius(digs: u32) -> f64 {
    (3.4 * f64::from(digs).sqrt()).clamp(3.4, 22.0)
}

fn axes(canvas: &mut Canvas, across: Scale, up: Scale, system: In) {
    let (loads, digits) = up.ticks(5.0);
    for load in loads {
        let y = up.at(load);
        canvas.line((LEFT, y), (WIDTH, y), RULE, 1.0);
        canvas.words((LEFT - 6.0, y + 4.0), SOFT.at(Anchor::End), &number(load, digits));
    }
    let (speeds, digits) = across.ticks(8.0);
    for speed in speeds {
        let x = across.at(speed);
        canvas.line((x, BOTTOM), (x, BOTTOM + 4.0), INK, 1.0);
        canvas.words((x, BOTTOM + 17.0), SOFT.at(Anchor::Middle), &number(speed, digits));
    }
    canvas.line((LEFT, BOTTOM), (WIDTH, BOTTOM), INK, 1.0);
    let load = format!("load on the gauge wheels of a row, {}", system.load_unit());
    canvas.words((0.0, TOP - 16.0), SOFT, &load);
    let speed = format!("speed, {}", system.speed_unit());
    canvas.words((WIDTH, BOTTOM + 34.0), SOFT.at(Anchor::End), &speed);
}

/// What the circles mean, in a line above.
fn key(canvas: &mut Canvas) {
    let y = 10.0;
    canvas.ring((8.0, y), 6.0, LAST);
    canvas.dot((8.0, y), 6.0, LAST);
    canvas.words((20.0, y + 4.0), PLAIN, "load in its window");
    canvas.ring((150.0, y), 6.0, LAST);
    canvas.words((162.0, y + 4.0), PLAIN, "not");
    canvas.ring((206.0, y), 6.0, LAST);
    canvas.dot((206.0, y), 4.2, LAST);
    canvas.words((218.0, y + 4.0), PLAIN, "some of each; the larger, the more digs");
}

fn shows(it: &[LoadAtSpeed], system: In) -> String {
    let digs: u32 = it.iter().map(|at| at.digs).sum();
    let inside: u32 = it.iter().map(|at| at.inside).sum();
    let of = |speed: f64| number(speed, 1);
    let fast = it.iter().map(|at| system.speed_value(at.speed)).fold(0.0, f64::max);
    let slow = it.iter().map(|at| system.speed_value(at.speed)).fold(f64::MAX, f64::min);
    format!(
        "{} with a logged load, from {} to {} {}; in {inside} of them the load was in its window.",
        count(digs, "dig", "digs"),
        of(slow),
        of(fast),
        system.speed_unit()
    )
}
