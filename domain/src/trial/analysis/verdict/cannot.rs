//! What can't be concluded, and why.

use super::super::checks::CheckResult;
use super::super::outcome::Reading;
use super::super::say::{capital, counted, listed, many, place};
use super::super::trial::DesignKind;
use super::Case;

impl Case<'_> {
    pub(super) fn cannot_conclude(&self, outcome: Reading) -> Vec<String> {
        let mut said = Vec::new();
        said.extend(self.not_shown(outcome));
        if !self.trial.randomised {
            said.push("Whether the part or the ground made the difference: chance did not decide which plot got what, and no statistics make up for that.".to_owned());
        }
        if self.trial.design == DesignKind::SplitPlanter {
            said.push("Whether the part or the row unit made the difference, if the same units carried the same part in every pass.".to_owned());
        }
        said.extend(self.lost());
        let doubts = self.checks.iter().filter(|c| c.result == CheckResult::Doubtful);
        said.extend(doubts.map(|check| check.words.clone()));
        said.push("Anything about other fields and other years: this was one trial.".to_owned());
        said
    }

    fn not_shown(&self, outcome: Reading) -> Option<String> {
        match outcome {
            Reading::NoReplication => Some(
                "Whether chance alone made the difference: that takes at least two plots of each treatment.".to_owned(),
            ),
            Reading::CantTell if self.all_alike() => Some(
                "Anything about chance: without scatter there is nothing to measure it by.".to_owned(),
            ),
            Reading::CantTell => {
                let fits = self.only().and_then(|e| Some((e.low?, e.high?)));
                let range = fits.map_or_else(String::new, |(low, high)| {
                    format!(" Anything from {} fits these plots.", self.numbers.range(low, high))
                });
                Some(format!("That there is no difference.{range}"))
            }
            Reading::Shown if self.trial.matters.is_some() => {
                Some("That the difference is large enough to matter.".to_owned())
            }
            Reading::Matters | Reading::Shown | Reading::TooSmall => None,
        }
    }

    /// Plots, treatments and comparisons that were lost.
    fn lost(&self) -> Vec<String> {
        let mut said = Vec::new();
        let gone: Vec<&str> =
            self.means.iter().filter(|m| m.plots == 0).map(|m| self.name(m.treatment)).collect();
        if !gone.is_empty() {
            said.push(format!("Anything about {}: no plot is left.", listed(&gone)));
        } else if !self.rests_on.connected && self.rests_on.error_df > 0 {
            let blocks = many(place(self.trial.design));
            said.push(format!("All comparisons: some treatments never stand together in the {blocks} that are left."));
        }
        if self.rests_on.missing > 0 {
            let missing = usize::try_from(self.rests_on.missing).unwrap_or(usize::MAX);
            let plots = capital(&counted(missing, "plot"));
            let are = if missing == 1 { "is" } else { "are" };
            said.push(format!("{plots} {are} missing. If that came from a treatment itself (plugged, washed out), the comparison is off."));
        }
        said
    }
}
