//! How deep to plant soybean.

use super::Field;
use super::plan::Plan;
use crate::conditions::{HairpinRisk, Moisture, TextureGroup};
use crate::provenance::{Coefficients, Mark, Reason, sources};

pub(super) fn soybean(field: &Field, k: &Coefficients) -> Plan {
    let mut plan = Plan::from(&k.depth_soybean, SOYBEAN_BASE);
    let step = k.depth_shift.value;
    match field.moisture {
        Moisture::Dry => {
            plan.safe.1 = k.depth_soybean_deep.value;
            plan.shift(2.0 * step, SOYBEAN_DRY);
        }
        Moisture::SlightlyMoist => plan.shift(step, SOYBEAN_DRYING),
        Moisture::Moist => {}
        Moisture::Wet | Moisture::AtCapacity => plan.shift(-step, SOYBEAN_MOIST),
    }
    match field.texture {
        Some(TextureGroup::Coarse) => {
            plan.safe.1 = k.depth_soybean_deep.value;
            plan.shift(step, SOYBEAN_SAND);
        }
        Some(TextureGroup::Fine) if field.moisture >= Moisture::Moist => {
            plan.shift(-step, SOYBEAN_FINE);
        }
        _ => {}
    }
    let dry = field.moisture <= Moisture::SlightlyMoist;
    if field.mat > k.much_residue.value && !dry {
        plan.shift(-step, SOYBEAN_RESIDUE);
    }
    if field.cool == Some(true) || field.cool.is_none() && field.before(k.early_soybean.value) {
        plan.shift(-step, SOYBEAN_EARLY);
    } else if field.after(k.late_soybean.value) {
        plan.shift(step, SOYBEAN_LATE);
    }
    if field.hairpins == HairpinRisk::High {
        plan.watch.push(SOYBEAN_HAIRPINS);
    }
    plan.watch.push(SOYBEAN_DEEPER_STUDY);
    plan.watch.push(SOYBEAN_NEVER);
    plan
}

const SOYBEAN_BASE: Reason = Reason::fixed(
    "soybean: 1 to 1.5 in is the standard range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_DRY: Reason = Reason::fixed(
    "dry soil: deeper only to reach moisture, not over 2 in for best yield",
    Mark::Read,
    sources::IOWA_SOYBEAN_DEPTH,
);
const SOYBEAN_DRYING: Reason = Reason::fixed(
    "drying soil: the deep end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_MOIST: Reason = Reason::fixed(
    "wet soil: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_SAND: Reason = Reason::fixed(
    "coarse soil: the deep end, on sand up to 2 in",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_FINE: Reason = Reason::fixed(
    "fine, moist soil: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_RESIDUE: Reason = Reason::fixed(
    "much residue: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_EARLY: Reason = Reason::fixed(
    "early or cool: the shallow end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_LATE: Reason = Reason::fixed(
    "late planting: the deep end of the range",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_DEEPER_STUDY: Reason = Reason::fixed(
    "sources differ: a three-year study in one state found 1.75 in best",
    Mark::Read,
    sources::NEBRASKA_SOYBEAN_DEPTH,
);
const SOYBEAN_NEVER: Reason = Reason::fixed(
    "soybean is never planted beyond 2.5 in",
    Mark::Read,
    sources::MICHIGAN_SOYBEAN_DEPTH,
);
const SOYBEAN_HAIRPINS: Reason = Reason::fixed(
    "hairpins are likely: where a dig shows them, go a little deeper inside the safe range; they are often a sign of planting too shallow for the opener",
    Mark::Read,
    sources::NEBRASKA_RIGHT_MOVES,
);
