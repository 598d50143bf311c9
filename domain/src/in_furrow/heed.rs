//! What to heed with anything in the furrow, and what was taken for granted of it.

use super::mixing::mixing;
use super::plan::{InFurrowPlan, InFurrowProduct};
use crate::conditions::Moisture;
use crate::provenance::{Assumed, Coefficients, Mark, Reason, Text, sources};

/// For products that only their label limits.
pub(super) const LABEL_SAYS: Reason = Reason::fixed(
    "its label says whether it may go in the furrow of this crop, how much, and with what gear",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);

/// So that nobody gets a fertilizer past the limits.
pub(super) const ENTER_STARTER: Reason = Reason::fixed(
    "if it carries nitrogen or potash, enter it as a starter: its salt is not counted here",
    Mark::Proposal,
    sources::OWN_CHOICE,
);

const LABEL_FIRST: Reason = Reason::fixed(
    "the label comes first: if it allows less, or not in the furrow, that holds",
    Mark::Read,
    sources::MICHIGAN_MIXING,
);

const RATE_FROM_LABEL: Reason = Reason::fixed(
    "enter the rate of the label, and flow and catch follow",
    Mark::Proposal,
    sources::OWN_CHOICE,
);

const DRY: Reason = Reason::fixed(
    "dry soil: salt burns more, leave it out or stay well below the limit",
    Mark::Read,
    sources::NEVER_IN_FURROW,
);

const IF_DRY: Reason = Reason::fixed(
    "the drier the soil, the more salt burns: if it turns dry, leave it out",
    Mark::Read,
    sources::NEVER_IN_FURROW,
);

/// Salt and soil moisture.
pub(super) const fn dryness(moisture: Option<Moisture>) -> Reason {
    match moisture {
        Some(Moisture::Dry) => DRY,
        _ => IF_DRY,
    }
}

/// What goes with any product that may run.
pub(super) fn of_any(plan: &InFurrowPlan, runs: bool, k: &Coefficients) -> Vec<Reason> {
    let mut heed = vec![LABEL_FIRST];
    if runs {
        let limit = &k.outlet_tolerance;
        let text = format!(
            "catch under every outlet; clean or replace those more than {:.0} % off the mean",
            limit.value * 100.0
        );
        heed.push(Reason::made(text, limit.mark, limit.source.clone()));
    } else {
        heed.push(RATE_FROM_LABEL);
    }
    heed.extend(mixing(plan, k));
    heed
}

/// A label that nobody read.
pub(super) fn unread_label(plan: &InFurrowPlan) -> Option<Assumed> {
    let inoculant = matches!(plan.product, InFurrowProduct::Inoculant { .. });
    (plan.contains.is_none() && !inoculant).then_some(Assumed {
        what: Text::Borrowed("urea, UAN or ammonium thiosulfate in the in-furrow product"),
        used: Text::Borrowed("none"),
        range: None,
        instead: Text::Borrowed("read the label; any of the three must stay out of the furrow"),
        mark: Mark::Assumption,
        source: Text::Borrowed(sources::ASSUMPTION),
    })
}
