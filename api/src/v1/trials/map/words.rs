//! How to plant, look and weigh, so that the trial means something.

use domain::trial::Way;
use domain::trial::plot_yield::WEIGHING;

use super::facts::Facts;
use crate::v1::trials::words::ResponseKind;

/// What to do, in the order of the season.
pub(super) fn steps(facts: &Facts) -> Vec<String> {
    let mut steps = planting(facts);
    let samples = facts.design.samples();
    steps.push(match facts.layout.way {
        Way::PlanterRows { .. } => format!(
            "At each place stop well away from the headland, and look at the rows of every letter: {samples} digs or counts for each. Choose the spots before you look."
        ),
        Way::Strips { .. } | Way::SplitPlanter => format!(
            "In each plot {samples} digs or counts, spread over its length, away from the headland and off the border rows. Choose the spots before you look."
        ),
    });
    steps.push(
        "Write down every plot the same way. A plot that is lost, or was planted otherwise: write that down, and why."
            .to_owned(),
    );
    if facts.wanted.iter().any(|it| it.kind == ResponseKind::Yield) {
        let (words, ..) = WEIGHING;
        steps.push(format!("At harvest: {words}; write down weight, moisture, width and length."));
    }
    steps
}

fn planting(facts: &Facts) -> Vec<String> {
    let border = facts.design.border_rows.unwrap_or(1);
    match facts.layout.way {
        Way::PlanterRows { moved, .. } => vec![if moved {
            "Bolt the parts on the rows shown for a block, plant it, then change them for the next."
                .to_owned()
        } else {
            "Bolt the parts on the rows shown and plant as always, all rows with the same settings."
                .to_owned()
        }],
        Way::Strips { passes } => vec![format!(
            "Each strip is {passes} whole pass{} of the planter; keep to the order and the arrows. Everything else stays the same. {border} row{} at each edge of a strip {} not looked at.",
            if passes == 1 { "" } else { "es" },
            if border == 1 { "" } else { "s" },
            if border == 1 { "is" } else { "are" },
        )],
        Way::SplitPlanter => vec![format!(
            "The parts stay on their half. Drive each pass the way of its arrow; where two arrows in a row point alike, drive back outside the trial. {border} row{} at each edge of a half {} not looked at.",
            if border == 1 { "" } else { "s" },
            if border == 1 { "is" } else { "are" },
        )],
    }
}
