//! The soil-state factor: how much harder than moist soil this soil is to enter.
//!
//! What says most about it goes first: a penetrometer reading, the class of a knife or probe, the
//! strength formula where the make-up of the soil is known, else moisture by feel and texture.

use serde::{Deserialize, Serialize};

use crate::conditions::{Conditions, Moisture, StrengthClass, StrengthSoil, TextureGroup};
use crate::provenance::{Assumed, Coefficient, Coefficients, Input, Mark, Step, Text, sources};
use crate::quantity::Measured;
use crate::stats::{Range, Spread};

const PSI: f64 = 6_894.757_293_168;

/// Where the soil-state factor comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SoilFrom {
    /// A reading of the cone penetrometer.
    Penetrometer,
    /// The class of a knife or probe.
    StrengthClass,
    /// The strength formula from clay, organic carbon, bulk density and water.
    StrengthFormula,
    /// Moisture by feel, and texture.
    MoistureAndTexture,
}

impl SoilFrom {
    /// Which observation was used, and why none that says more.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Penetrometer => "a penetrometer reading: it goes before everything else",
            Self::StrengthClass => "the class of a knife or probe: nobody read a penetrometer",
            Self::StrengthFormula => {
                "the strength formula: no penetrometer reading and no knife or probe class, but clay, bulk density and water are known"
            }
            Self::MoistureAndTexture => {
                "moisture by feel and texture: no penetrometer reading, no knife or probe class, and not enough known for the strength formula"
            }
        }
    }
}

/// The soil-state factor with its range, and how it came about.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SoilState {
    /// The factor, 1 in moist soil.
    pub range: Range,
    /// Where it comes from.
    pub from: SoilFrom,
    /// The calculation; the factor is the last step.
    pub steps: Vec<Step>,
    /// What a reading leaves uncertain, as a factor around 1.
    after_reading: Range,
}

impl SoilState {
    /// A factor that somebody gave.
    pub(super) fn given(range: Range) -> Self {
        Self {
            range,
            from: SoilFrom::MoistureAndTexture,
            steps: Vec::new(),
            after_reading: Range::exact(1.0),
        }
    }

    /// What would be left of the spread once somebody reads a penetrometer: the cone reading at
    /// which the factor is 1 is uncertain too. Never more than there is now.
    pub(super) fn measured(&self, now: Spread) -> Spread {
        let around_one = self.after_reading.spread_by_ratio();
        let then = around_one.scaled(now.mean() / around_one.mean());
        if then.sd() < now.sd() { then } else { now }
    }
}

/// The soil-state factor of a field.
pub(super) fn soil_state(
    field: &Conditions,
    moisture: Moisture,
    k: &Coefficients,
    assumed: &mut Vec<Assumed>,
) -> SoilState {
    if let Some(cone) = field.penetration {
        let psi = Range::exact(cone.si() / PSI);
        return from_cone(SoilFrom::Penetrometer, psi, Vec::new(), k);
    }
    if let Some(class) = field.strength_class {
        let psi = Range::of(band(class, k));
        return from_cone(SoilFrom::StrengthClass, psi, Vec::new(), k);
    }
    match formula(field, k, assumed) {
        Some((psi, step)) => from_cone(SoilFrom::StrengthFormula, psi, vec![step], k),
        None => from_moisture(field, moisture, k),
    }
}

/// The cone readings that a class of knife or probe stands for.
fn band(class: StrengthClass, k: &Coefficients) -> &Coefficient {
    match class {
        StrengthClass::Loose => &k.cone_loose,
        StrengthClass::Good => &k.cone_good,
        StrengthClass::Firm => &k.cone_firm,
        StrengthClass::Hard => &k.cone_hard,
    }
}

/// A product of independent uncertain factors: their distances from the likely figure are added as
/// squares of logarithms, because not all of them lie at their ends at once.
fn combined(likely: f64, around_one: &[Range]) -> Range {
    let reach = |end: fn(&Range) -> f64| {
        around_one.iter().map(|r| (end(r) / r.likely).ln().powi(2)).sum::<f64>().sqrt().exp()
    };
    Range::new(likely / reach(|r| r.low), likely, likely * reach(|r| r.high))
}

fn after_reading(k: &Coefficients) -> Range {
    let reference = &k.cone_reference;
    Range::new(reference.value / reference.high, 1.0, reference.value / reference.low)
}

/// `s_m` = `PR` / `PR_0`, held inside what the model covers.
fn from_cone(from: SoilFrom, psi: Range, mut steps: Vec<Step>, k: &Coefficients) -> SoilState {
    let reference = &k.cone_reference;
    let span = &k.soil_state;
    let after_reading = after_reading(k);
    let reading = Range::new(psi.low / psi.likely, 1.0, psi.high / psi.likely);
    let range = if psi.likely > 0.0 {
        combined(psi.likely / reference.value, &[reading, after_reading])
    } else {
        Range::exact(0.0)
    }
    .map(|s| s.clamp(span.low, span.high));
    steps.push(Step {
        step: STEP.into(),
        formula: match from {
            SoilFrom::StrengthClass => {
                "PR / PR_0, PR the middle of the class, within s_least and s_most"
            }
            _ => "PR / PR_0, within s_least and s_most",
        }
        .into(),
        inputs: vec![
            Input::new("PR", psi.likely, "[psi]"),
            Input::new("PR_0", reference.value, "[psi]"),
            Input::new("s_least", span.low, "1"),
            Input::new("s_most", span.high, "1"),
        ],
        value: range.likely,
        unit: "1".into(),
        low: Some(range.low),
        high: Some(range.high),
        source: reference.source.clone(),
        mark: reference.mark,
    });
    SoilState { range, from, steps, after_reading }
}

