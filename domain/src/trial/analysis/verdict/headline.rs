//! The verdict in one sentence.

use super::super::outcome::{Effect, Reading, TreatmentMean};
use super::super::say::{capital, listed};
use super::super::trial::Better;
use super::Case;

impl Case<'_> {
    pub(super) fn headline(&self, outcome: Reading) -> String {
        let told = match self.only() {
            Some(effect) => self.of_one(effect),
            None => self.of_many(outcome),
        };
        let claims = matches!(outcome, Reading::Matters | Reading::Shown | Reading::TooSmall);
        if claims && !self.trial.randomised {
            format!(
                "{told} But chance did not decide which plot got what, so the ground may be behind it."
            )
        } else {
            told
        }
    }

    fn of_one(&self, effect: &Effect) -> String {
        let (name, other) = (self.name(effect.treatment), self.name(effect.against));
        let told = || {
            let more = self.numbers.more(effect.difference);
            format!("{} with {name}: {more} than with {other}", capital(self.way(effect)))
        };
        match effect.reading {
            Reading::Matters => format!("{}, enough to matter.", told()),
            Reading::Shown if self.trial.matters.is_some() => {
                format!("{}, though it may be too little to matter.", told())
            }
            Reading::Shown => format!("{}.", told()),
            Reading::TooSmall => {
                format!("No difference that matters between {name} and {other}.")
            }
            Reading::CantTell if self.all_alike() => {
                "The plots agree to the last digit, which ground never does: check what was entered.".to_owned()
            }
            Reading::CantTell => format!("This trial can't tell {name} from {other}."),
            Reading::NoReplication if self.rests_on.blocks == 0 && self.trial.design.blocked() => {
                format!("No verdict: {name} and {other} never stood side by side.")
            }
            Reading::NoReplication => {
                format!("No verdict: {name} and {other} were compared once, and once is no trial.")
            }
        }
    }

    fn of_many(&self, outcome: Reading) -> String {
        match outcome {
            Reading::NoReplication => {
                "No verdict: each comparison was made once at most, and once is no trial.".to_owned()
            }
            Reading::TooSmall => match self.trial.control {
                Some(control) => {
                    format!("None of them differs from {} by as much as matters.", self.name(control))
                }
                None => "No difference that matters between any of them.".to_owned(),
            },
            Reading::CantTell if self.all_alike() => {
                "The plots agree to the last digit, which ground never does: check what was entered.".to_owned()
            }
            Reading::CantTell => match self.trial.control {
                Some(control) => {
                    format!("This trial can't tell any of them from {}.", self.name(control))
                }
                None => "This trial can't tell them apart.".to_owned(),
            },
            Reading::Matters | Reading::Shown => self.of_shown(),
        }
    }

    fn of_shown(&self) -> String {
        let shown: Vec<&Effect> = self.effects.iter().filter(|e| Self::shown(e)).collect();
        let Some(control) = self.trial.control else {
            let pairs = self.effects.len();
            let best = self.best().map_or_else(String::new, |best| format!(" {best}"));
            return format!("{} of {pairs} pairs differ.{best}", shown.len());
        };
        let ways = ["better", "worse", "different"];
        let parts: Vec<String> = ways
            .iter()
            .filter_map(|way| {
                let names: Vec<&str> = shown
                    .iter()
                    .filter(|e| self.way(e) == *way)
                    .map(|e| self.name(e.treatment))
                    .collect();
                (!names.is_empty()).then(|| format!("{way} with {}", listed(&names)))
            })
            .collect();
        format!("Against {}: {}.", self.name(control), parts.join("; "))
    }

    /// The best treatment and those that can't be told from it.
    fn best(&self) -> Option<String> {
        let sign = match self.trial.response.better {
            Better::Higher => 1.0,
            Better::Lower => -1.0,
            Better::Neither => return None,
        };
        let value = |m: &TreatmentMean| sign * m.adjusted.unwrap_or(f64::NAN);
        let told = self.means.iter().filter(|m| m.adjusted.is_some());
        let top = told.max_by(|a, b| value(a).total_cmp(&value(b)))?;
        let apart = |other: usize| {
            self.effects.iter().any(|e| {
                let both = [e.treatment, e.against];
                Self::shown(e) && both.contains(&other) && both.contains(&top.treatment)
            })
        };
        let like: Vec<&str> = self
            .means
            .iter()
            .filter(|m| m.treatment != top.treatment && m.adjusted.is_some())
            .filter(|m| !apart(m.treatment))
            .map(|m| self.name(m.treatment))
            .collect();
        let best = self.name(top.treatment);
        Some(if like.is_empty() {
            format!("Best: {best}.")
        } else {
            format!("Best: {best}, but it can't be told from {}.", listed(&like))
        })
    }
}
