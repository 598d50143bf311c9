//! What to do next.

use super::super::outcome::Reading;
use super::super::say::{counted, many, place};
use super::super::trial::DesignKind;
use super::Case;
use crate::trial::power::{Planned, USUAL_POWER};

/// More replications than that are no advice.
const MOST: u32 = 40;

impl Case<'_> {
    pub(super) fn next(&self, outcome: Reading) -> Vec<String> {
        let mut said = Vec::new();
        match outcome {
            Reading::NoReplication => {
                let thing = many(self.thing());
                said.push(format!("Repeat it: four {thing} at least, six for small effects."));
            }
            Reading::CantTell if self.all_alike() => {
                said.push("Enter what was measured in each plot, not a mean for all.".to_owned());
            }
            Reading::CantTell => said.extend(self.more_plots()),
            Reading::Shown => {
                said.push(if self.trial.matters.is_some() {
                    "Repeat it in another field before you pay for it.".to_owned()
                } else {
                    "Say which difference would pay for the part, and hold the range against it."
                        .to_owned()
                });
            }
            Reading::Matters => {
                said.push("See whether it holds in another field or year, then count what it costs on every row.".to_owned());
            }
            Reading::TooSmall => {
                said.push(
                    "Choose by price, wear and work: this response does not decide it.".to_owned(),
                );
            }
        }
        if !self.trial.randomised {
            said.push("Next time draw lots for the order in each block.".to_owned());
        }
        said
    }

    fn thing(&self) -> &'static str {
        match self.trial.design {
            DesignKind::CompletelyRandomised => "plot of each treatment",
            other => place(other),
        }
    }

    fn more_plots(&self) -> Option<String> {
        let sd = self.residual_sd.filter(|sd| *sd > 0.0)?;
        let planned = Planned::of(self.trial);
        let scatter = self.numbers.size(sd);
        let things = |n: u32| match self.trial.design {
            DesignKind::CompletelyRandomised => format!("{n} plots of each treatment"),
            other => counted(usize::try_from(n).unwrap_or(usize::MAX), place(other)),
        };
        if let Some(wanted) = self.trial.matters {
            let wanted_words = self.numbers.size(wanted);
            return Some(match planned.replications(wanted, sd, USUAL_POWER, MOST) {
                Some(n) => format!(
                    "Plan {} next time: with this scatter ({scatter} from plot to plot) they show a difference of {wanted_words} in 4 of 5 trials.",
                    things(n)
                ),
                None => format!(
                    "With this scatter ({scatter} from plot to plot) even {} would not show {wanted_words}: measure more carefully, use longer strips, or settle for a larger difference.",
                    things(MOST)
                ),
            });
        }
        let n = if self.trial.design.blocked() {
            self.rests_on.blocks
        } else {
            self.means.iter().map(|m| m.plots).min().unwrap_or(0)
        };
        let seen = self.numbers.size(planned.detectable(n, sd, USUAL_POWER)?);
        Some(format!(
            "Say which difference would pay. As laid out ({}) the trial shows {seen} in 4 of 5 trials; smaller ones take more.",
            things(n)
        ))
    }
}
