//! Whether the gauge wheels of a dig agree, and how many more rows would tell.

use serde::{Deserialize, Serialize};

use super::super::reading::WheelFeel;
use super::say;
use crate::provenance::Text;
use crate::stats::{count, wilson};

const CONFIDENCE: f64 = 0.95;

/// What the wheels of several rows say together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WheelsSettled {
    /// How most of them turn; none where no feel has more rows than each other.
    pub feel: Option<WheelFeel>,
    /// Rows that turn like that.
    pub alike: u32,
    /// Rows that were looked at.
    pub of: u32,
    /// Whether most rows of the planter surely turn like that, or all rows were looked at.
    pub settled: bool,
    /// Rows to look at besides, if they turn like the most; none where the rows left cannot tell.
    pub more_rows: Option<u16>,
    /// The answer in words.
    pub words: Text,
}

/// Judges the wheels of the rows that were looked at, on a planter with `rows` rows.
///
/// Most rows surely turn alike when Wilson's lower limit of their share (95 %) lies above one half,
/// or when they are more than half of all rows of the planter: 4 of 4 will do, 3 of 4 will not.
/// `None` where nobody looked.
pub fn wheels_settled(feels: &[WheelFeel], rows: u16) -> Option<WheelsSettled> {
    let of = u16::try_from(feels.len()).ok().filter(|of| *of > 0)?;
    let (feel, alike) = most_common(feels);
    let left = rows.saturating_sub(of);
    let more = feel.and_then(|_| (0..=left).find(|m| sure(alike + m, of + m, rows)));
    let more_rows = if left == 0 { Some(0) } else { more };
    let settled = more_rows == Some(0);
    let words = match feel {
        Some(feel) if settled => format!("the wheels {}", on(feel, alike, of)),
        Some(feel) => {
            let then = more_rows.map_or_else(
                || "the rows that are left cannot settle it".to_owned(),
                |m| format!("{} that do the same would settle it", say::more_rows(m)),
            );
            format!("the wheels {}; {then}", on(feel, alike, of))
        }
        None => format!("the wheels of {of} rows differ: look at what differs on those rows"),
    };
    let (alike, of) = (u32::from(alike), u32::from(of));
    Some(WheelsSettled { feel, alike, of, settled, more_rows, words: Text::Owned(words) })
}

fn on(feel: WheelFeel, alike: u16, of: u16) -> String {
    let turn = match feel {
        WheelFeel::SpinFree => "spin free",
        WheelFeel::TurnWithEffort => "turn with effort",
        WheelFeel::Locked => "are locked",
    };
    let rows = if of == 1 { "row" } else { "rows" };
    format!("{turn} on {alike} of {of} {rows}")
}

/// The feel that more rows have than any other, and how many have it.
fn most_common(feels: &[WheelFeel]) -> (Option<WheelFeel>, u16) {
    let all = [WheelFeel::SpinFree, WheelFeel::TurnWithEffort, WheelFeel::Locked];
    let counted = all.map(|feel| (feel, feels.iter().filter(|f| **f == feel).count()));
    let most = counted.iter().map(|(_, n)| *n).max().unwrap_or(0);
    let mut at_most = counted.iter().filter(|(_, n)| *n == most);
    let first = at_most.next().map(|(feel, _)| *feel);
    let feel = if at_most.next().is_some() { None } else { first };
    (feel, u16::try_from(most).unwrap_or(u16::MAX))
}

fn sure(alike: u16, of: u16, rows: u16) -> bool {
    let of_all = u32::from(alike) * 2 > u32::from(rows);
    let low = wilson(f64::from(alike), count(usize::from(of)), CONFIDENCE).map(|(low, _)| low);
    of_all || low.is_some_and(|low| low > 0.5)
}
