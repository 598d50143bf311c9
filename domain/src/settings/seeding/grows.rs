//! The share of the seed that becomes plants, by tag, count and published figures.

use crate::conditions::Crop;
use crate::provenance::{Assumed, Coefficient, Coefficients, Mark, Reason, sources};
use crate::quantity::{Measured, Ratio};

/// Share of the seed that becomes plants.
pub(super) struct Grows {
    pub low: f64,
    pub likely: f64,
    pub high: f64,
}

pub(super) struct Case<'k> {
    pub crop: Crop,
    pub stand: &'k Coefficient,
    germination: &'k Coefficient,
    pub survival: &'k Coefficient,
}

impl<'k> Case<'k> {
    pub(super) const fn of(crop: Crop, k: &'k Coefficients) -> Self {
        match crop {
            Crop::Corn => Self {
                crop,
                stand: &k.stand_corn,
                germination: &k.germination_corn,
                survival: &k.field_survival_corn,
            },
            Crop::Soybean => Self {
                crop,
                stand: &k.stand_soybean,
                germination: &k.germination_soybean,
                survival: &k.field_survival_soybean,
            },
        }
    }

    pub(super) const fn reason(&self) -> Reason {
        match self.crop {
            Crop::Corn => CORN_RATE,
            Crop::Soybean => SOYBEAN_RATE,
        }
    }

    pub(super) fn unknown_stand(&self) -> Assumed {
        let (used, range) = match self.crop {
            Crop::Corn => ("31,000 plants/ac", "28,000 to 34,000 plants/ac"),
            Crop::Soybean => ("100,000 plants/ac", "80,000 to 120,000 plants/ac"),
        };
        Assumed {
            what: "final stand that is wanted".into(),
            used: used.into(),
            range: Some(range.into()),
            instead: "name the stand for this field and hybrid or variety".into(),
            mark: self.stand.mark,
            source: self.stand.source.clone(),
        }
    }
}

/// Germination x survival. The corn figure of the table is the share of all seed sown, at a usual
/// tag; it is scaled by the tag that was read.
pub(super) fn grows(
    case: &Case<'_>,
    germination: Option<Ratio>,
    survival: Option<Ratio>,
    assumed: &mut Vec<Assumed>,
) -> Grows {
    let tag = case.germination;
    if germination.is_none() {
        assumed.push(from_table("germination of the seed", tag, "read the seed tag"));
    }
    if survival.is_none() {
        assumed.push(from_table(
            "share of seed that becomes plants",
            case.survival,
            "count stands and compare with the seed sown",
        ));
    }
    let of_all_seed = case.crop == Crop::Corn;
    let product = |g: f64, s: f64| {
        let share = match survival {
            Some(given) => g * given.si(),
            None if of_all_seed => s * g / tag.value,
            None => g * s,
        };
        share.clamp(LEAST_GROWTH, 1.0)
    };
    let g = |table: f64| germination.map_or(table, Measured::si);
    // For corn without a tag the published share already holds the germination.
    let unsure = germination.is_none() && !(of_all_seed && survival.is_none());
    let (low, high) = if unsure { (g(tag.low), g(tag.high)) } else { (g(tag.value), g(tag.value)) };
    Grows {
        low: product(low, case.survival.low),
        likely: product(g(tag.value), case.survival.value),
        high: product(high, case.survival.high),
    }
}

fn from_table(what: &'static str, k: &Coefficient, instead: &'static str) -> Assumed {
    let percent = |x: f64| (x * 100.0).round();
    Assumed {
        what: what.into(),
        used: format!("{} %", percent(k.value)).into(),
        range: Some(format!("{} to {} %", percent(k.low), percent(k.high)).into()),
        instead: instead.into(),
        mark: k.mark,
        source: k.source.clone(),
    }
}

/// Below a hundredth of the seed growing, no rate is sensible.
const LEAST_GROWTH: f64 = 0.01;

const CORN_RATE: Reason = Reason::fixed(
    "corn planted early: about 10 % more seed than plants wanted; late, 3 to 5 %",
    Mark::Read,
    sources::OHIO_SURVIVAL,
);
const SOYBEAN_RATE: Reason = Reason::fixed(
    "soybean: stand wanted, divided by germination and by the share that survives (about 85 %)",
    Mark::Read,
    sources::NEBRASKA_SEEDING,
);
