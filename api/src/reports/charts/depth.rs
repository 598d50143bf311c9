//! Where seed lay against where it was wanted: the furrow from the side, the first dig of each
//! field on the left, the last on the right.

use domain::quantity::Length;
use domain::season::report::{DepthBin, DepthDistribution, SeedCount};
use maud::Markup;

use super::canvas::{
    Anchor, Canvas, EDGE, FIRST, INK, LAST, PLAIN, RULE, SOFT, STRONG, WIDTH, WINDOW,
};
use super::scale::Scale;
use crate::reports::words::{In, number, percent, whole};

const TOP: f64 = 52.0;
const ROW: f64 = 13.5;
/// Half the width of the column of depths.
const MIDDLE: f64 = 58.0;

/// None without seed.
pub fn depths(it: &DepthDistribution, system: In) -> Option<Markup> {
    let (first, last) = (sum(it, |bin| bin.first), sum(it, |bin| bin.last));
    if first <= 0.0 && last <= 0.0 {
        return None;
    }
    let ends = ends(it);
    let (low, high) = ends;
    let rows = ((high - low) / bin(it)).round() + 1.0;
    let bottom = TOP + rows * ROW;
    let half = bin(it) / 2.0;
    let down = Scale::new((low - half, high + half), (TOP, bottom));
    let most = it
        .bins
        .iter()
        .flat_map(|bin| [ratio(bin.first, first), ratio(bin.last, last)])
        .fold(0.05, f64::max);
    let reach = WIDTH / 2.0 - MIDDLE - 40.0;
    let mut canvas = Canvas::new(bottom + 40.0);
    window(&mut canvas, it, &down);
    for bin in &it.bins {
        let y = down.at(si(bin.off));
        let inside = it.most_tolerance.is_none_or(|most| si(bin.off).abs() <= si(most) + 1e-6);
        side(&mut canvas, y, -ratio(bin.first, first) / most * reach, inside, FIRST);
        side(&mut canvas, y, ratio(bin.last, last) / most * reach, inside, LAST);
    }
    middle(&mut canvas, &down, ends, system);
    heads(&mut canvas, it);
    foot(&mut canvas, bottom, most, reach);
    Some(canvas.chart("Depth of the seed against the depth wanted", &shows(it, system)))
}

fn si(length: Length) -> f64 {
    length.value
}

fn bin(it: &DepthDistribution) -> f64 {
    si(it.bin).max(1e-6)
}

fn sum(it: &DepthDistribution, of: impl Fn(&DepthBin) -> u64) -> f64 {
    it.bins.iter().map(|bin| real(of(bin))).sum()
}

/// A count as a figure to divide.
fn real(many: u64) -> f64 {
    u32::try_from(many).map_or(f64::from(u32::MAX), f64::from)
}

fn ratio(part: u64, all: f64) -> f64 {
    if all > 0.0 { real(part) / all } else { 0.0 }
}

/// From the shallowest bin to the deepest, the window always among them.
fn ends(it: &DepthDistribution) -> (f64, f64) {
    let window = it.most_tolerance.map_or(0.0, si);
    let steps = ((window + bin(it)) / bin(it)).ceil() * bin(it);
    let offs = it.bins.iter().map(|bin| si(bin.off));
    let low = offs.clone().fold(-steps, f64::min);
    let high = offs.fold(steps, f64::max);
    // A single seed far off must not squeeze all others.
    let most = 16.0 * bin(it);
    (low.max(-most), high.min(most))
}

fn window(canvas: &mut Canvas, it: &DepthDistribution, down: &Scale) {
    let Some(most) = it.most_tolerance.map(si) else { return };
    let (top, bottom) = (down.at(-most), down.at(most));
    canvas.bar((0.0, top), (WIDTH, bottom), WINDOW);
    for y in [top, bottom] {
        canvas.line((0.0, y), (WIDTH / 2.0 - MIDDLE, y), EDGE, 1.0);
        canvas.line((WIDTH / 2.0 + MIDDLE, y), (WIDTH, y), EDGE, 1.0);
    }
    canvas.words((4.0, top + 13.0), SOFT, "window");
}

