//! The season week by week: issued, seen, dug, changed, each in its own lane on one scale.

use chrono::{Datelike, Days, NaiveDate};
use domain::season::report::Week;
use maud::Markup;

use super::canvas::{Anchor, Canvas, INK, LAST, PLAIN, RULE, SOFT, STRONG, WIDTH};
use super::scale::Scale;
use crate::reports::words::{count, day};

const LEFT: f64 = 150.0;
const LANE: f64 = 54.0;
const TOP: f64 = 14.0;

/// What a lane shows and how it is read from a week.
type Lane = (&'static str, fn(&Week) -> u32);

const LANES: [Lane; 4] = [
    ("sheets issued", |week| week.issued),
    ("sheets seen", |week| week.seen),
    ("digs", |week| week.digs),
    ("changes accepted", |week| week.accepted),
];

/// None without weeks.
pub fn weeks(it: &[Week]) -> Option<Markup> {
    let (first, last) = (it.first()?.starts, it.last()?.starts);
    let days = |day: NaiveDate| i32::try_from((day - first).num_days()).map_or(0.0, f64::from);
    let end = days(last) + 7.0;
    let across = Scale::new((0.0, end), (LEFT, WIDTH - 4.0));
    let most = LANES.iter().flat_map(|lane| it.iter().map(lane.1)).max().unwrap_or(0).max(1);
    let bottom = TOP + LANE * 4.0;
    let mut canvas = Canvas::new(bottom + 22.0);
    months(&mut canvas, first, end, |day| across.at(days(day)), bottom);
    let mut base = TOP;
    for (name, of) in LANES {
        base += LANE;
        let tall = |many: u32| f64::from(many) / f64::from(most) * (LANE - 18.0);
        for week in it.iter().filter(|week| of(week) > 0) {
            let x = across.at(days(week.starts));
            let wide = (across.at(7.0) - across.at(0.0)) - 1.5;
            canvas.bar((x, base), (x + wide.max(1.5), base - tall(of(week))), LAST);
        }
        canvas.line((LEFT, base), (WIDTH, base), INK, 1.0);
        lane_words(&mut canvas, base, name, it.iter().map(of).sum());
        if let Some(high) = it.iter().max_by_key(|week| of(week)).filter(|week| of(week) > 0) {
            let x = across.at(days(high.starts) + 3.5);
            let y = base - tall(of(high)) - 3.0;
            canvas.words((x, y), PLAIN.at(Anchor::Middle), &of(high).to_string());
        }
    }
    Some(canvas.chart("The season week by week", &shows(it)))
}

fn lane_words(canvas: &mut Canvas, base: f64, name: &str, total: u32) {
    canvas.words((0.0, base - 16.0), STRONG, &total.to_string());
    canvas.words((0.0, base - 2.0), PLAIN, name);
}

/// Lines at the first of each month, or at each week where the season is short.
fn months(
    canvas: &mut Canvas,
    first: NaiveDate,
    end: f64,
    at: impl Fn(NaiveDate) -> f64,
    bottom: f64,
) {
    let short = end <= 49.0;
    let step = if short { 7 } else { 1 };
    let mut it = first;
    let last = at(first) + (WIDTH - 4.0 - at(first));
    while at(it) < last {
        if short || it.day() == 1 {
            let x = at(it);
            canvas.line((x, TOP), (x, bottom + 4.0), RULE, 1.0);
            let words = if short { day(it) } else { it.format("%b").to_string() };
            canvas.words((x + 2.0, bottom + 17.0), SOFT, &words);
        }
        let Some(next) = it.checked_add_days(Days::new(step)) else { break };
        it = next;
    }
}

fn shows(it: &[Week]) -> String {
    let total = |of: fn(&Week) -> u32| it.iter().map(of).sum::<u32>();
    let busiest = it.iter().max_by_key(|week| week.digs).filter(|week| week.digs > 0);
    let when = busiest.map_or(String::new(), |week| {
        format!(" Most digs in a week: {}, in the week of {}.", week.digs, day(week.starts))
    });
    format!(
        "{}, {}, {}, {}.{when}",
        count(total(|it| it.issued), "sheet issued", "sheets issued"),
        count(total(|it| it.seen), "seen", "seen"),
        count(total(|it| it.digs), "dig", "digs"),
        count(total(|it| it.accepted), "change accepted", "changes accepted"),
    )
}
