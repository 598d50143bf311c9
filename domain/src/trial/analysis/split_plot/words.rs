//! What a split-plot trial says, in plain words.

use super::super::say::{capital, chance};
use super::{SplitPlotAnalysis, SplitTerm};

impl SplitPlotAnalysis {
    /// What can be concluded and what can't, in plain words; `whole` and `part` name the factors.
    pub fn words(&self, whole: &str, part: &str) -> Vec<String> {
        let chance_of = |term| self.table.iter().find(|l| l.term == term).and_then(|l| l.p);
        let told = |name: &str, p: Option<f64>| match p {
            Some(p) if p < self.confidence.alpha() => {
                format!(
                    "{}: levels differ. Without an effect chance alone does as much {}.",
                    capital(name),
                    chance(p)
                )
            }
            Some(p) => {
                format!(
                    "{}: no difference shown; there may be one all the same. Chance alone does as much {}.",
                    capital(name),
                    chance(p)
                )
            }
            None if self.was_repeated() => {
                format!(
                    "{}: nothing can be said about chance: plots that should be alike hardly differ. Check the values.",
                    capital(name)
                )
            }
            None => {
                format!("{}: nothing can be said about chance without replication.", capital(name))
            }
        };
        let mut words = vec![
            told(whole, chance_of(SplitTerm::Wholes)),
            told(part, chance_of(SplitTerm::Parts)),
        ];
        words.extend(self.parts_differ_alike.map(|alike| {
            if alike {
                format!("No sign that {part} works otherwise at another level of {whole}: the means over all levels tell the story.")
            } else {
                format!("What {part} does depends on {whole}: compare its levels at each level of {whole}, not over all.")
            }
        }));
        words.extend(self.said_of_lost());
        let blocks = self.blocks;
        words.push(format!(
            "{} was repeated {blocks} times only, so it is the less sure of the two.",
            capital(whole)
        ));
        words.push(
            "Nothing is said about other fields and other years: this was one trial.".to_owned(),
        );
        words
    }

    /// Whether whole plots and parts were repeated, so that there is scatter to judge by if they differ.
    fn was_repeated(&self) -> bool {
        let errors = [SplitTerm::WholePlots, SplitTerm::PartPlots];
        errors.iter().all(|error| self.table.iter().any(|l| l.term == *error && l.df > 0))
    }

    fn said_of_lost(&self) -> Option<String> {
        let said = match self.lost {
            0 => return None,
            1 => "One plot was lost".to_owned(),
            several => format!("{several} plots were lost"),
        };
        Some(format!(
            "{said}. Means are those to be expected without the loss; chances are close, not exact."
        ))
    }
}
