//! What corn loses when a part of its plants comes up late: published cases.

use serde::{Deserialize, Serialize};

use crate::provenance::{Source, Text, sources};

/// A published case: so much of the stand, so many days late, cost so much of the yield.
#[derive(Debug, Clone, Copy)]
struct Case {
    /// Least and most share of late plants that the source had or means. What it says at the least
    /// holds for the low end of the loss, at the most for the high end.
    share: (f64, f64),
    days: f64,
    /// Percent of the yield.
    loss: (f64, f64),
    what: &'static str,
    source: Source,
}

const CASES: [Case; 7] = [
    Case {
        share: (0.25, 0.75),
        days: 10.5,
        loss: (6.0, 9.0),
        what: "a quarter to three quarters of the plants a week and a half late",
        source: sources::NAFZIGER_1991,
    },
    Case {
        share: (0.25, 0.25),
        days: 21.0,
        loss: (10.0, 10.0),
        what: "a quarter of the plants three weeks late",
        source: sources::NAFZIGER_1991,
    },
    Case {
        share: (0.5, 0.75),
        days: 21.0,
        loss: (20.0, 22.0),
        what: "half to three quarters of the plants three weeks late",
        source: sources::NAFZIGER_1991,
    },
    Case {
        share: (0.5, 0.5),
        days: 7.0,
        loss: (5.0, 5.0),
        what: "half of the plants a week late",
        source: sources::ONTARIO_UNEVEN,
    },
    Case {
        share: (0.5, 0.5),
        days: 14.0,
        loss: (12.0, 12.0),
        what: "half of the plants two weeks late",
        source: sources::ONTARIO_UNEVEN,
    },
    Case {
        share: (1.0 / 6.0, 1.0 / 6.0),
        days: 12.0,
        loss: (4.0, 5.0),
        what: "one plant of six two leaf stages (12 days) late",
        source: sources::ONTARIO_UNEVEN,
    },
    Case {
        share: (1.0 / 6.0, 1.0 / 6.0),
        days: 21.0,
        loss: (8.0, 8.0),
        what: "one plant of six four leaf stages (21 days) late",
        source: sources::ONTARIO_UNEVEN,
    },
];

/// Plants within so many days of the first neighbour yielded the same (Nemergut et al. 2021).
const NO_MATTER: f64 = 3.0;

/// A published case beside the one in the field.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct UnevenCase {
    /// What was late, and by how much.
    pub what: Text,
    /// Percent of the yield lost, low end.
    pub low: f64,
    /// High end.
    pub high: f64,
    /// The citation.
    pub source: Text,
}

/// What late plants cost, between the published cases.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Uneven {
    /// Share of plants that came up late.
    pub share: f64,
    /// How late, days.
    pub days: f64,
    /// At least this loss, percent: the largest of the cases that were no worse.
    pub low: f64,
    /// At most this loss, percent: the smallest of the cases that were no better; `None` where the
    /// field is worse than any of them.
    pub high: Option<f64>,
    /// The cases that the two ends come from.
    pub cases: Vec<UnevenCase>,
}

/// Loss of corn by share of late plants and days late.
///
/// More plants late, or later, is taken to cost no less; nothing else is read between the cases.
/// `None` where the figures are no share and no delay.
pub fn uneven(share: f64, days: f64) -> Option<Uneven> {
    if !(0.0..=1.0).contains(&share) || !(0.0..=60.0).contains(&days) {
        return None;
    }
    let mut found = Uneven { share, days, low: 0.0, high: None, cases: Vec::new() };
    let none = share <= 0.0 || days <= NO_MATTER;
    if none {
        found.high = Some(0.0);
        return Some(found);
    }
    let no_worse = |case: &&Case| case.share.0 <= share + 1e-9 && case.days <= days + 1e-9;
    let no_better = |case: &&Case| case.share.1 >= share - 1e-9 && case.days >= days - 1e-9;
    let below = CASES.iter().filter(no_worse).max_by(|a, b| a.loss.0.total_cmp(&b.loss.0));
    let above = CASES.iter().filter(no_better).min_by(|a, b| a.loss.1.total_cmp(&b.loss.1));
    found.low = below.map_or(0.0, |case| case.loss.0);
    found.high = above.map(|case| case.loss.1.max(found.low));
    let mut seen: Vec<&Case> = below.into_iter().collect();
    seen.extend(above.filter(|case| below.is_none_or(|other| other.what != case.what)));
    found.cases = seen.into_iter().map(UnevenCase::of).collect();
    Some(found)
}

impl UnevenCase {
    fn of(case: &Case) -> Self {
        Self {
            what: case.what.into(),
            low: case.loss.0,
            high: case.loss.1,
            source: case.source.into(),
        }
    }
}
