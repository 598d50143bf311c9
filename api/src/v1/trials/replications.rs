//! How many blocks the difference needs that is wanted. Worked out when a trial is laid out.

use domain::trial::analysis::{Confidence, DesignKind};
use domain::trial::power::{Planned, USUAL_POWER};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::design::{TrialDesign, TrialWay};
use super::measured::{Wanted, label, wanted};
use crate::http::quantity::six_digits;

/// Blocks beyond which nobody lays out a trial.
const MOST_BLOCKS: u32 = 100;

/// What the blocks of a trial can show of one response, and how many would be needed: by the
/// noncentral t of the test that the analysis makes, at 5 %, for the scatter that was named.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "response": "emergence", "matters": 3, "spread": 2.5, "unit": "%", "blocks": 5,
    "chance": 31.2, "detectable": 5.9, "blocks_needed": 13,
    "words": "5 blocks show a difference of 3 % in 31 of 100 such trials; 13 blocks would in 80"
})))]
pub struct Replications {
    /// The response, by its word.
    #[schema(example = "emergence")]
    pub response: String,
    /// The difference that matters.
    #[schema(example = 3)]
    pub matters: f64,
    /// Standard deviation between plots of one treatment in one block.
    #[schema(example = 2.5)]
    pub spread: f64,
    /// Unit of the figures.
    #[schema(example = "%")]
    pub unit: String,
    /// Blocks of the trial.
    #[schema(minimum = 1, maximum = 12, example = 5)]
    pub blocks: u16,
    /// Chance in percent that a true difference of that size shows; absent without replication.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 100, example = 31.2)]
    pub chance: Option<f64>,
    /// The true difference that shows in 80 of 100 such trials; absent without replication.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 5.9)]
    pub detectable: Option<f64>,
    /// Blocks with which it shows in 80 of 100 such trials; absent where 100 would not do.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 2, maximum = 100, example = 13)]
    pub blocks_needed: Option<u32>,
    /// The same in words.
    #[schema(
        example = "5 blocks show a difference of 3 % in 31 of 100 such trials; 13 blocks would in 80"
    )]
    pub words: String,
}

/// For each response with `matters` and `spread`.
pub(super) fn replications(design: &TrialDesign) -> Vec<Replications> {
    wanted(design).iter().filter_map(|it| of(design, it)).collect()
}

/// How treatments are put on the ground, for the statistics.
pub(super) fn kind(design: &TrialDesign) -> DesignKind {
    match (&design.way, design.treatments.len()) {
        (TrialWay::PlanterRows { .. } | TrialWay::SplitPlanter {}, _) => DesignKind::SplitPlanter,
        (TrialWay::Strips { .. }, 2) => DesignKind::Paired,
        (TrialWay::Strips { .. }, _) => DesignKind::RandomisedBlocks,
    }
}

fn of(design: &TrialDesign, wanted: &Wanted) -> Option<Replications> {
    let (matters, spread) = (wanted.matters?, wanted.spread?);
    let planned = Planned {
        design: kind(design),
        treatments: u32::try_from(design.treatments.len()).ok()?,
        control: design.treatments.iter().any(|it| it.control),
        confidence: Confidence::NinetyFive,
    };
    let blocks = u32::from(design.blocks);
    let chance = planned.power(blocks, matters, spread).map(|it| six_digits(it * 100.0));
    let detectable = planned.detectable(blocks, spread, USUAL_POWER).map(six_digits);
    let needed = planned.replications(matters, spread, USUAL_POWER, MOST_BLOCKS);
    let words = words(design.blocks, matters, label(&wanted.unit), (chance, needed));
    Some(Replications {
        response: wanted.key.clone(),
        matters,
        spread,
        unit: wanted.unit.clone(),
        blocks: design.blocks,
        chance,
        detectable,
        blocks_needed: needed,
        words,
    })
}

fn words(
    blocks: u16,
    matters: f64,
    unit: &str,
    (chance, needed): (Option<f64>, Option<u32>),
) -> String {
    let first = match chance {
        Some(chance) => {
            format!(
                "{blocks} blocks show a difference of {matters} {unit} in {chance:.0} of 100 such trials"
            )
        }
        None => "one block shows no difference for sure".to_owned(),
    };
    match needed {
        Some(needed) if u32::from(blocks) < needed => {
            format!("{first}; {needed} blocks would in 80")
        }
        Some(_) => first,
        None => format!("{first}; not even {MOST_BLOCKS} blocks would in 80"),
    }
}
