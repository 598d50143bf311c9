//! Carbon to nitrogen of a cover crop, by a laboratory or by species and stage.

use super::cover_crop::{CoverCrop, CoverSpecies, CoverStage};
use crate::provenance::{Coefficients, Input, Mark, Step, Text, sources};
use crate::quantity::Measured;
use crate::stats::Range;

/// Steps from vegetative (0) to flower (1).
const fn ripeness(stage: CoverStage) -> f64 {
    match stage {
        CoverStage::Tillering => 0.0,
        CoverStage::Jointing => 0.25,
        CoverStage::Boot => 0.5,
        CoverStage::Heading => 0.75,
        CoverStage::Flowering | CoverStage::Milk => 1.0,
    }
}

pub(super) fn is_mix(species: CoverSpecies) -> bool {
    matches!(species, CoverSpecies::GrassMix | CoverSpecies::LegumeMix)
}

/// C:N of the grass by its stage; without a stage the whole span, midway.
fn grass_cn(stage: Option<CoverStage>, k: &Coefficients) -> Range {
    let (young, ripe) = (Range::of(&k.cn_grass_vegetative), Range::of(&k.cn_grass_flowering));
    let between = |x: f64| {
        let at = |from: f64, to: f64| from + (to - from) * x;
        Range::new(
            at(young.low, ripe.low),
            at(young.likely, ripe.likely),
            at(young.high, ripe.high),
        )
    };
    stage.map_or_else(
        || Range::new(young.low, f64::midpoint(young.likely, ripe.likely), ripe.high),
        |stage| between(ripeness(stage)),
    )
}

/// C:N of a mix of so much grass, by the nitrogen of its parts, with equal carbon.
fn mixed(grass: f64, grass_cn: f64, legume_cn: f64) -> f64 {
    1.0 / (grass / grass_cn + (1.0 - grass) / legume_cn)
}

pub(super) fn grass_share(species: CoverSpecies, k: &Coefficients) -> Range {
    match species {
        CoverSpecies::GrassMix => Range::of(&k.grass_in_grass_mix),
        CoverSpecies::LegumeMix => Range::of(&k.grass_in_legume_mix),
        species if species.is_grass() => Range::exact(1.0),
        _ => Range::exact(0.0),
    }
}

/// C:N with its range and how it came about.
pub(super) fn carbon_to_nitrogen(cover: &CoverCrop, k: &Coefficients) -> (Range, Step) {
    if let Some(nitrogen) = cover.nitrogen.map(Measured::si).filter(|share| *share > 0.0) {
        let carbon = &k.tops_carbon;
        let cn = Range::of(carbon).scaled(1.0 / nitrogen);
        let inputs = vec![
            Input::new(carbon.symbol, carbon.value, carbon.unit),
            Input::new("N", nitrogen, "1"),
        ];
        return (cn, cn_step("C / N", inputs, cn, carbon.source.clone(), carbon.mark));
    }
    let (grass, legume) = (grass_cn(cover.stage, k), Range::of(&k.cn_legume));
    let share = grass_share(cover.species, k);
    let cn = Range::new(
        mixed(share.low, grass.low, legume.low),
        mixed(share.likely, grass.likely, legume.likely),
        mixed(share.high, grass.high, legume.high),
    );
    let inputs = vec![
        Input::new("w", share.likely, "1"),
        Input::new("CN_grass", grass.likely, "1"),
        Input::new("CN_legume", legume.likely, "1"),
    ];
    let between = cover
        .stage
        .is_none_or(|stage| !matches!(stage, CoverStage::Tillering | CoverStage::Flowering));
    let mark = match cover.species {
        species if is_mix(species) => Mark::Assumption,
        species if species.is_grass() && between => Mark::Proposal,
        _ => Mark::Read,
    };
    let source = Text::Borrowed(sources::NRCS_CN);
    (cn, cn_step("1 / (w / CN_grass + (1 - w) / CN_legume)", inputs, cn, source, mark))
}

fn cn_step(formula: &'static str, inputs: Vec<Input>, cn: Range, source: Text, mark: Mark) -> Step {
    Step {
        step: "carbon to nitrogen of the cover".into(),
        formula: formula.into(),
        inputs,
        value: cn.likely,
        unit: "1".into(),
        low: Some(cn.low),
        high: Some(cn.high),
        source,
        mark,
    }
}
