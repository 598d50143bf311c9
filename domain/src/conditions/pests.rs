//! Pests of a green bridge: what was counted, held against published thresholds.

use serde::{Deserialize, Serialize};

use super::report::{Conditions, Crop};
use crate::provenance::{Coefficients, Reason};
use crate::quantity::{Measured, Ratio};

/// Pests that were counted in a field.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Pests {
    /// Slugs on a plant, mean of five plants at ten places.
    #[serde(default)]
    pub slugs_per_plant: Option<f64>,
    /// Share of plants that armyworms feed on.
    #[serde(default)]
    pub armyworm: Option<Ratio>,
    /// Share of plants that cutworms cut or tunnelled.
    #[serde(default)]
    pub cutworm: Option<Ratio>,
}

impl Pests {
    /// Nobody counted.
    pub const NOT_COUNTED: Self = Self { slugs_per_plant: None, armyworm: None, cutworm: None };
}

/// A pest of young corn and soybean after a cover crop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Pest {
    /// True armyworm.
    Armyworm,
    /// Black cutworm.
    Cutworm,
    /// Slugs.
    Slugs,
}

/// Where a count stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PestLevel {
    /// Below every threshold.
    Below,
    /// High enough to look again soon.
    LookAgain,
    /// At a published threshold for acting.
    Act,
}

/// One pest that was counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PestFinding {
    /// The pest.
    pub pest: Pest,
    /// Where the count stands.
    pub level: PestLevel,
    /// The count against the threshold, and where that holds.
    pub reason: Reason,
}

/// Slack for comparisons, so that a share at a threshold counts as at it in any unit.
const SLACK: f64 = 1e-9;

/// Each pest that was counted, against its threshold. Thresholds are of one state each.
pub fn pests(c: &Conditions, k: &Coefficients) -> Vec<PestFinding> {
    let counted = c.pests;
    let corn = c.crop == Crop::Corn;
    let mut found = Vec::new();
    found.extend(counted.armyworm.filter(|_| corn).map(|share| armyworm(share, k)));
    found.extend(counted.cutworm.filter(|_| corn).map(|share| cutworm(share, k)));
    found.extend(counted.slugs_per_plant.map(|slugs| slugs_found(slugs, k)));
    found.sort_by_key(|finding| std::cmp::Reverse(finding.level));
    found
}

fn percent(share: f64) -> f64 {
    share * 100.0
}

fn armyworm(share: Ratio, k: &Coefficients) -> PestFinding {
    let share = share.si();
    let (look, act) = (&k.armyworm_scout, &k.armyworm_act);
    let (level, k) = if share >= act.value - SLACK {
        (PestLevel::Act, act)
    } else if share >= look.value - SLACK {
        (PestLevel::LookAgain, look)
    } else {
        (PestLevel::Below, look)
    };
    let then = match level {
        PestLevel::Act => format!(
            "the threshold of Pennsylvania is {:.0} %; Ohio acts above {:.0} %, while larvae are small: ask locally today",
            percent(act.value),
            percent(act.high)
        ),
        PestLevel::LookAgain => format!(
            "from {:.0} to {:.0} % look again in a few days (Ohio)",
            percent(look.low),
            percent(look.high)
        ),
        PestLevel::Below => {
            format!("look again from {:.0} % on (Ohio)", percent(look.value))
        }
    };
    let text = format!("armyworm feeds on {:.0} % of the plants: {then}", percent(share));
    let reason = Reason::made(text, k.mark, k.source.clone());
    PestFinding { pest: Pest::Armyworm, level, reason }
}

fn cutworm(share: Ratio, k: &Coefficients) -> PestFinding {
    let act = &k.cutworm_act;
    let level = if share.si() >= act.value - SLACK { PestLevel::Act } else { PestLevel::Below };
    let text = format!(
        "cutworm cut or tunnelled {:.1} % of the plants: the threshold of Ohio is {:.0} %, corn at V4 or younger and larvae 1 in or less; check 20 plants at 5 places",
        percent(share.si()),
        percent(act.value)
    );
    let reason = Reason::made(text, act.mark, act.source.clone());
    PestFinding { pest: Pest::Cutworm, level, reason }
}

fn slugs_found(slugs: f64, k: &Coefficients) -> PestFinding {
    let act = &k.slugs_act;
    let level = if slugs >= act.value - SLACK { PestLevel::Act } else { PestLevel::Below };
    let text = format!(
        "{slugs:.1} slugs a plant: {:.0} or more at the spike stage are economic in Virginia; cool, wet weather helps them, heat and dryness end it",
        act.value
    );
    let reason = Reason::made(text, act.mark, act.source.clone());
    PestFinding { pest: Pest::Slugs, level, reason }
}
