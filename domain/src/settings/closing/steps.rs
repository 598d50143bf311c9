//! The calculation behind the ranking of closing wheels.

use super::ClosingAdvice;
use super::ranking::RankedPair;
use super::words::words;
use crate::provenance::{Input, Mark, Step, sources};

/// One step for each pair that is shown: the sum of weight times grade over what the field asks.
pub fn closing_steps(advice: &ClosingAdvice) -> Vec<Step> {
    advice.ranking.iter().map(|ranked| step(ranked, advice)).collect()
}

fn step(ranked: &RankedPair, advice: &ClosingAdvice) -> Step {
    let mut inputs = Vec::new();
    let mut terms = Vec::new();
    for ask in &advice.asks {
        let grade = ranked.grades.iter().find(|grade| grade.criterion == ask.criterion);
        let (weight, symbol) = ask.criterion.symbols();
        terms.push(format!("{weight} {symbol}"));
        inputs.push(Input::new(weight, ask.weight, "1"));
        inputs.push(Input::new(symbol, grade.map_or(0.0, |grade| grade.grade), "1"));
    }
    Step {
        step: format!("closing points of {}", words(ranked.pair)).into(),
        formula: terms.join(" + ").into(),
        inputs,
        value: ranked.points,
        unit: "1".into(),
        low: None,
        high: None,
        source: sources::OWN_CHOICE.into(),
        mark: Mark::Proposal,
    }
}
