//! What stands against planting again, table by table: a comparison, never an order.

use chrono::NaiveDate;

use super::relative_yield::{OutsideTable, RelativeYield, YieldTable};
use crate::quantity::{ArealNumberDensity, Measured};

/// Percent of the yield that a replanted field commonly loses on top (University of Nebraska 2009:
/// "about 10 %"): none to all of it.
pub const REPLANT_PROBLEMS: f64 = 10.0;

/// A low and a high end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ends {
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
}

impl Ends {
    fn of(values: impl IntoIterator<Item = f64>) -> Option<Self> {
        values.into_iter().fold(None, |ends: Option<Self>, x| {
            Some(ends.map_or(Self { low: x, high: x }, |e| Self {
                low: e.low.min(x),
                high: e.high.max(x),
            }))
        })
    }
}

/// A stand with what is known of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandRange {
    /// The day of planting.
    pub planted_on: NaiveDate,
    /// The likely stand.
    pub likely: ArealNumberDensity,
    /// Low and high end of what it may be.
    pub ends: Option<(ArealNumberDensity, ArealNumberDensity)>,
}

/// What one table says.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// What stands, by its likely stand.
    pub keep: RelativeYield,
    /// A new stand, before replant problems.
    pub again: RelativeYield,
    /// What stands, over the range of its stand and of the further losses, percent.
    pub keep_range: Ends,
    /// A new stand, over its range and with none to all of the replant problems, percent.
    pub again_range: Ends,
    /// Planting again less keeping, by the two figures of the table alone, percent.
    pub gain: f64,
    /// The same over both ranges.
    pub gain_range: Ends,
}

/// What stands, against planting again.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// What stands.
    pub keep: StandRange,
    /// Least and most percent that gaps and late plants take from it on top of the thin stand.
    pub further_loss: Ends,
    /// A new stand.
    pub again: StandRange,
}

/// Reads one table on both sides.
///
/// # Errors
/// Where either the stand or the date of one side lies outside of it.
pub fn compare(table: YieldTable, asked: &Question) -> Result<Compared, OutsideTable> {
    let keep = table.at(asked.keep.planted_on, asked.keep.likely)?;
    let again = table.at(asked.again.planted_on, asked.again.likely)?;
    let whole = Ends { low: 0.0, high: REPLANT_PROBLEMS };
    let keep_range = spread(table, &asked.keep, keep.percent, asked.further_loss);
    let again_range = spread(table, &asked.again, again.percent, whole);
    let gain = again.percent - keep.percent;
    let gain_range =
        Ends { low: again_range.low - keep_range.high, high: again_range.high - keep_range.low };
    Ok(Compared { keep, again, keep_range, again_range, gain, gain_range })
}

/// The table over a range of stands, less a range of losses. An end of the range that lies outside
/// the table is not carried further: the likely figure then stands for it.
fn spread(table: YieldTable, side: &StandRange, likely: f64, loss: Ends) -> Ends {
    let at = |stand: ArealNumberDensity| table.at(side.planted_on, stand).ok();
    let inside = |low: ArealNumberDensity, high: ArealNumberDensity| {
        let steps = (0..=10_u8).map(move |n| {
            let share = f64::from(n) / 10.0;
            ArealNumberDensity::from_si(low.si() + share * (high.si() - low.si()))
        });
        steps.filter_map(at).map(|read| read.percent)
    };
    let read = side.ends.and_then(|(low, high)| Ends::of(inside(low, high)));
    let read = read.map_or(Ends { low: likely, high: likely }, |ends| Ends {
        low: ends.low.min(likely),
        high: ends.high.max(likely),
    });
    let left = |percent: f64, loss: f64| percent * (1.0 - loss.clamp(0.0, 100.0) / 100.0);
    Ends { low: left(read.low, loss.high), high: left(read.high, loss.low) }
}

/// What planting again costs and what it brings, each on an acre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Money {
    /// Yield at the best date and stand, bu/ac.
    pub expected_bu: f64,
    /// Price of a bushel.
    pub price: f64,
    /// Seed, trip, killing the old stand and the rest, an acre.
    pub cost: f64,
}

impl Money {
    /// Money gained on an acre by planting again, less its cost.
    pub fn gain(&self, percent: f64) -> f64 {
        self.expected_bu * percent / 100.0 * self.price - self.cost
    }

    /// Percent of the expected yield that planting again must gain to pay for itself; `None` where
    /// nothing is earned.
    pub fn pays_at(&self) -> Option<f64> {
        let whole = self.expected_bu * self.price;
        (whole > 0.0).then(|| 100.0 * self.cost / whole)
    }
}
