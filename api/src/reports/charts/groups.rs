//! Shares of groups side by side, each with its intervals. Small groups are not compared.

use domain::season::report::{CountedShare, WindowShares};
use maud::Markup;

use super::canvas::{
    Anchor, Canvas, FEW, FIRST, INK, LAST, PLAIN, QUIET, RULE, SOFT, STRONG, WIDTH,
};
use super::scale::Scale;
use crate::reports::words::{count, limits, of, percent};

const LEFT: f64 = 176.0;
const RIGHT: f64 = WIDTH - 128.0;
const TOP: f64 = 34.0;
const ROW: f64 = 40.0;

/// A group.
#[derive(Debug, Clone)]
pub struct Group {
    /// Its name.
    pub name: String,
    /// Its shares.
    pub shares: WindowShares,
    /// Too few to compare.
    pub few: bool,
}

/// None without groups.
pub fn groups(title: &str, groups: &[Group]) -> Option<Markup> {
    if groups.is_empty() {
        return None;
    }
    let many = u16::try_from(groups.len()).map_or(0.0, f64::from);
    let bottom = TOP + ROW * many;
    let across = Scale::new((0.0, 1.0), (LEFT, RIGHT));
    let mut canvas = Canvas::new(bottom + 36.0);
    for tick in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let x = across.at(tick);
        canvas.line((x, TOP - 4.0), (x, bottom), RULE, 1.0);
        canvas.words((x, bottom + 15.0), SOFT.at(Anchor::Middle), &percent(tick));
    }
    canvas.line((LEFT, bottom), (RIGHT, bottom), INK, 1.0);
    let axis = "share of the fields with load and depth in the window; lines: 95 % intervals";
    canvas.words((LEFT, bottom + 31.0), SOFT, axis);
    key(&mut canvas);
    for (group, nth) in groups.iter().zip(0_u16..) {
        let middle = TOP + ROW * (f64::from(nth) + 0.5);
        row(&mut canvas, group, middle, across);
    }
    Some(canvas.chart(title, &shows(groups)))
}

fn key(canvas: &mut Canvas) {
    canvas.ring((LEFT + 6.0, 10.0), 5.0, FIRST);
    canvas.words((LEFT + 17.0, 14.0), STRONG.ink(FIRST), "first dig");
    canvas.dot((LEFT + 98.0, 10.0), 5.0, LAST);
    canvas.words((LEFT + 109.0, 14.0), STRONG.ink(LAST), "last dig, after adjustment");
}

fn row(canvas: &mut Canvas, group: &Group, middle: f64, across: Scale) {
    let name = if group.few { PLAIN.ink(QUIET) } else { STRONG };
    canvas.words((0.0, middle - 2.0), name, &group.name);
    let fields = count(group.shares.fields_dug, "field dug", "fields dug");
    canvas.words((0.0, middle + 13.0), SOFT, &fields);
    let (first, last) = (group.shares.first_pass, group.shares.after_adjustment);
    if group.few {
        canvas.words((RIGHT + 14.0, middle + 4.0), SOFT, "too few to compare");
    }
    if let Some(share) = first {
        let ink = if group.few { FEW } else { FIRST };
        interval(canvas, share, middle - 7.0, across, ink);
        canvas.ring((across.at(share.share), middle - 7.0), 5.0, ink);
    }
    if let Some(share) = last {
        let ink = if group.few { FEW } else { LAST };
        interval(canvas, share, middle + 7.0, across, ink);
        canvas.dot((across.at(share.share), middle + 7.0), 5.0, ink);
    }
    if !group.few {
        let x = RIGHT + 14.0;
        if let Some(it) = first {
            canvas.words((x, middle - 3.0), PLAIN, &of(it));
        }
        if let Some(it) = last {
            canvas.words((x, middle + 11.0), STRONG, &of(it));
        }
    }
}

fn interval(canvas: &mut Canvas, share: CountedShare, y: f64, across: Scale, ink: &str) {
    canvas.line((across.at(share.low), y), (across.at(share.high), y), ink, 2.0);
}

fn shows(groups: &[Group]) -> String {
    let words: Vec<String> = groups
        .iter()
        .map(|group| match group.shares.after_adjustment {
            _ if group.few => format!("{}: too few to compare", group.name),
            Some(share) => {
                format!("{}: {} at the last dig, {}", group.name, of(share), limits(share))
            }
            None => format!("{}: no dig that tells", group.name),
        })
        .collect();
    format!("{}.", words.join("; "))
}
