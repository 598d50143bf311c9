//! Pairs of closing wheels in order, each with why it stands above the next.

use serde::{Deserialize, Serialize};

use super::ClosingWheels;
use super::asks::Ask;
use super::grades::{Criterion, Grade, grade};
use super::words::words;
use crate::planter::ClosingPair;
use crate::provenance::{Coefficients, Mark, Reason, sources};

/// Whether a pair can be run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AtHand {
    /// It is on the planter.
    Fitted,
    /// It hangs in the shed.
    Owned,
    /// Nobody owns it.
    NotOwned,
}

/// A pair in the ranking.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RankedPair {
    /// The pair.
    pub pair: ClosingPair,
    /// Whether it can be run.
    pub at_hand: AtHand,
    /// The sum of what its grades count here.
    pub points: f64,
    /// Its grades.
    pub grades: Vec<Grade>,
    /// Why it stands above the next; absent for the last.
    pub above_next: Option<Reason>,
}

/// The order in which equal pairs stand: what suits most situations first.
const EQUALS: [ClosingPair; 5] = [
    ClosingPair::CastIron,
    ClosingPair::SpikedAndRubber,
    ClosingPair::Rubber,
    ClosingPair::Finger,
    ClosingPair::TwoSpiked,
];

/// Points closer than this are the same.
const SAME_POINTS: f64 = 1e-9;

/// All five pairs, the best first.
pub(super) fn rank(wheels: ClosingWheels<'_>, asks: &[Ask], k: &Coefficients) -> Vec<RankedPair> {
    let mut order: Vec<RankedPair> =
        EQUALS.into_iter().map(|pair| judged(pair, wheels, asks, k)).collect();
    order.sort_by(|a, b| {
        let apart = b.points - a.points;
        if apart.abs() < SAME_POINTS { std::cmp::Ordering::Equal } else { apart.total_cmp(&0.0) }
    });
    order
}

fn judged(
    pair: ClosingPair,
    wheels: ClosingWheels<'_>,
    asks: &[Ask],
    k: &Coefficients,
) -> RankedPair {
    let at_hand = if pair == wheels.fitted {
        AtHand::Fitted
    } else if wheels.owned.contains(&pair) {
        AtHand::Owned
    } else {
        AtHand::NotOwned
    };
    let grades: Vec<Grade> =
        Criterion::ALL.into_iter().map(|criterion| graded(pair, criterion, asks, k)).collect();
    let points = grades.iter().map(|grade| grade.counts).sum();
    RankedPair { pair, at_hand, points, grades, above_next: None }
}

fn graded(pair: ClosingPair, criterion: Criterion, asks: &[Ask], k: &Coefficients) -> Grade {
    let row = grade(pair, criterion, k);
    let weight: f64 =
        asks.iter().filter(|ask| ask.criterion == criterion).map(|ask| ask.weight).sum();
    Grade {
        criterion,
        grade: row.value,
        counts: row.value * weight + 0.0, // a negative zero becomes a plain one
        what: row.what.into(),
        mark: row.mark,
        source: row.source.clone(),
    }
}

/// What a person is shown: what is at hand, and what stands above the best of it.
pub(super) fn shown(order: Vec<RankedPair>) -> Vec<RankedPair> {
    let best = order.iter().position(|ranked| ranked.at_hand != AtHand::NotOwned).unwrap_or(0);
    let mut list: Vec<RankedPair> = order
        .into_iter()
        .enumerate()
        .filter(|(place, ranked)| *place < best || ranked.at_hand != AtHand::NotOwned)
        .map(|(_, ranked)| ranked)
        .collect();
    let why: Vec<Reason> = list.iter().zip(list.iter().skip(1)).map(|(a, b)| above(a, b)).collect();
    for (ranked, reason) in list.iter_mut().zip(why) {
        ranked.above_next = Some(reason);
    }
    list
}

/// Why one pair stands above another: what speaks for it, then what against it.
fn above(upper: &RankedPair, lower: &RankedPair) -> Reason {
    let mut gains: Vec<(f64, Criterion)> = upper
        .grades
        .iter()
        .zip(&lower.grades)
        .map(|(a, b)| (a.counts - b.counts, a.criterion))
        .collect();
    gains.sort_by(|a, b| b.0.total_cmp(&a.0));
    let name = |criterion: Criterion, by: f64| format!("{} ({by:+.1})", criterion.words());
    let part = |keep: &dyn Fn(f64) -> bool| {
        let parts: Vec<String> = gains
            .iter()
            .filter(|(by, _)| keep(*by))
            .map(|(by, criterion)| name(*criterion, *by))
            .collect();
        parts.join(", ")
    };
    let better = part(&|by| by > SAME_POINTS);
    let worse = part(&|by| by < -SAME_POINTS);
    let apart = upper.points - lower.points;
    let head = if apart.abs() < SAME_POINTS {
        format!("level with {}, and suits more situations", words(lower.pair))
    } else {
        format!("{apart:.1} points above {}", words(lower.pair))
    };
    let mut text = head;
    if !better.is_empty() {
        text += ": ";
        text += &better;
    }
    if !worse.is_empty() {
        text += if better.is_empty() { ": less for " } else { "; less for " };
        text += &worse;
    }
    Reason::made(text, Mark::Proposal, sources::OWN_CHOICE)
}
