//! What can be concluded and what can't, in plain words.

mod cannot;
mod findings;
mod headline;
mod next;

use serde::{Deserialize, Serialize};

use super::checks::Check;
use super::outcome::{Comparison, Effect, Pairs, Reading, RestsOn, TreatmentMean};
use super::say::Numbers;
use super::trial::{Better, Trial};

/// What can be concluded and what can't.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Verdict {
    /// In one word: of the clearest effect.
    pub outcome: Reading,
    /// In one sentence.
    pub headline: String,
    /// How large the effects are and how sure that is: a sentence each.
    pub findings: Vec<String>,
    /// What can't be concluded, and why.
    pub cannot_conclude: Vec<String>,
    /// What to do next.
    pub next: Vec<String>,
}

/// What a verdict rests on.
pub(super) struct Case<'a> {
    pub trial: &'a Trial,
    pub rests_on: RestsOn,
    pub means: &'a [TreatmentMean],
    pub comparison: Comparison,
    pub effects: &'a [Effect],
    pub residual_sd: Option<f64>,
    pub pairs: Option<&'a Pairs>,
    pub checks: &'a [Check],
    pub numbers: Numbers,
}

impl Case<'_> {
    pub(super) fn verdict(&self) -> Verdict {
        let outcome = self.outcome();
        Verdict {
            outcome,
            headline: self.headline(outcome),
            findings: self.findings(),
            cannot_conclude: self.cannot_conclude(outcome),
            next: self.next(outcome),
        }
    }

    /// That of the clearest effect; "too small" only where it holds for all.
    fn outcome(&self) -> Reading {
        let any = |reading| self.effects.iter().any(|e| e.reading == reading);
        let all_small = self.effects.iter().all(|e| e.reading == Reading::TooSmall);
        match () {
            () if self.effects.is_empty() => Reading::NoReplication,
            () if any(Reading::Matters) => Reading::Matters,
            () if any(Reading::Shown) => Reading::Shown,
            () if all_small => Reading::TooSmall,
            () if any(Reading::CantTell) || any(Reading::TooSmall) => Reading::CantTell,
            () => Reading::NoReplication,
        }
    }

    fn name(&self, treatment: usize) -> &str {
        self.trial.treatments.get(treatment).map_or("", String::as_str)
    }

    /// The one effect of a trial of two treatments.
    fn only(&self) -> Option<&Effect> {
        match self.effects {
            [one] => Some(one),
            _ => None,
        }
    }

    /// Whether the plots that should differ by chance do not differ at all.
    fn all_alike(&self) -> bool {
        self.residual_sd.is_some_and(|sd| sd <= 0.0)
    }

    /// "Better", "Worse" or "Different".
    fn way(&self, effect: &Effect) -> &'static str {
        let more = effect.difference > 0.0;
        match (self.trial.response.better, more) {
            (Better::Higher, true) | (Better::Lower, false) => "better",
            (Better::Higher, false) | (Better::Lower, true) => "worse",
            (Better::Neither, _) => "different",
        }
    }

    fn shown(effect: &Effect) -> bool {
        matches!(effect.reading, Reading::Matters | Reading::Shown)
    }
}
