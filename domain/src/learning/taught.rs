//! What was learned, as it is shown: the factor, from how many digs, and what it changed.

use serde::{Deserialize, Serialize};

use super::decide::{Decided, Need, Steps, decide};
use super::learned::{DigsCounted, Learned};
use super::place::{CoverClass, Place, SoilClass, SoilGroup};
use super::posterior::Posterior;
use crate::planter::DownForce;
use crate::provenance::Text;
use crate::quantity::{Force, Measured};
use crate::settings::say::pounds;
use crate::stats::Range;

/// What the digs taught about a field, and what that changed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Taught {
    /// The soil and cover class that it is pooled in.
    pub class: SoilClass,
    /// Digs behind it.
    pub digs: DigsCounted,
    /// Resistance over what the conditions let expect: 5 %, middle and 95 %.
    pub factor: Range,
    /// The same without a single dig.
    pub factor_without_digs: Range,
    /// Down force needed for the load to aim at, N: 5 %, middle and 95 %, over the hopper's mean.
    pub need: Range,
    /// The same without a single dig.
    pub need_without_digs: Range,
    /// The force decided on.
    pub decided: Decided,
    /// The force that would be decided on without digs, from the same setting.
    pub without_digs: Decided,
    /// All of it in one or two sentences.
    pub words: Text,
}

/// A planter's row at the moment of the question.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// What adds force to the units.
    pub source: &'a DownForce,
    /// What the row needs.
    pub need: &'a Need,
    /// Down force in use, N, where the planter is already at work.
    pub in_use: Option<f64>,
    /// What holds a change back.
    pub steps: Steps,
}

/// The next down force for a field, with what the digs had to do with it.
pub fn taught(learned: &Learned, place: &Place, asked: &Asked<'_>) -> Taught {
    let (with, before) = (learned.posterior(place), learned.before_digs());
    let force = |posterior: &Posterior| {
        decide(asked.source, asked.need, posterior, asked.in_use, &asked.steps)
    };
    let (decided, without_digs) = (force(&with), force(&before));
    let factor = with.range();
    Taught {
        class: place.class,
        digs: with.digs,
        factor,
        factor_without_digs: before.range(),
        need: need_at(asked.need, factor),
        need_without_digs: need_at(asked.need, before.range()),
        decided,
        without_digs,
        words: Text::Owned(words(place.class, with.digs, factor, decided, without_digs)),
    }
}

/// Down force = load + reaction - what is carried anyway.
fn need_at(need: &Need, factor: Range) -> Range {
    let carried: f64 = need.levels.iter().map(|(share, carried)| share * carried).sum();
    factor.map(|factor| need.window.aim.si() + need.metal * factor - carried)
}

fn words(
    class: SoilClass,
    digs: DigsCounted,
    factor: Range,
    with: Decided,
    without: Decided,
) -> String {
    let Some(from) = behind(class, digs) else {
        return "nothing learned yet: nobody has dug in this practice".to_owned();
    };
    let Range { low, likely, high } = factor;
    let asks = format!(
        "from {from}: soil asks {likely:.2} times ({low:.2} to {high:.2}) what the conditions let expect"
    );
    let (with, without) = (Force::from_si(with.force), Force::from_si(without.force));
    if (with.si() - without.si()).abs() < 5.0 {
        return format!("{asks}; the down force is the same as without digs, {}", pounds(with));
    }
    format!("{asks}; down force {} instead of {}", pounds(with), pounds(without))
}

/// The nearest digs, in words.
fn behind(class: SoilClass, digs: DigsCounted) -> Option<String> {
    let count = |n: u32| if n == 1 { "1 dig".to_owned() } else { format!("{n} digs") };
    let kind = class.words();
    let said = match digs {
        DigsCounted { planter, season, .. } if planter > 0 && season > 0 => {
            format!(
                "{} on this planter in {kind}, {season} of them here this season",
                count(planter)
            )
        }
        DigsCounted { planter, .. } if planter > 0 => {
            format!("{} on this planter in {kind}", count(planter))
        }
        DigsCounted { class, .. } if class > 0 => {
            format!("{} on other planters in {kind}", count(class))
        }
        DigsCounted { practice, .. } if practice > 0 => {
            format!("{} in other soil and cover", count(practice))
        }
        _ => return None,
    };
    Some(said)
}

impl SoilClass {
    /// `medium soil under living cover`.
    pub fn words(self) -> String {
        let soil = match self.soil {
            SoilGroup::Unknown => "soil of unknown texture",
            SoilGroup::Coarse => "coarse soil",
            SoilGroup::Medium => "medium soil",
            SoilGroup::Fine => "fine soil",
        };
        let cover = match self.cover {
            CoverClass::NoCover => "without cover",
            CoverClass::Living => "under living cover",
            CoverClass::Dead => "under dead cover",
        };
        format!("{soil} {cover}")
    }
}
