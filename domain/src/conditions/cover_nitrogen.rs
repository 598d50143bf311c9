//! Nitrogen of a cover crop: C:N, what is in the tops, what comes free, what is tied up.

use serde::{Deserialize, Serialize};

use super::carbon_to_nitrogen::{carbon_to_nitrogen, grass_share, is_mix};
use super::cover::{biomass, pound_per_acre, pounds_per_acre};
use super::cover_crop::{CoverCrop, CoverStage};
use crate::provenance::{
    Assumed, Coefficient, Coefficients, Input, Mark, Reason, Step, Text, sources,
};
use crate::quantity::{ArealMassDensity, Measured};
use crate::stats::Range;

/// The nitrogen of a cover crop. Masses in kg/m2.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CoverNitrogen {
    /// Dry matter.
    pub dry_matter: MassRange,
    /// Carbon to nitrogen.
    pub carbon_to_nitrogen: Range,
    /// Nitrogen in the tops.
    pub in_tops: MassRange,
    /// What of it comes free in the first year, by source.
    pub available: Vec<NitrogenCredit>,
    /// Whether microbes take nitrogen from the soil for a while.
    pub tie_up: TieUp,
    /// What to keep in mind.
    pub watch: Vec<Reason>,
    /// What nobody measured.
    pub assumed: Vec<Assumed>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// A mass on an area: low, likely, high.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct MassRange {
    /// Low end.
    pub low: ArealMassDensity,
    /// The figure to work with.
    pub likely: ArealMassDensity,
    /// High end.
    pub high: ArealMassDensity,
}

/// Nitrogen that comes free in the first year, by one source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NitrogenCredit {
    /// Whether the tops are worked into the soil rather than left on it.
    pub tilled: bool,
    /// Share of the nitrogen in the tops, 0 to 1.
    pub share: f64,
    /// The nitrogen, from the likely figure.
    pub nitrogen: ArealMassDensity,
    /// Where the share holds, and who says so.
    pub source: Text,
}

/// Whether a cover ties up nitrogen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TieUp {
    /// C:N or dry matter stay below their limits, also at their high ends.
    Unlikely,
    /// At the high ends of C:N and dry matter.
    Possible,
    /// By the likely figures.
    Likely,
}

/// Published shares of legume nitrogen that come free in the first year.
const CREDITS: &[(bool, f64, &str)] = &[
    (true, 0.5, "North Carolina, worked in: Cover-crop biomass and N worksheet, n.d."),
    (false, 0.4, "North Carolina, left on the surface: Cover-crop biomass and N worksheet, n.d."),
    (
        true,
        1.0 / 3.0,
        "North Dakota, worked in: extension note, as reported in the farm press, n.d.",
    ),
    (false, 0.2, "North Dakota, no-till: extension note, as reported in the farm press, n.d."),
    (true, 0.5, "worked in: Cover Crops, Unit 1.6, teaching manual, n.d."),
    (false, 0.5, "left on the surface, warm climate: Cover Crops, Unit 1.6, teaching manual, n.d."),
    (
        false,
        0.25,
        "left on the surface, cool climate: Cover Crops, Unit 1.6, teaching manual, n.d.",
    ),
];

/// What a cover holds and what it does with nitrogen.
///
/// C:N by species and stage: legumes 11; grasses 26 before their stems grow and 37 in flower
/// (USDA-NRCS), in equal steps between (this project's own choice); a mix by the nitrogen of its
/// parts. A laboratory's figure goes before all of it.
pub fn cover_nitrogen(cover: &CoverCrop, k: &Coefficients) -> CoverNitrogen {
    let mass = biomass(cover, k);
    let (cn, cn_step) = carbon_to_nitrogen(cover, k);
    let (share, share_source, share_mark) = tops_share(cover, k);
    let pounds = Range::new(
        pounds_per_acre(mass.low),
        pounds_per_acre(mass.likely),
        pounds_per_acre(mass.high),
    );
    let nitrogen =
        Range::new(pounds.low * share.low, pounds.likely * share.likely, pounds.high * share.high);
    let tie_up = tie_up(cn, pounds, k);
    let in_tops = to_mass(nitrogen);
    let mut steps = mass.steps;
    steps.push(cn_step);
    steps.push(nitrogen_step(pounds, share, nitrogen, share_source, share_mark));
    let mut assumed = mass.assumed;
    assumed.extend(stage_assumed(cover));
    let mut watch = mass.watch;
    watch.extend(notes(cover, tie_up));
    CoverNitrogen {
        dry_matter: MassRange { low: mass.low, likely: mass.likely, high: mass.high },
        carbon_to_nitrogen: cn,
        available: credits(in_tops.likely),
        in_tops,
        tie_up,
        watch,
        assumed,
        steps,
    }
}

fn to_mass(pounds: Range) -> MassRange {
    let mass = |x: f64| ArealMassDensity::from_si(x * pound_per_acre());
    MassRange { low: mass(pounds.low), likely: mass(pounds.likely), high: mass(pounds.high) }
}