/// A bar of a side, filled inside the window, hollow outside.
fn side(canvas: &mut Canvas, y: f64, length: f64, inside: bool, ink: &'static str) {
    if length.abs() < 0.2 {
        return;
    }
    let x = WIDTH / 2.0 + MIDDLE.copysign(length);
    let (from, to) = ((x, y - ROW / 2.0 + 1.5), (x + length, y + ROW / 2.0 - 1.5));
    if inside {
        canvas.bar(from, to, ink);
    } else {
        canvas.hollow_bar(from, to, ink);
    }
}

/// The depths, between the sides.
fn middle(canvas: &mut Canvas, down: &Scale, (low, high): (f64, f64), system: In) {
    let centre = WIDTH / 2.0;
    let unit = system.depth_unit();
    let from_si = |value: f64| system.depth_value(Length { value, ..Length::default() });
    let per = from_si(1.0);
    let shown = Scale::new((low * per, high * per), (0.0, 1.0));
    let (ticks, digits) = shown.ticks(9.0);
    for tick in ticks {
        let y = down.at(tick / per);
        let words = if tick.abs() < 1e-9 {
            "as wanted".to_owned()
        } else {
            let way = if tick < 0.0 { "shallow" } else { "deep" };
            format!("{} {unit} {way}", number(tick.abs(), digits))
        };
        let hand = if tick.abs() < 1e-9 { STRONG } else { PLAIN };
        canvas.words((centre, y + 4.0), hand.at(Anchor::Middle), &words);
    }
}

fn heads(canvas: &mut Canvas, it: &DepthDistribution) {
    let centre = WIDTH / 2.0;
    let left = (centre - MIDDLE, 16.0);
    let right = (centre + MIDDLE, 16.0);
    canvas.words(left, STRONG.at(Anchor::End).ink(FIRST), "First dig of each field");
    canvas.words((left.0, 32.0), PLAIN.at(Anchor::End), &within(it.first_within));
    canvas.words(right, STRONG.ink(LAST), "Last dig of each field");
    canvas.words((right.0, 32.0), PLAIN, &within(it.last_within));
    canvas.line((0.0, TOP - 8.0), (WIDTH, TOP - 8.0), INK, 1.6);
    canvas.words((0.0, TOP - 13.0), SOFT, "surface");
}

fn within(seeds: SeedCount) -> String {
    if seeds.of == 0 {
        return "no seed measured".to_owned();
    }
    format!(
        "{} of {} seeds in the window",
        percent(real(seeds.count) / real(seeds.of)),
        whole(seeds.of)
    )
}

fn foot(canvas: &mut Canvas, bottom: f64, most: f64, reach: f64) {
    let (ticks, _) = Scale::new((0.0, most), (0.0, 1.0)).ticks(3.0);
    canvas.line((0.0, bottom + 4.0), (WIDTH, bottom + 4.0), RULE, 1.0);
    for tick in ticks {
        for way in [-1.0, 1.0] {
            let x = WIDTH / 2.0 + way * (MIDDLE + tick / most * reach);
            canvas.line((x, bottom + 1.0), (x, bottom + 7.0), INK, 1.0);
            canvas.words((x, bottom + 20.0), SOFT.at(Anchor::Middle), &percent(tick));
        }
    }
    canvas.words(
        (WIDTH / 2.0, bottom + 36.0),
        SOFT.at(Anchor::Middle),
        "share of the seeds measured",
    );
}

fn shows(it: &DepthDistribution, system: In) -> String {
    let window = it.most_tolerance.map_or(String::new(), |most| {
        format!(" The window is {} either side of the depth wanted.", system.depth(most))
    });
    format!("First dig: {}. Last dig: {}.{window}", within(it.first_within), within(it.last_within))
}
