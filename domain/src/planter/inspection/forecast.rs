//! When each row of a part is worn out, and which row comes first.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::area_left::{AreaLeft, SAME, area_left};
use super::plan::SeasonPlan;
use super::wear_rate::{NoRate, Rate, Reading, wear_rate};

/// What is known of a part on one row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowHistory {
    /// The row; `None` for what the planter has once.
    pub row: Option<u16>,
    /// Readings since the part was last new, oldest first.
    pub readings: Vec<Reading>,
    /// Area planted after the last reading, m².
    pub since: f64,
    /// A rate that is known without readings: acres since a test grow by one for each acre.
    pub known_rate: Option<Rate>,
}

/// Where the rate of a row comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RateFrom {
    /// Two readings of this row.
    Readings,
    /// The other rows of the planter, since this one has no two readings.
    OtherRows,
    /// It follows from what is counted.
    Definition,
}

/// Whether a part lasts through what is planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outlook {
    /// It can't be said.
    NotKnown,
    /// It lasts, even if it wears as fast as the readings leave open.
    Lasts,
    /// It lasts if it wears as the readings say, and may not if it wears faster.
    MayWearOut,
    /// It reaches its limit within what is planned.
    WearsOut,
    /// It is worn out now.
    WornOut,
}

/// What becomes of a part on one row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowForecast {
    /// The row; `None` for what the planter has once.
    pub row: Option<u16>,
    /// The last reading.
    pub last: Reading,
    /// Wear for each m².
    pub rate: Option<(Rate, RateFrom)>,
    /// Why there is no rate of its own.
    pub no_rate: Option<NoRate>,
    /// Area until the limit.
    pub left: Option<AreaLeft>,
    /// The day on which it reaches the limit at the fastest, likely and slowest wear.
    pub days: [Option<NaiveDate>; 3],
    /// Whether it lasts.
    pub outlook: Outlook,
}

/// Until when: what is planned, what of it is done, and today.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Until {
    /// What is planned.
    pub plan: Option<SeasonPlan>,
    /// What of it is planted, m².
    pub done: f64,
    /// Today.
    pub today: NaiveDate,
}

/// What becomes of a part on each row. `limit` is turned as the readings are. Rows without a reading
/// are left out.
pub fn forecast(rows: &[RowHistory], limit: Option<f64>, until: Until) -> Vec<RowForecast> {
    let own: Vec<Result<Rate, NoRate>> = rows.iter().map(rate_of).collect();
    let known: Vec<Rate> = own.iter().filter_map(|rate| rate.ok()).collect();
    let others = Rate::of_rows(&known);
    let told = rows.iter().zip(own).filter_map(|(row, own)| {
        let last = *row.readings.last()?;
        let rate = row.known_rate.map(|rate| (rate, RateFrom::Definition));
        let rate = rate.or_else(|| own.ok().map(|rate| (rate, RateFrom::Readings)));
        let rate = rate.or_else(|| others.map(|rate| (rate, RateFrom::OtherRows)));
        let left = limit.and_then(|limit| match rate {
            Some((rate, _)) => Some(area_left(last, limit, rate, row.since)),
            None => (last.worn >= limit - SAME).then_some(AreaLeft::NONE),
        });
        let day = |area: Option<f64>| until.plan?.day_of(area?, until.done, until.today);
        let worn_out = left == Some(AreaLeft::NONE);
        let today = worn_out.then_some(until.today);
        let days = left.map_or([None; 3], |left| {
            [left.early, left.likely, left.late].map(|area| today.or_else(|| day(area)))
        });
        let outlook = outlook(left, until);
        Some(RowForecast {
            row: row.row,
            last,
            rate,
            no_rate: own.err().filter(|_| row.known_rate.is_none()),
            left,
            days,
            outlook,
        })
    });
    told.collect()
}

fn rate_of(row: &RowHistory) -> Result<Rate, NoRate> {
    match (row.known_rate, row.readings.as_slice()) {
        (Some(rate), _) => Ok(rate),
        (None, [first, .., last]) => wear_rate(*first, *last),
        (None, _) => Err(NoRate::OneReading),
    }
}

fn outlook(left: Option<AreaLeft>, until: Until) -> Outlook {
    let Some(left) = left else {
        return Outlook::NotKnown;
    };
    if left.likely == Some(0.0) {
        return Outlook::WornOut;
    }
    let Some(plan) = until.plan else {
        return Outlook::NotKnown;
    };
    let ahead = plan.left(until.done);
    let within = |area: Option<f64>| area.is_some_and(|area| area <= ahead);
    if within(left.likely) {
        Outlook::WearsOut
    } else if within(left.early) {
        Outlook::MayWearOut
    } else {
        Outlook::Lasts
    }
}

/// The row that is worn out first: least area left, by the likely rate, then by the fastest; without
/// either the one that is worn most.
pub fn worst(rows: &[RowForecast]) -> Option<&RowForecast> {
    let key = |row: &RowForecast| {
        let never = f64::INFINITY;
        let left = row.left.map_or((never, never), |left| {
            (left.likely.unwrap_or(never), left.early.unwrap_or(never))
        });
        (left.0, left.1, -row.last.worn)
    };
    rows.iter().min_by(|one, other| {
        let (one, other) = (key(one), key(other));
        one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1)).then(one.2.total_cmp(&other.2))
    })
}
