//! Dry matter of a cover crop, from its height and ground cover or from a clip.

use uom::si::length::inch;

use super::cover_crop::{CoverClip, CoverCrop, CoverSpecies};
use crate::provenance::{Assumed, Coefficient, Coefficients, Input, Mark, Reason, Step, sources};
use crate::quantity::{Area, ArealMassDensity, Length, Mass, Measured, bounds, unit};
use crate::stats::Range;

/// Height above which the height rule is weak.
const RULE_IS_WEAK_ABOVE_IN: f64 = 36.0;
/// Height taken when nobody measured: low, likely, high, in inches.
const UNKNOWN_HEIGHT_IN: (f64, f64, f64) = (4.0, 12.0, 36.0);
/// Ground cover taken when nobody looked. The height rule is stated for full cover.
const UNKNOWN_GROUND_COVER: (f64, f64, f64) = (0.5, 1.0, 1.0);

/// Dry matter with its range and how it came about.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverBiomass {
    /// Low end.
    pub low: ArealMassDensity,
    /// The figure to work with.
    pub likely: ArealMassDensity,
    /// High end.
    pub high: ArealMassDensity,
    /// What to keep in mind.
    pub watch: Vec<Reason>,
    /// What nobody measured.
    pub assumed: Vec<Assumed>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// Why a clip sample gives no dry matter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the clipped area must be above 0")]
pub struct NothingClipped;

/// Dry matter from a dried clip sample: dry mass / clipped area.
///
/// # Errors
/// When the area is not above 0.
pub fn biomass_from_clip(dry: Mass, area: Area) -> Result<CoverBiomass, NothingClipped> {
    let density = CoverClip { dry, area }.density().ok_or(NothingClipped)?;
    let step = Step {
        step: "dry matter from the clip".into(),
        formula: "m / A".into(),
        inputs: vec![Input::new("m", dry.si(), "kg"), Input::new("A", area.si(), "m2")],
        value: pounds_per_acre(density),
        unit: "[lb_av]/[acr_us]".into(),
        low: None,
        high: None,
        source: sources::CLIP_METHOD.into(),
        mark: Mark::Measured,
    };
    Ok(CoverBiomass {
        low: density,
        likely: density,
        high: density,
        watch: Vec::new(),
        assumed: Vec::new(),
        steps: vec![step],
    })
}

/// Dry matter by the clip where there is one, else by the height rule, with 40 % to either side.
///
/// At full ground cover, small grains: `B_g` at 8 in and `b_g` more for each further inch;
/// broadleaves: `B_b` at 6 in and `b_b` for each further inch. Below that height in proportion to
/// it. Multiplied by the ground cover. Missing height or ground cover widens the range.
pub fn biomass(cover: &CoverCrop, k: &Coefficients) -> CoverBiomass {
    if let Some(Ok(clipped)) = cover.clip.map(|clip| biomass_from_clip(clip.dry, clip.area)) {
        return clipped;
    }
    let span = rule_span(cover, k);
    let height = span.height;
    let mut watch = Vec::new();
    if height.likely > RULE_IS_WEAK_ABOVE_IN {
        watch.push(Reason::fixed(
            "above 36 in the height rule is weak: clip and dry a frame if the figure matters",
            Mark::Proposal,
            sources::OWN_CHOICE,
        ));
    }
    let density = |x: f64| from_pounds_per_acre(x);
    CoverBiomass {
        low: density(span.mass.low),
        likely: density(span.mass.likely),
        high: density(span.mass.high),
        watch,
        assumed: assumed_of(cover),
        steps: vec![step_of(cover, k, &span)],
    }
}

/// Height in inches, ground cover as a share, dry matter in lb/ac.
pub(super) struct Span {
    pub(super) height: Range,
    pub(super) ground: Range,
    pub(super) mass: Range,
}

/// The clip goes before the rule for the dry matter.
pub(super) fn span_of(cover: &CoverCrop, k: &Coefficients) -> Span {
    let rule = rule_span(cover, k);
    let clipped = cover.clip.and_then(|clip| clip.density()).map(pounds_per_acre);
    Span { mass: clipped.map_or(rule.mass, Range::exact), ..rule }
}

