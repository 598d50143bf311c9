//! What was learned, as it is shown: the factor, from how many digs, and what it changed.

use serde::{Deserialize, Serialize};

use super::learned::DigsCounted;
use super::lessons::Lessons;
use super::place::{CoverClass, SoilClass, SoilGroup};
use crate::provenance::Text;
use crate::quantity::{Force, Measured};
use crate::settings::say::pounds;
use crate::stats::Range;

/// Forces closer than this are the same to a reader, N (about 1 lbf).
const SAME: f64 = 5.0;

/// What the digs taught about a field, and what that changed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Taught {
    /// The soil and cover class that it is pooled in.
    pub class: SoilClass,
    /// Digs behind it.
    pub digs: DigsCounted,
    /// What soil asks of opener and coulter, over what was expected before: 5 %, middle and 95 %.
    pub factor: Range,
    /// The same before: without a single dig for a sheet, without this dig for a dig check.
    pub factor_before: Range,
    /// The down force that is set or proposed, and its chance.
    pub set: SetForce,
    /// The down force that would have been set before, and its chance by what is known now.
    pub before: SetForce,
    /// All of it in one or two sentences.
    pub words: Text,
}

/// A down force with the chance that the load then lies in the window.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SetForce {
    /// The force on each row.
    pub force: Force,
    /// The chance, 0 to 1.
    pub chance: f64,
}

impl Taught {
    /// For a sheet: against what would be said without a single dig.
    pub(crate) fn on_a_sheet(
        lessons: &Lessons,
        factor: Range,
        without_digs: Range,
        set: SetForce,
        before: SetForce,
    ) -> Self {
        let class = lessons.place.class;
        let (factor, factor_before) = relative(factor, without_digs);
        let mut words = asks(class, lessons.digs, factor, "what was expected without digs");
        words.push_str(&changed(set, before));
        let words = Text::Owned(words);
        Self { class, digs: lessons.digs, factor, factor_before, set, before, words }
    }

    /// For a dig check: against what was known before it.
    pub(crate) fn by_a_dig(
        lessons: &Lessons,
        factor: Range,
        known_before: Range,
        set: SetForce,
        before: SetForce,
    ) -> Self {
        let class = lessons.place.class;
        let (factor, factor_before) = relative(factor, known_before);
        let asks = asks(class, lessons.digs, factor, "what was expected before this dig");
        let words = Text::Owned(format!("{asks}; {}", chances(set, before)));
        Self { class, digs: lessons.digs, factor, factor_before, set, before, words }
    }
}

/// Both over the middle of what was known before.
fn relative(now: Range, before: Range) -> (Range, Range) {
    let middle = before.likely.max(1e-9);
    (now.scaled(1.0 / middle), before.scaled(1.0 / middle))
}

fn asks(class: SoilClass, digs: DigsCounted, factor: Range, over: &str) -> String {
    let from = digs.behind(class).unwrap_or_else(|| "without a dig".to_owned());
    let Range { low, likely, high } = factor;
    format!("from {from}: soil asks {likely:.2} times ({low:.2} to {high:.2}) {over}")
}

fn changed(set: SetForce, before: SetForce) -> String {
    if (set.force.si() - before.force.si()).abs() < SAME {
        return format!("; the down force is the same as without digs, {}", pounds(set.force));
    }
    format!("; down force {} instead of {}", pounds(set.force), pounds(before.force))
}

fn chances(set: SetForce, before: SetForce) -> String {
    let (to, from) = (percent(set.chance), percent(before.chance));
    if (set.force.si() - before.force.si()).abs() < SAME {
        return format!(
            "at {} the load lies in the window in {to} of the cases",
            pounds(set.force)
        );
    }
    format!(
        "the load lies in the window in {to} of the cases at {}, in {from} at {}",
        pounds(set.force),
        pounds(before.force)
    )
}

fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

impl DigsCounted {
    /// The nearest digs, in words: `14 digs on this planter in medium soil under living cover`; none
    /// where nobody dug in the practice.
    pub fn behind(self, class: SoilClass) -> Option<String> {
        let count = |n: u32| if n == 1 { "1 dig".to_owned() } else { format!("{n} digs") };
        let kind = class.words();
        match self {
            Self { planter, season, .. } if planter > 0 && season > 0 => Some(format!(
                "{} on this planter in {kind}, {season} of them here this season",
                count(planter)
            )),
            Self { planter, .. } if planter > 0 => {
                Some(format!("{} on this planter in {kind}", count(planter)))
            }
            Self { class, .. } if class > 0 => {
                Some(format!("{} on other planters in {kind}", count(class)))
            }
            Self { practice, .. } if practice > 0 => {
                Some(format!("{} in other soil and cover", count(practice)))
            }
            _ => None,
        }
    }
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
