//! How many fields were in the window as the season went on, with the interval as a band.

use chrono::NaiveDate;
use domain::season::report::{CountedShare, Week};
use maud::Markup;

use super::canvas::{Anchor, BAND, Canvas, FEW, INK, LAST, PLAIN, RULE, SOFT, STRONG, WIDTH};
use super::scale::Scale;
use crate::reports::words::{day, limits, of, percent};

const LEFT: f64 = 46.0;
const RIGHT: f64 = WIDTH - 130.0;
const TOP: f64 = 26.0;
const BOTTOM: f64 = 196.0;

/// With fewer fields a dot is hollow.
const FEWEST_FIELDS: u32 = 5;

/// None before two weeks tell something.
pub fn share(weeks: &[Week]) -> Option<Markup> {
    let points: Vec<(NaiveDate, CountedShare)> =
        weeks.iter().filter_map(|week| Some((week.starts, week.in_window?))).collect();
    let [first, .., last] = points.as_slice() else { return None };
    let days = |day: NaiveDate| i32::try_from((day - first.0).num_days()).map_or(0.0, f64::from);
    let across = Scale::new((0.0, days(last.0)), (LEFT + 8.0, RIGHT));
    let up = Scale::new((0.0, 1.0), (BOTTOM, TOP));
    let mut canvas = Canvas::new(BOTTOM + 30.0);
    let place = |(day, share): &(NaiveDate, f64)| (across.at(days(*day)), up.at(*share));
    let along = |of: fn(&CountedShare) -> f64| -> Vec<(f64, f64)> {
        points.iter().map(|(day, share)| place(&(*day, of(share)))).collect()
    };
    let mut band = along(|it| it.low);
    band.extend(along(|it| it.high).into_iter().rev());
    canvas.area(&band, BAND);
    for tick in [0.0, 0.25, 0.5, 0.75, 1.0] {
        canvas.line((LEFT, up.at(tick)), (RIGHT + 8.0, up.at(tick)), RULE, 1.0);
        canvas.words((LEFT - 6.0, up.at(tick) + 4.0), SOFT.at(Anchor::End), &percent(tick));
    }
    canvas.line((LEFT, BOTTOM), (RIGHT + 8.0, BOTTOM), INK, 1.0);
    let line = along(|it| it.share);
    canvas.path(&line, LAST, 2.4);
    for (at, (_, share)) in line.iter().zip(&points) {
        if share.of < FEWEST_FIELDS {
            canvas.ring(*at, 3.6, FEW);
        } else {
            canvas.dot(*at, 3.6, LAST);
        }
    }
    dates(&mut canvas, &points, |day| across.at(days(day)));
    labels(&mut canvas, &line, first.1, last.1, up.at(last.1.low));
    Some(canvas.chart("Fields in the window through the season", &shows(first.1, last.1)))
}

/// The first day of each week, as many as have room.
fn dates(canvas: &mut Canvas, points: &[(NaiveDate, CountedShare)], at: impl Fn(NaiveDate) -> f64) {
    let mut free = f64::MIN;
    for (starts, _) in points {
        let x = at(*starts);
        if x - 22.0 < free {
            continue;
        }
        free = x + 28.0;
        canvas.line((x, BOTTOM), (x, BOTTOM + 4.0), INK, 1.0);
        canvas.words((x, BOTTOM + 17.0), SOFT.at(Anchor::Middle), &day(*starts));
    }
}

fn labels(
    canvas: &mut Canvas,
    line: &[(f64, f64)],
    first: CountedShare,
    last: CountedShare,
    low: f64,
) {
    canvas.words(
        (0.0, 12.0),
        SOFT,
        "fields with load and depth in the window at their last dig so far, weeks from Monday",
    );
    if let Some((x, y)) = line.first() {
        let y = if *y < TOP + 30.0 { y + 20.0 } else { y - 9.0 };
        canvas.words((x - 2.0, y), PLAIN, &format!("{} of {}", first.count, first.of));
    }
    if let Some((x, y)) = line.last() {
        canvas.words((x + 14.0, y + 4.0), STRONG.ink(LAST), &percent(last.share));
        canvas.words((x + 56.0, y + 4.0), PLAIN, &format!("{} of {}", last.count, last.of));
        let under = (low + 4.0).max(y + 20.0).min(BOTTOM);
        canvas.words((x + 14.0, under), SOFT, &format!("95 %: {}", limits(last)));
    }
}

fn shows(first: CountedShare, last: CountedShare) -> String {
    format!(
        "From {} fields in the first week with a dig to {} at the end; the interval there is {}.",
        of(first),
        of(last),
        limits(last)
    )
}
