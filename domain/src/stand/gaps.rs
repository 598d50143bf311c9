//! Gaps in the row, and what published rules say of them.

use serde::{Deserialize, Serialize};

use crate::conditions::Crop;
use crate::provenance::{Mark, Reason, sources};
use crate::quantity::{Length, Measured};

const FOOT: f64 = 0.304_8;
/// Rounding of a unit must not move a gap into another class.
const SLACK: f64 = 1e-6;

/// Gaps of the rows that were counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Gaps {
    /// How many there are that count: of 1 ft and more in corn, above 2 ft in soybean.
    pub count: u32,
    /// Corn: how many of them are 4 ft and longer.
    pub long: u32,
    /// Length of row in them.
    pub lost: Length,
    /// The longest gap of all.
    pub longest: Length,
    /// Share of the row that lies in them.
    pub share: f64,
    /// Further loss of yield in percent, on top of that of the thinner stand: low end; `None` where
    /// nobody publishes a figure.
    pub loss_low: Option<f64>,
    /// High end.
    pub loss_high: Option<f64>,
    /// The rules.
    pub because: Vec<Reason>,
}

/// Reads the gaps in so much row.
///
/// Corn (Iowa State University): gaps of 1 to 3 ft cost 2 % beyond what the thinner stand costs, many
/// of 4 to 6 ft cost 5 to 6 %. The source gives no count for "many", so the range begins at less.
/// Soybean: neighbours fill gaps of up to 2 ft; longer ones likely cost, nobody says how much.
/// `None` without row.
pub fn gaps(crop: Crop, lengths: &[Length], row: Length) -> Option<Gaps> {
    let whole = row.si();
    if whole.is_nan() || whole <= 0.0 {
        return None;
    }
    let counts = |gap: &&Length| match crop {
        Crop::Corn => gap.si() >= FOOT - SLACK,
        Crop::Soybean => gap.si() > 2.0 * FOOT + SLACK,
    };
    let long = |least: f64| {
        let feet = |gap: &&Length| gap.si() >= least * FOOT - SLACK;
        u32::try_from(lengths.iter().filter(feet).count()).unwrap_or(u32::MAX)
    };
    let counted: Vec<f64> = lengths.iter().filter(counts).map(|gap| gap.si()).collect();
    let lost: f64 = counted.iter().sum();
    let longest = lengths.iter().map(|gap| gap.si()).fold(0.0, f64::max);
    let (loss_low, loss_high, because) = match crop {
        Crop::Corn => corn(counted.len(), long(4.0), long(3.0 + 1e-3)),
        Crop::Soybean => soybean(counted.len()),
    };
    Some(Gaps {
        count: u32::try_from(counted.len()).unwrap_or(u32::MAX),
        long: if crop == Crop::Corn { long(4.0) } else { 0 },
        lost: Length::from_si(lost),
        longest: Length::from_si(longest),
        share: (lost / whole).min(1.0),
        loss_low,
        loss_high,
        because,
    })
}

type Loss = (Option<f64>, Option<f64>, Vec<Reason>);

fn corn(all: usize, long: u32, above_three: u32) -> Loss {
    let rule = |text| Reason::fixed(text, Mark::Read, sources::IOWA_GAPS);
    if all == 0 {
        let none = "no gap of 1 ft or more: nothing beyond what the thinner stand costs";
        return (Some(0.0), Some(0.0), vec![rule(none)]);
    }
    let mut because = vec![rule("gaps of 1 to 3 ft cost 2 % beyond what the thinner stand costs")];
    if above_three > 0 {
        because.push(rule(
            "many gaps of 4 to 6 ft cost 5 to 6 %; how many are many, the source does not say",
        ));
    }
    let low = if long > 0 { 2.0 } else { 0.0 };
    let high = if above_three > 0 { 6.0 } else { 2.0 };
    (Some(low), Some(high), because)
}

fn soybean(all: usize) -> Loss {
    let rule = |text| Reason::fixed(text, Mark::Read, sources::IOWA_SOY_GAPS);
    if all == 0 {
        return (Some(0.0), Some(0.0), vec![rule("neighbours fill gaps of up to 2 ft")]);
    }
    let likely = "gaps above 2 ft likely cost yield; no figure is published";
    (None, None, vec![rule("neighbours fill gaps of up to 2 ft"), rule(likely)])
}
