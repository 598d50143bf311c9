//! How deep to plant corn.

use super::Field;
use super::plan::Plan;
use crate::conditions::{HairpinRisk, Moisture, TextureGroup};
use crate::provenance::{Coefficients, Mark, Reason, sources};

pub(super) fn corn(field: &Field, k: &Coefficients) -> Plan {
    let mut plan = Plan::from(&k.depth_corn, CORN_BASE);
    let step = k.depth_shift.value;
    plan.because.push(CORN_FLOOR);
    match field.moisture {
        Moisture::Dry => dry_corn(field, k, &mut plan),
        Moisture::SlightlyMoist => plan.shift(step, CORN_DRYING),
        Moisture::Moist if field.cool == Some(true) => plan.shift(-step, CORN_COOL),
        Moisture::Moist => {}
        Moisture::Wet | Moisture::AtCapacity => wet_corn(field, k, &mut plan),
    }
    if field.cool.is_none() && field.before(k.early_corn.value) && field.moisture != Moisture::Dry {
        plan.shift(-step, CORN_EARLY);
    }
    if field.texture == Some(TextureGroup::Coarse) && !field.is_wet() {
        plan.shift(step, COARSE);
    }
    if field.hairpins == HairpinRisk::High {
        plan.shift(step, HAIRPINS);
    }
    plan
}

fn dry_corn(field: &Field, k: &Coefficients, plan: &mut Plan) {
    let dry = &k.depth_corn_dry;
    plan.safe.0 = dry.low;
    plan.shift(dry.value - plan.base, CORN_DRY);
    if field.mat < k.bare_enough.value {
        plan.safe.1 = dry.high;
        plan.because.push(CORN_DRY_BARE);
    }
}

fn wet_corn(field: &Field, k: &Coefficients, plan: &mut Plan) {
    if field.cool == Some(true) {
        let cool = &k.depth_corn_cool_wet;
        plan.safe.1 = cool.high;
        plan.shift(cool.value - plan.base, CORN_COOL_WET);
    } else {
        plan.shift(-k.depth_shift.value, CORN_WET);
    }
    plan.watch.push(SHALLOW_OPENS);
}

const CORN_BASE: Reason = Reason::fixed(
    "corn: 2 in is the target, 1.5 to 2.5 in the usual range",
    Mark::Read,
    sources::MISSOURI_DEPTH,
);
const CORN_FLOOR: Reason = Reason::fixed(
    "corn is not set shallower than 1.5 in at any date or in any soil",
    Mark::Read,
    sources::OHIO_DEPTH,
);
const CORN_DRY: Reason = Reason::fixed(
    "dry soil: at least 2 in, to reach even moisture",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const CORN_DRY_BARE: Reason = Reason::fixed(
    "with dry soil and little residue down to 3 in",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const CORN_DRYING: Reason = Reason::fixed(
    "the surface is drying: a little deeper keeps seed in even moisture",
    Mark::Read,
    sources::PURDUE_DEPTH,
);
const CORN_COOL: Reason = Reason::fixed(
    "cool soil: a little shallower is warmer, inside the all-purpose 1.5 to 2 in",
    Mark::Proposal,
    sources::PURDUE_DEPTH,
);
const CORN_WET: Reason = Reason::fixed(
    "wet soil: a little shallower, inside the all-purpose 1.5 to 2 in",
    Mark::Proposal,
    sources::PURDUE_DEPTH,
);
const CORN_COOL_WET: Reason =
    Reason::fixed("cool and wet: 1.5 in", Mark::Read, sources::PENN_RESIDUE_NOTE);
const CORN_EARLY: Reason = Reason::fixed(
    "early date and no soil temperature: taken as cool",
    Mark::Proposal,
    sources::OWN_CHOICE,
);
const SHALLOW_OPENS: Reason = Reason::fixed(
    "shallow slots in wet soil open up again: angled closing wheels work best at about 2 in",
    Mark::Read,
    sources::MICHIGAN_SIDEWALL_LATER,
);
const COARSE: Reason = Reason::fixed(
    "coarse soil dries fast: a little deeper",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const HAIRPINS: Reason = Reason::fixed(
    "hairpins are likely: a little deeper the disc meets the residue at a better angle",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
