//! Residue on the ground: its mass, and the ground it covers.

use super::cover::pound_per_acre;
use super::report::{Conditions, PreviousCrop};
use crate::provenance::{Assumed, Coefficient, Coefficients, Input, Mark, Step, sources};
use crate::quantity::{ArealMassDensity, Measured, Ratio};
use crate::stats::Range;

/// Cover is never taken as complete: some soil always shows.
pub(super) const MOST_COVER: f64 = 0.999;
/// Cover by residue when nobody told the previous crop.
const UNKNOWN_RESIDUE: (f64, f64, f64) = (0.0, 0.5, MOST_COVER);
/// Cover by what other crops leave.
const OTHER_RESIDUE: (f64, f64, f64) = (0.0, 0.2, 0.6);

/// Ground covered by dead residue, as a share, with how it came about.
#[derive(Debug, Clone, PartialEq)]
pub struct ResidueCover {
    /// Least that is likely.
    pub low: f64,
    /// The figure to work with.
    pub likely: f64,
    /// Most that is likely.
    pub high: f64,
    /// What nobody observed.
    pub assumed: Vec<Assumed>,
    /// The calculation.
    pub steps: Vec<Step>,
}

/// Why a line transect gives no cover.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum TransectError {
    /// No marks were looked at.
    #[error("a transect needs at least one mark")]
    NoMarks,
    /// More hits than marks.
    #[error("{hits} hits are more than {marks} marks")]
    MoreHitsThanMarks {
        /// Marks over residue.
        hits: u32,
        /// Marks on the line.
        marks: u32,
    },
}

/// Ground covered by evenly strewn pieces: 1 - exp(-cf M), M in kg/m2, cf in m2/kg.
///
/// Gregory 1982. Never falls with the mass; at most 99.9 %.
pub fn cover_from_mass(mass: ArealMassDensity, cover_factor: f64) -> Ratio {
    Ratio::from_si(covered(mass.si(), cover_factor))
}

/// Ground covered by several layers: 1 - (1 - c1)(1 - c2)...
pub fn layered_cover(layers: &[Ratio]) -> Ratio {
    let bare = layers.iter().map(|c| 1.0 - c.si().clamp(0.0, 1.0)).product::<f64>();
    Ratio::from_si(1.0 - bare)
}

/// Cover by line transect: hits / marks.
///
/// # Errors
/// Without marks, or with more hits than marks.
pub fn transect_cover(hits: u32, marks: u32) -> Result<Ratio, TransectError> {
    if marks == 0 {
        return Err(TransectError::NoMarks);
    }
    if hits > marks {
        return Err(TransectError::MoreHitsThanMarks { hits, marks });
    }
    Ok(Ratio::from_si(f64::from(hits) / f64::from(marks)))
}

/// Residue left by a crop: yield x residue per bushel, low to high, in mass per area.
///
/// `None` for crops whose residue per bushel is not in the table.
pub fn residue_mass(
    crop: PreviousCrop,
    bushels_per_acre: f64,
    k: &Coefficients,
) -> Option<(ArealMassDensity, ArealMassDensity, ArealMassDensity)> {
    let kind = ResidueKind::of(crop, k)?;
    let mass = |per_bushel: f64| {
        ArealMassDensity::from_si(per_bushel * bushels_per_acre.max(0.0) * pound_per_acre())
    };
    let per = kind.per_bushel;
    Some((mass(per.low), mass(per.value), mass(per.high)))
}

/// Ground covered by dead residue: measured cover wins, else from the previous crop and its yield.
pub fn residue_cover(c: &Conditions, k: &Coefficients) -> ResidueCover {
    if let Some(measured) = c.residue_cover {
        let share = measured.si().clamp(0.0, 1.0);
        let step = measured_step(share);
        return built(Range::exact(share), Vec::new(), vec![step]);
    }
    match c.previous_crop {
        None => built(Range::from(UNKNOWN_RESIDUE), vec![unknown_crop()], Vec::new()),
        Some(crop) => from_crop(crop, c.previous_yield_bu_ac, k),
    }
}

/// What the table knows about the residue of one crop.
struct ResidueKind<'k> {
    per_bushel: &'k Coefficient,
    cover_factor: &'k Coefficient,
    /// Yield in bushels per acre when nobody gave it: low, likely, high.
    usual_yield: (f64, f64, f64),
    usual_words: &'static str,
    usual_range: &'static str,
}

