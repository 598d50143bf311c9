//! The cover crop itself: nitrogen, the day of its end, and what lives in it.

use serde::{Deserialize, Serialize};

use super::say::dry_matter;
use crate::conditions::{
    BridgeRisk, Conditions, CoverCrop, Crop, MassRange, NitrogenCredit, Termination,
    TerminationVerdict, TieUp, cover_nitrogen, green_bridge, kill_gap, termination,
};
use crate::provenance::{Advice, Coefficients, Mark, Reason, Step, sources};
use crate::quantity::{ArealMassDensity, Measured, bounds, unit};
use crate::stats::Range;

/// What to know about the cover crop of a field. Masses in kg/m2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CoverAdvice {
    /// Dry matter.
    pub dry_matter: MassRange,
    /// Carbon to nitrogen.
    pub carbon_to_nitrogen: Range,
    /// Nitrogen in the tops.
    pub nitrogen_in_tops: MassRange,
    /// What of it comes free in the first year, by source.
    pub nitrogen_available: Vec<NitrogenCredit>,
    /// Whether microbes take nitrogen from the soil for a while.
    pub tie_up: TieUp,
    /// Nitrogen to place with the planter, where it makes up for what is tied up.
    pub starter: Option<Starter>,
    /// The last day for ending the cover.
    pub termination: Termination,
    /// Days from the end of the cover to planting; negative when it is ended after planting.
    pub days_from_end_to_planting: Option<i64>,
    /// How likely pests are to move from the cover to the crop.
    pub green_bridge: BridgeRisk,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// Nitrogen beside the row at planting, in kg/m2: part of the crop's nitrogen, not on top of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Starter {
    /// Least.
    pub low: ArealMassDensity,
    /// Most.
    pub high: ArealMassDensity,
}

/// What to know about the cover crop of a field; `None` without one.
pub fn cover(c: &Conditions, k: &Coefficients) -> Option<Advice<CoverAdvice>> {
    let crop = c.cover.as_ref()?;
    let nitrogen = cover_nitrogen(crop, k);
    let bridge = green_bridge(c, k);
    let termination = termination(c, None);
    let starter = starter(c.crop, crop, nitrogen.tie_up, k);
    let mut because =
        vec![tie_up_reason(nitrogen.tie_up, nitrogen.carbon_to_nitrogen, &nitrogen.dry_matter, k)];
    if starter.is_some() {
        because.push(starter_reason(k));
    }
    because.push(termination.rule.clone());
    let mut watch = Vec::new();
    if termination.verdict == TerminationVerdict::Late {
        watch.push(late(&termination));
    }
    if starter.is_some() {
        watch.extend([NOT_IN_FURROW, BROADCAST_TIED_UP, OTHER_RATES]);
    }
    watch.extend(kill_gap(c, k));
    watch.extend(bridge.causes);
    watch.extend(nitrogen.watch);
    watch.extend(termination.watch.iter().cloned());
    let choice = CoverAdvice {
        dry_matter: nitrogen.dry_matter,
        carbon_to_nitrogen: nitrogen.carbon_to_nitrogen,
        nitrogen_in_tops: nitrogen.in_tops,
        nitrogen_available: nitrogen.available,
        tie_up: nitrogen.tie_up,
        starter,
        termination,
        days_from_end_to_planting: c.days_from_end_to_planting(),
        green_bridge: bridge.risk,
        steps: nitrogen.steps,
    };
    Some(Advice { choice, because, watch, assumed: nitrogen.assumed })
}

/// Corn after a grass cover that may tie up nitrogen. Soybean fixes its own.
fn starter(crop: Crop, cover: &CoverCrop, tie_up: TieUp, k: &Coefficients) -> Option<Starter> {
    let wanted = crop == Crop::Corn && cover.species.is_grass() && tie_up > TieUp::Unlikely;
    let rate = |pounds: f64| {
        let to_si = unit(bounds::NITROGEN_RATE.us).map_or(0.0, |unit| unit.to_si(pounds));
        ArealMassDensity::from_si(to_si)
    };
    let range = &k.starter_nitrogen;
    wanted.then(|| Starter { low: rate(range.low), high: rate(range.high) })
}

fn tie_up_reason(tie_up: TieUp, cn: Range, mass: &MassRange, k: &Coefficients) -> Reason {
    let balance = &k.cn_balance;
    let cover = format!(
        "C:N of the cover about {:.0} ({:.0} to {:.0}) at {}",
        cn.likely,
        cn.low,
        cn.high,
        dry_matter(mass.likely)
    );
    let text = match tie_up {
        TieUp::Likely => format!(
            "{cover}: above {:.0} and heavy, it ties up nitrogen for some weeks",
            balance.value
        ),
        TieUp::Possible => format!("{cover}: it may tie up nitrogen for some weeks"),
        TieUp::Unlikely => format!("{cover}: it hardly ties up nitrogen"),
    };
    let source = format!(
        "{}; how much dry matter counts as heavy is this project's own choice",
        balance.source
    );
    Reason::made(text, balance.mark.max(k.tie_up_mass.mark), source)
}

fn starter_reason(k: &Coefficients) -> Reason {
    let rate = &k.starter_nitrogen;
    let text = format!(
        "corn after a grass cover: {:.0} to {:.0} lb/ac (56 to 78 kg/ha) of nitrogen with the planter, beside the row",
        rate.low, rate.high
    );
    Reason::made(text, rate.mark, rate.source.clone())
}

fn late(termination: &Termination) -> Reason {
    let latest = termination.latest.map(|day| day.to_string()).unwrap_or_default();
    Reason::made(
        format!(
            "the end of the cover lies after {latest}, the last day of the guidance: ask the agent first"
        ),
        termination.rule.mark,
        termination.rule.source.clone(),
    )
}

const NOT_IN_FURROW: Reason = Reason::fixed(
    "that much nitrogen never goes into the furrow: it burns the seed; beside the row, and as the label says",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const BROADCAST_TIED_UP: Reason = Reason::fixed(
    "nitrogen that is broadcast on the cover, as 35 lb/ac with the pre-emergence spray, is more likely tied up",
    Mark::Read,
    sources::IOWA_GUIDE_SHEET,
);
const OTHER_RATES: Reason = Reason::fixed(
    "other states name 30 to 50 lb/ac in or near the row; it is part of the crop's nitrogen, not on top of it",
    Mark::FromMemory,
    "several state extensions (from memory, source to confirm)",
);