const STEP: &str = "soil-state factor";

/// The factor by moisture class; fine soil sets hard when it is dry.
fn from_moisture(field: &Conditions, moisture: Moisture, k: &Coefficients) -> SoilState {
    let fine = field.texture.is_some_and(|t| t.group() == TextureGroup::Fine);
    let (low, middle, high) = match moisture {
        Moisture::Wet | Moisture::AtCapacity => (&k.soil_wet, &k.soil_wet, &k.soil_wet),
        Moisture::Moist => (&k.soil_moist, &k.soil_moist, &k.soil_moist),
        Moisture::SlightlyMoist => (&k.soil_moist, &k.soil_slightly_moist, &k.soil_dry),
        Moisture::Dry if fine => (&k.soil_hard_dry, &k.soil_hard_dry, &k.soil_hard_dry),
        Moisture::Dry => (&k.soil_dry, &k.soil_dry, &k.soil_dry),
    };
    let mut range = Range::new(low.low, middle.value, high.high);
    if field.moisture.is_none() {
        // Nobody felt the soil: it may be anything from wet to dry.
        range.low = range.low.min(k.soil_wet.low);
        range.high = range.high.max(k.soil_dry.high);
    }
    let step = Step {
        step: STEP.into(),
        formula: match (moisture, fine) {
            (Moisture::Wet | Moisture::AtCapacity, _) => "s_m of wet soil",
            (Moisture::Moist, _) => "s_m of moist soil",
            (Moisture::SlightlyMoist, _) => "s_m of slightly moist soil",
            (Moisture::Dry, true) => "s_m of dry soil of fine texture, which sets hard",
            (Moisture::Dry, false) => "s_m of dry soil",
        }
        .into(),
        inputs: Vec::new(),
        value: range.likely,
        unit: "1".into(),
        low: Some(range.low),
        high: Some(range.high),
        source: middle.source.clone(),
        mark: middle.mark,
    };
    SoilState {
        range,
        from: SoilFrom::MoistureAndTexture,
        steps: vec![step],
        after_reading: after_reading(k),
    }
}

/// The cone reading by the strength formula in psi, where clay, bulk density and water are known
/// and the soil is one for which the formula holds.
///
/// Water and density beyond the formula are taken at its end, which keeps the order of drier and
/// wetter, looser and denser; clay and organic carbon beyond it are refused.
fn formula(
    field: &Conditions,
    k: &Coefficients,
    assumed: &mut Vec<Assumed>,
) -> Option<(Range, Step)> {
    let make_up = field.soil;
    let (clay, density, water) = (make_up.clay?, make_up.bulk_density?, make_up.water?);
    let usual = Range::of(&k.organic_carbon);
    let carbon = make_up.organic_carbon.map_or(usual, |c| Range::exact(c.si() * 100.0));
    let (held_density, held_water) =
        (StrengthSoil::held_density(density), StrengthSoil::held_water(water.si()));
    let at = |carbon: f64| {
        let soil = StrengthSoil::new(clay.si() * 100.0, carbon, held_density)?;
        soil.resistance(held_water)
    };
    let (likely, step) = match at(carbon.likely) {
        Ok(found) => found,
        Err(outside) => {
            assumed.push(not_used(outside.to_string()));
            return None;
        }
    };
    let end = |carbon: f64| at(carbon).map_or(likely, |(pressure, _)| pressure).si() / PSI;
    if make_up.organic_carbon.is_none() {
        assumed.push(carbon_assumed(&k.organic_carbon));
    }
    if (held_water - water.si()).abs() > 1e-9 || (held_density - density).si().abs() > 1e-6 {
        assumed.push(held(held_water, held_density.si() / 1000.0));
    }
    let likely = likely.si() / PSI;
    let by_carbon = Range::new(end(carbon.low) / likely, 1.0, end(carbon.high) / likely);
    let psi = combined(likely, &[by_carbon, Range::of(&k.strength_formula_error)]);
    let mpa = |psi: f64| psi * PSI / 1e6;
    let step = Step { low: Some(mpa(psi.low)), high: Some(mpa(psi.high)), ..step };
    Some((psi, step))
}

fn not_used(why: String) -> Assumed {
    Assumed {
        what: Text::Borrowed("soil strength"),
        used: Text::Borrowed("moisture by feel and texture, not the strength formula"),
        range: Some(Text::Owned(why)),
        instead: Text::Borrowed("push a cone penetrometer through the top 3 in at ten places"),
        mark: Mark::FromMemory,
        source: Text::Borrowed(sources::DA_SILVA_KAY_1997),
    }
}

fn carbon_assumed(k: &Coefficient) -> Assumed {
    Assumed {
        what: Text::Borrowed("organic carbon of the topsoil"),
        used: Text::Owned(format!("{} %", k.value)),
        range: Some(Text::Owned(format!("{} to {} %", k.low, k.high))),
        instead: Text::Borrowed("read it in a soil test: organic matter divided by 1.72"),
        mark: k.mark,
        source: k.source.clone(),
    }
}

fn held(water: f64, density: f64) -> Assumed {
    Assumed {
        what: Text::Borrowed("water or bulk density beyond the strength formula"),
        used: Text::Owned(format!(
            "{:.0} % water by volume and {density:.2} g/cm3, the ends of where it holds",
            water * 100.0
        )),
        range: None,
        instead: Text::Borrowed("push a cone penetrometer through the top 3 in at ten places"),
        mark: Mark::FromMemory,
        source: Text::Borrowed(sources::DA_SILVA_KAY_1997),
    }
}