impl<'k> ResidueKind<'k> {
    const fn of(crop: PreviousCrop, k: &'k Coefficients) -> Option<Self> {
        match crop {
            PreviousCrop::Corn => Some(Self {
                per_bushel: &k.corn_residue_per_bushel,
                cover_factor: &k.cover_factor_corn,
                usual_yield: (120.0, 180.0, 250.0),
                usual_words: "180 bu/ac of corn",
                usual_range: "120 to 250 bu/ac",
            }),
            PreviousCrop::Soybean => Some(Self {
                per_bushel: &k.soybean_residue_per_bushel,
                cover_factor: &k.cover_factor_soybean,
                usual_yield: (30.0, 50.0, 75.0),
                usual_words: "50 bu/ac of soybean",
                usual_range: "30 to 75 bu/ac",
            }),
            PreviousCrop::Wheat => Some(Self {
                per_bushel: &k.wheat_residue_per_bushel,
                cover_factor: &k.cover_factor_small_grain,
                usual_yield: (40.0, 70.0, 100.0),
                usual_words: "70 bu/ac of wheat",
                usual_range: "40 to 100 bu/ac",
            }),
            PreviousCrop::Other => None,
        }
    }
}

fn from_crop(crop: PreviousCrop, bushels: Option<f64>, k: &Coefficients) -> ResidueCover {
    let Some(kind) = ResidueKind::of(crop, k) else {
        return built(Range::from(OTHER_RESIDUE), vec![other_crop()], Vec::new());
    };
    let yields =
        bushels.map_or_else(|| Range::from(kind.usual_yield), |b| Range::exact(b.max(0.0)));
    let (per, cf) = (kind.per_bushel, kind.cover_factor);
    let to_si = pound_per_acre();
    let mass = Range {
        low: per.low * yields.low * to_si,
        likely: per.value * yields.likely * to_si,
        high: per.high * yields.high * to_si,
    };
    let cover = Range {
        low: covered(mass.low, cf.low),
        likely: covered(mass.likely, cf.value),
        high: covered(mass.high, cf.high),
    };
    let mut assumed = Vec::new();
    if bushels.is_none() {
        assumed.push(unknown_yield(&kind));
    }
    let steps = vec![mass_step(per, yields.likely, &mass), cover_step(cf, mass.likely, &cover)];
    built(cover, assumed, steps)
}

const fn built(cover: Range, assumed: Vec<Assumed>, steps: Vec<Step>) -> ResidueCover {
    ResidueCover { low: cover.low, likely: cover.likely, high: cover.high, assumed, steps }
}

/// Share of the ground under evenly strewn pieces, mass in kg/m2.
pub(super) fn covered(mass_kg_m2: f64, cover_factor: f64) -> f64 {
    let bare = (-cover_factor.max(0.0) * mass_kg_m2.max(0.0)).exp();
    (1.0 - bare).min(MOST_COVER)
}

fn measured_step(share: f64) -> Step {
    Step {
        step: "ground covered by residue".into(),
        formula: "as measured".into(),
        inputs: Vec::new(),
        value: share,
        unit: "1".into(),
        low: None,
        high: None,
        source: sources::MEASURED_HERE.into(),
        mark: Mark::Measured,
    }
}

fn mass_step(per: &Coefficient, yield_bu_ac: f64, mass: &Range) -> Step {
    let shown = mass.map(|m| m / pound_per_acre());
    Step {
        step: "residue left by the previous crop".into(),
        formula: "m Y".into(),
        inputs: vec![
            Input::new(per.symbol, per.value, per.unit),
            Input::new("Y", yield_bu_ac, "[bu_us]/[acr_us]"),
        ],
        value: shown.likely,
        unit: "[lb_av]/[acr_us]".into(),
        low: Some(shown.low),
        high: Some(shown.high),
        source: per.source.clone(),
        mark: per.mark,
    }
}

fn cover_step(cf: &Coefficient, mass_kg_m2: f64, cover: &Range) -> Step {
    Step {
        step: "ground covered by residue".into(),
        formula: if cover.likely < MOST_COVER {
            "1 - exp(-cf M)"
        } else {
            "1 - exp(-cf M), at most 0.999"
        }
        .into(),
        inputs: vec![
            Input::new(cf.symbol, cf.value, cf.unit),
            Input::new("M", mass_kg_m2, "kg/m2"),
        ],
        value: cover.likely,
        unit: "1".into(),
        low: Some(cover.low),
        high: Some(cover.high),
        source: cf.source.clone(),
        mark: cf.mark,
    }
}

fn unknown_crop() -> Assumed {
    Assumed {
        what: "residue on the ground".into(),
        used: "half the ground".into(),
        range: Some("none to all".into()),
        instead: "name the previous crop and its yield, or count a line transect".into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    }
}

fn other_crop() -> Assumed {
    Assumed {
        what: "residue of a crop that is not in the table".into(),
        used: "20 % of the ground".into(),
        range: Some("none to 60 %".into()),
        instead: "count a line transect".into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    }
}

fn unknown_yield(kind: &ResidueKind<'_>) -> Assumed {
    Assumed {
        what: "yield of the previous crop".into(),
        used: kind.usual_words.into(),
        range: Some(kind.usual_range.into()),
        instead: "give the yield, or count a line transect".into(),
        mark: Mark::Assumption,
        source: sources::ASSUMPTION.into(),
    }
}
