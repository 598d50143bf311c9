//! How large effects are, how sure that is, and what it rests on.

use super::super::outcome::{Comparison, Effect};
use super::super::say::{capital, chance, counted, place};
use super::super::trial::DesignKind;
use super::Case;

/// Comparisons that are spelled out one by one.
const MOST: usize = 10;

impl Case<'_> {
    pub(super) fn findings(&self) -> Vec<String> {
        let mut findings = vec![self.all_means()];
        let many = self.effects.len() > MOST;
        let told = self.effects.iter().filter(|e| !many || Self::shown(e)).take(MOST);
        findings.extend(told.map(|effect| self.effect(effect)));
        findings.extend(self.held_for_many());
        findings.push(self.basis());
        findings.extend(self.other_tests());
        findings
    }

    fn all_means(&self) -> String {
        let parts: Vec<String> = self
            .means
            .iter()
            .filter_map(|m| {
                let mean = m.adjusted.or(m.plain)?;
                Some(format!("{} {}", self.name(m.treatment), self.numbers.value(mean)))
            })
            .collect();
        format!("{}: {}.", capital(&self.trial.response.what), parts.join(", "))
    }

    fn effect(&self, effect: &Effect) -> String {
        let name = capital(self.name(effect.treatment));
        let more = self.numbers.more(effect.difference);
        let against = self.name(effect.against);
        let size = format!("{name}: {more} than {against}");
        match (effect.low, effect.high, effect.p) {
            (Some(low), Some(high), Some(p)) => {
                let percent = self.trial.confidence.percent();
                let range = self.numbers.range(low, high);
                let chance = chance(p);
                format!(
                    "{size} ({percent} % range {range}). Without an effect chance alone does as much {chance}."
                )
            }
            _ => format!("{size}. How sure that is can't be said."),
        }
    }

    fn held_for_many(&self) -> Option<String> {
        let ways = self.effects.len();
        let by = match self.comparison {
            Comparison::StudentT => return None,
            Comparison::Dunnett => "Dunnett",
            Comparison::TukeyKramer => "Tukey",
        };
        let tested = self.effects.iter().any(|e| e.p.is_some());
        tested
            .then(|| format!("Ranges and chances are held for {ways} comparisons at once ({by})."))
    }

    fn basis(&self) -> String {
        let on = self.rests_on;
        let plots = counted(size(on.plots), "plot");
        let mut told = if self.trial.design == DesignKind::CompletelyRandomised {
            format!("It rests on {plots}")
        } else {
            let blocks = counted(size(on.blocks), place(self.trial.design));
            format!("It rests on {blocks}, {plots} in all")
        };
        if on.values > on.plots {
            let values = on.values;
            told = format!(
                "{told}; the {values} samples were averaged plot by plot, since samples are no replications"
            );
            if on.unequal_samples {
                told += ", and each plot counts once however often it was sampled";
            }
        }
        told + "."
    }

    /// What tests that take no bell for granted say, where they disagree.
    fn other_tests(&self) -> Option<String> {
        let (pairs, effect) = (self.pairs?, self.only()?);
        let (p, other) = (effect.p?, pairs.sign_flip.or(pairs.signed_rank)?);
        let alpha = self.trial.confidence.alpha();
        // So few pairs can't reach that chance in any case.
        let reachable = 2.0 * 0.5_f64.powi(i32::try_from(pairs.pairs).unwrap_or(i32::MAX));
        if (p < alpha) == (other.p < alpha) || reachable >= alpha {
            return None;
        }
        let chance = chance(other.p);
        Some(format!(
            "Counting all ways in which the pairs could have fallen says otherwise: as much {chance}. Call it a close one."
        ))
    }
}

fn size(number: u32) -> usize {
    usize::try_from(number).unwrap_or(usize::MAX)
}
