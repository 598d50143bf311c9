//! Readings that cannot all be true, and which of them the engine goes by.
//!
//! A report is never refused for it: somebody saw something. The safer reading counts, so that one
//! wrong member never makes the advice bolder, and the answer names the members.

mod cover;
mod rules;
mod soil;

use serde::{Deserialize, Serialize};

use self::rules::{RULES, Rule};
use super::report::Conditions;
use crate::provenance::{Coefficients, Mark, Text};

/// A pair of readings that cannot both be true, by its name, so that programs can rely on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Clash {
    /// Sand that makes a ribbon.
    SandYetRibbon,
    /// A probe that finds other water than the hand.
    WaterAgainstFeel,
    /// Wet soil whose ball crumbles.
    WetYetCrumbles,
    /// Dry soil whose ball deforms.
    DryYetPutty,
    /// Dry soil that makes a long ribbon.
    DryYetRibbon,
    /// A long ribbon from soil whose ball crumbles.
    RibbonYetCrumbles,
    /// A ball that lands whole although soil from seed depth crumbles.
    WholeYetCrumbles,
    /// Soil like putty, or full of water, that stops the cone.
    PuttyYetHard,
    /// Penetrometer and knife tell of different soils.
    StrengthApart,
    /// The low that is expected lies above the temperature of now.
    LowAboveNow,
    /// A temperature read outside a cover that nobody reported.
    OutsideWithoutCover,
    /// A cover without height that covers the ground.
    FlatYetCovered,
    /// A tall cover that covers nothing.
    TallYetBare,
    /// A crisp dead cover with wet residue.
    CrispYetWet,
    /// A cover that is green long after its end.
    GreenAfterEnd,
    /// A cover that is crisp days after its end.
    CrispTooSoon,
    /// A cover that is dead before its end.
    DeadBeforeEnd,
    /// A ripe stage on a short cover.
    StageAheadOfHeight,
    /// A young stage on a tall cover.
    StageBehindHeight,
    /// A clip far from what height and ground cover give.
    ClipAgainstHeight,
    /// Bare ground after a heavy crop of corn.
    YieldWithoutResidue,
}

/// Readings that cannot all be true.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Contradiction {
    /// Its name, for programs.
    pub clash: Clash,
    /// The members, as JSON Pointers into the report.
    pub members: Vec<Text>,
    /// What contradicts what.
    pub what: Text,
    /// The safer reading that is used, and what to look at again.
    pub used: Text,
    /// How the rule is known.
    pub mark: Mark,
    /// Its source.
    pub source: Text,
}

impl Conditions {
    /// The report by its safer readings, with what was contradictory in it.
    ///
    /// Settling again changes nothing. Where the safer reading needs no change of the report (it is
    /// used anyway), the contradiction is only named.
    pub fn settled(&self, k: &Coefficients) -> (Self, Vec<Contradiction>) {
        let mut settled = self.clone();
        let mut found: Vec<Contradiction> = Vec::new();
        // Setting one reading aside can bring another clash to light. Each pass sets at least one
        // aside, so there are no more passes than rules.
        for _ in RULES {
            let before = settled.clone();
            for rule in RULES.iter().filter(|rule| (rule.clashes)(&before, k)) {
                if (rule.clashes)(&settled, k) {
                    (rule.settle)(&mut settled, k);
                }
                if found.iter().all(|seen| seen.clash != rule.clash) {
                    found.push(rule.contradiction());
                }
            }
            if settled == before {
                break;
            }
        }
        (settled, found)
    }
}

impl Rule {
    fn contradiction(&self) -> Contradiction {
        Contradiction {
            clash: self.clash,
            members: self.members.iter().map(|member| Text::Borrowed(*member)).collect(),
            what: Text::Borrowed(self.what),
            used: Text::Borrowed(self.used),
            mark: self.mark,
            source: Text::Borrowed(self.source),
        }
    }
}