/// By height and ground cover alone.
pub(super) fn rule_span(cover: &CoverCrop, k: &Coefficients) -> Span {
    let height = cover
        .height
        .map_or_else(|| Range::from(UNKNOWN_HEIGHT_IN), |h| Range::exact(h.get::<inch>().max(0.0)));
    let ground = cover.ground_cover.map_or_else(
        || Range::from(UNKNOWN_GROUND_COVER),
        |g| Range::exact(g.si().clamp(0.0, 1.0)),
    );
    let (base_height, base, slope) = rule_of(cover.species, k);
    let rule = |h: f64, at_base: f64, per_inch: f64| {
        if h < base_height {
            at_base * h / base_height
        } else {
            at_base + per_inch * (h - base_height)
        }
    };
    Span {
        height,
        ground,
        mass: Range {
            low: rule(height.low, base.low, slope.low) * ground.low,
            likely: rule(height.likely, base.value, slope.value) * ground.likely,
            high: rule(height.high, base.high, slope.high) * ground.high,
        },
    }
}

const fn rule_of(species: CoverSpecies, k: &Coefficients) -> (f64, &Coefficient, &Coefficient) {
    if species.is_grass() {
        (8.0, &k.grass_cover_base, &k.grass_cover_slope)
    } else {
        (6.0, &k.broadleaf_cover_base, &k.broadleaf_cover_slope)
    }
}

fn step_of(cover: &CoverCrop, k: &Coefficients, span: &Span) -> Step {
    let (base_height, base, slope) = rule_of(cover.species, k);
    let tall = span.height.likely >= base_height;
    let (formula, weaker) =
        if tall { ("g (B + b (h - h_0))", slope) } else { ("g B h / h_0", base) };
    Step {
        step: "dry matter of the cover by its height".into(),
        formula: formula.into(),
        inputs: vec![
            Input::new("g", span.ground.likely, "1"),
            Input::new("B", base.value, "[lb_av]/[acr_us]"),
            Input::new("b", slope.value, "[lb_av]/[acr_us]"),
            Input::new("h", span.height.likely, "[in_i]"),
            Input::new("h_0", base_height, "[in_i]"),
        ],
        value: span.mass.likely,
        unit: "[lb_av]/[acr_us]".into(),
        low: Some(span.mass.low),
        high: Some(span.mass.high),
        source: weaker.source.clone(),
        mark: base.mark.max(weaker.mark),
    }
}

pub(super) fn assumed_of(cover: &CoverCrop) -> Vec<Assumed> {
    let mut assumed = Vec::new();
    if cover.height.is_none() {
        assumed.push(Assumed {
            what: "height of the cover crop".into(),
            used: "12 in".into(),
            range: Some("4 to 36 in".into()),
            instead: "measure the height at three places".into(),
            mark: Mark::Assumption,
            source: sources::ASSUMPTION.into(),
        });
    }
    if cover.ground_cover.is_none() {
        assumed.push(Assumed {
            what: "ground covered by the cover crop".into(),
            used: "100 %".into(),
            range: Some("50 to 100 %".into()),
            instead: "look straight down and judge the share of green".into(),
            mark: Mark::Assumption,
            source: sources::ASSUMPTION.into(),
        });
    }
    assumed
}

/// Ground shaded by live dry matter: B / (B + exp(1.175 - 1.748 B)), B in t/ha.
pub fn green_cover_fraction(biomass: ArealMassDensity) -> f64 {
    green_fraction(biomass.si() * 10.0)
}

/// The same, B in t/ha.
pub(super) fn green_fraction(tonnes_per_hectare: f64) -> f64 {
    let b = tonnes_per_hectare.max(0.0);
    if b > 0.0 { b / (b + (1.175 - 1.748 * b).exp()) } else { 0.0 }
}

/// Height in inches, where somebody measured it.
pub(super) fn height_in(height: Length) -> f64 {
    height.get::<inch>()
}

pub(super) fn pounds_per_acre(density: ArealMassDensity) -> f64 {
    density.si() / pound_per_acre()
}

fn from_pounds_per_acre(x: f64) -> ArealMassDensity {
    ArealMassDensity::from_si(x * pound_per_acre())
}

/// kg/m2 of one pound an acre, from the unit table.
pub(super) fn pound_per_acre() -> f64 {
    unit(bounds::DRY_MATTER.us).map_or(0.0, |u| u.to_si(1.0))
}