/// The credit of each source for so much nitrogen in the tops.
pub fn credits(in_tops: ArealMassDensity) -> Vec<NitrogenCredit> {
    let credit = |(tilled, share, source): &(bool, f64, &'static str)| NitrogenCredit {
        tilled: *tilled,
        share: *share,
        nitrogen: in_tops * *share,
        source: Text::Borrowed(*source),
    };
    CREDITS.iter().map(credit).collect()
}

/// Likely when the likely figures pass both limits, possible when only the high ends do.
fn tie_up(cn: Range, pounds: Range, k: &Coefficients) -> TieUp {
    let (balance, heavy) = (k.cn_balance.value, k.tie_up_mass.value);
    if cn.likely > balance && pounds.likely > heavy {
        TieUp::Likely
    } else if cn.high > balance && pounds.high > heavy {
        TieUp::Possible
    } else {
        TieUp::Unlikely
    }
}

/// Nitrogen in the dry tops as a share: the laboratory's, else the table's.
fn tops_share(cover: &CoverCrop, k: &Coefficients) -> (Range, Text, Mark) {
    if let Some(nitrogen) = cover.nitrogen {
        let source = Text::Borrowed(sources::MEASURED_HERE);
        return (Range::exact(nitrogen.si()), source, Mark::Measured);
    }
    let grass = by_stage(cover.stage, &k.tops_n_grass_young, &k.tops_n_grass_flowering);
    let legume = by_stage(cover.stage, &k.tops_n_legume_young, &k.tops_n_legume_flowering);
    let share = grass_share(cover.species, k);
    let mix = |w: f64, grass: f64, legume: f64| w * grass + (1.0 - w) * legume;
    let found = Range::new(
        mix(share.high, grass.low, legume.low),
        mix(share.likely, grass.likely, legume.likely),
        mix(share.low, grass.high, legume.high),
    );
    let table = &k.tops_n_grass_young;
    let mark = if is_mix(cover.species) { Mark::Assumption } else { table.mark };
    (found, table.source.clone(), mark)
}

/// Before flowering, in flower, or the span of both when nobody told the stage.
fn by_stage(stage: Option<CoverStage>, young: &Coefficient, ripe: &Coefficient) -> Range {
    match stage {
        Some(CoverStage::Flowering | CoverStage::Milk) => Range::of(ripe),
        Some(_) => Range::of(young),
        None => Range::new(ripe.low, f64::midpoint(young.value, ripe.value), young.high),
    }
}

fn nitrogen_step(mass: Range, share: Range, nitrogen: Range, source: Text, mark: Mark) -> Step {
    Step {
        step: "nitrogen in the tops of the cover".into(),
        formula: "B N".into(),
        inputs: vec![
            Input::new("B", mass.likely, "[lb_av]/[acr_us]"),
            Input::new("N", share.likely, "1"),
        ],
        value: nitrogen.likely,
        unit: "[lb_av]/[acr_us]".into(),
        low: Some(nitrogen.low),
        high: Some(nitrogen.high),
        source,
        mark,
    }
}

fn stage_assumed(cover: &CoverCrop) -> Option<Assumed> {
    (cover.stage.is_none() && cover.nitrogen.is_none()).then(|| Assumed {
        what: "stage of the cover crop".into(),
        used: "midway from tillering to flower".into(),
        range: Some("tillering to flower".into()),
        instead: "feel the stem for nodes, or look for heads and flowers".into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    })
}

fn notes(cover: &CoverCrop, tie_up: TieUp) -> Vec<Reason> {
    let mut notes = Vec::new();
    if tie_up > TieUp::Unlikely {
        notes.push(TIES_UP);
    }
    if cover.stage == Some(CoverStage::Milk) {
        notes.push(PAST_FLOWER);
    }
    if cover.nitrogen.is_none() {
        notes.push(TWO_TABLES);
    }
    if cover.species.is_grass() {
        notes.push(CREDIT_IS_LEGUME);
    }
    notes
}

const TIES_UP: Reason = Reason::fixed(
    "above a C:N of 24 microbes take nitrogen from the soil for a while: the crop may look hungry early",
    Mark::Read,
    sources::NRCS_CN,
);
const PAST_FLOWER: Reason = Reason::fixed(
    "past flower the C:N rises on towards that of straw, about 80: taken as in flower, so it is higher",
    Mark::Read,
    sources::NRCS_CN,
);
const TWO_TABLES: Reason = Reason::fixed(
    "C:N and percent of nitrogen come from two tables that do not quite agree: a laboratory settles it",
    Mark::Read,
    sources::COVER_CROPS_UNIT,
);
const CREDIT_IS_LEGUME: Reason = Reason::fixed(
    "the published shares are for legumes: a grass gives less, and late",
    Mark::Read,
    sources::CAROLINA_WORKSHEET,
);
