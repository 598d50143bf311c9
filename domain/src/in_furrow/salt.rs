//! N + K2O of a starter against the limit of corn.

use serde::{Deserialize, Serialize};

use super::advice::{InFurrowVerdict, Judged, Rates};
use super::flow::{of, read};
use super::heed;
use super::nutrients::{Analysis, NutrientContent, content_step, most_step, salt_step};
use super::plan::InFurrowPlan;
use super::salt_limit::{PublishedLimit, SaltSoil, by_exchange, other_limits, salt_limit};
use super::say::{gallons, pounds};
use super::stops::Stop;
use crate::conditions::Conditions;
use crate::provenance::{Assumed, Coefficients, Mark, Reason, Step, Text, sources};
use crate::quantity::{ArealMassDensity, Length, MassDensity, Measured, VolumePerArea, bounds};

/// N + K2O of a starter against what corn bears.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SaltBalance {
    /// The most N + K2O on an area.
    pub limit: ArealMassDensity,
    /// The most product on an area.
    pub most: VolumePerArea,
    /// N + K2O at the rate that was wanted.
    pub wanted: Option<ArealMassDensity>,
    /// N + K2O at the rate to set.
    pub set: ArealMassDensity,
    /// What other sources print.
    pub others: Vec<PublishedLimit>,
}

/// The limit that holds here, with its reasons and steps.
struct Limit {
    salt: ArealMassDensity,
    because: Vec<Reason>,
    steps: Vec<Step>,
}

/// Judges a starter for corn; stops were looked at before.
pub(super) fn judge(
    plan: &InFurrowPlan,
    (analysis, density): (Analysis, MassDensity),
    field: &Conditions,
    row_width: Length,
    k: &Coefficients,
) -> Judged {
    let content = analysis.content(density);
    let soil = field.texture.map_or(SaltSoil::Sandy, SaltSoil::of);
    let Some(limit) = limit(plan, row_width, soil, k) else {
        return Judged::stopped(vec![Stop::NoPublishedLimit]);
    };
    let applied = |rate: &VolumePerArea| rate.si() <= most_applied().si();
    let Some(most) = content.rate_for(limit.salt).filter(applied) else {
        let because = vec![NO_SALT, heed::LABEL_SAYS];
        return Judged { because, ..Judged::by_label(Rates::wanted(plan)) };
    };
    let mut judged = against(plan, &content, &limit, most, k);
    judged.because.extend(limit.because);
    judged.steps.insert(0, content_step(&analysis, density));
    judged.steps.extend(limit.steps);
    judged.steps.push(most_step(&content, limit.salt, most));
    if let Some(rates) = judged.rates {
        judged.steps.push(salt_step(&content, rates.product));
    }
    judged.watch.push(heed::dryness(field.moisture));
    if field.texture.is_none() {
        judged.assumed.push(sandy(k));
    }
    judged
}

const NO_SALT: Reason = Reason::fixed(
    "it carries next to no nitrogen or potash: no limit of salt applies",
    Mark::Derived,
    sources::DEFINITION,
);

/// More liquid than anybody applies.
fn most_applied() -> VolumePerArea {
    of(bounds::APPLICATION_RATE.most, bounds::APPLICATION_RATE.us)
}

/// By rows and texture, and by a soil test where that is stricter.
fn limit(
    plan: &InFurrowPlan,
    row_width: Length,
    soil: SaltSoil,
    k: &Coefficients,
) -> Option<Limit> {
    let by_rows = salt_limit(row_width, soil, k).ok()?;
    let mut found =
        Limit { salt: by_rows.limit, because: vec![by_rows.because], steps: by_rows.steps };
    if let Some((stricter, why)) = by_exchange(plan.exchange_capacity, found.salt, k) {
        found.salt = stricter;
        found.because.insert(0, why);
    }
    Some(found)
}

/// What was wanted against the most that is allowed.
fn against(
    plan: &InFurrowPlan,
    content: &NutrientContent,
    limit: &Limit,
    most: VolumePerArea,
    k: &Coefficients,
) -> Judged {
    let settable = whole_steps(most, k);
    let wanted = Rates::wanted(plan);
    let too_much = wanted.filter(|rates| rates.product.si() > most.si() * (1.0 + 1e-9));
    let (verdict, rates) = match (wanted, too_much) {
        (_, Some(rates)) => (InFurrowVerdict::Lower, rates.with_product(settable)),
        (Some(rates), None) => (InFurrowVerdict::Run, rates),
        (None, None) => (InFurrowVerdict::Run, Rates { liquid: settable, product: settable }),
    };
    let salt = SaltBalance {
        limit: limit.salt,
        most,
        wanted: wanted.map(|rates| content.salt_at(rates.product)),
        set: content.salt_at(rates.product),
        others: other_limits(plan.exchange_capacity, k).to_vec(),
    };
    let because = too_much.map(|rates| exceeds(rates, content, limit)).into_iter().collect();
    let base = Judged::by_label(Some(rates));
    Judged { verdict, salt: Some(salt), because, ..base }
}

fn exceeds(rates: Rates, content: &NutrientContent, limit: &Limit) -> Reason {
    let text = format!(
        "{} would place {} N + K2O beside the seed, more than {}",
        gallons(rates.product),
        pounds(content.salt_at(rates.product)),
        pounds(limit.salt)
    );
    Reason::made(text, Mark::Derived, sources::DEFINITION)
}

impl Rates {
    /// The same mix with so much product in it.
    fn with_product(self, product: VolumePerArea) -> Self {
        let share = product.si() / self.product.si();
        Self { liquid: VolumePerArea::from_si(self.liquid.si() * share), product }
    }
}

/// Down to a rate that can be set; as it is where that would leave nothing.
fn whole_steps(rate: VolumePerArea, k: &Coefficients) -> VolumePerArea {
    let step = k.in_furrow_step.value;
    let gallons = read(rate, "[gal_us]/[acr_us]");
    let whole = (gallons / step + 1e-9).floor() * step;
    if whole > 0.0 { of(whole, "[gal_us]/[acr_us]") } else { rate }
}

/// A texture that nobody told is taken as the one that bears least.
fn sandy(k: &Coefficients) -> Assumed {
    let range = format!(
        "{:.0} to {:.0} lb/ac N + K2O in 30 in rows",
        k.salt_sandy_30.value, k.salt_fine_30.value
    );
    Assumed {
        what: Text::Borrowed("texture, for salt in the furrow"),
        used: Text::Borrowed("sandy, which bears least"),
        range: Some(Text::Owned(range)),
        instead: Text::Borrowed("report the texture"),
        mark: Mark::Assumption,
        source: Text::Borrowed(sources::ASSUMPTION),
    }
}
