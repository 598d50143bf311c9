//! The bar: its height, and whether its ends stay down.

use super::super::finding::Evidence;
use super::super::reading::{PrintDepth, RowReading, WheelFeel};
use super::super::say;
use super::super::scene::{Scene, wheel_feel};
use super::super::set_aside::Apart;
use crate::quantity::{Force, Length, Measured};
use crate::stats::mean;

/// Slope of arms under a bar that runs an inch too high or too low, 380 mm arms: tan(3.8 degrees).
const AN_INCH_OFF: f64 = 0.066_4;

pub(in super::super) fn bar_too_high(scene: &Scene<'_>) -> Option<Evidence> {
    let slope = slope_of_arms(scene).filter(|slope| *slope >= AN_INCH_OFF)?;
    let light = scene.wheels(WheelFeel::SpinFree).agreed();
    Some(
        Evidence::default()
            .pro(format!(
                "the arms slope down to the rear by {}, so the pull lifts the units",
                degrees(slope)
            ))
            .pro_if(light, "the gauge wheels spin free")
            .pro_if(scene.shallow(), "seed lies shallow")
            .con_if(scene.wheels_carry(), "the gauge wheels carry load")
            .con_if(scene.on_target(), "seed lies at depth"),
    )
}

pub(in super::super) fn bar_too_low(scene: &Scene<'_>) -> Option<Evidence> {
    let slope = slope_of_arms(scene).filter(|slope| *slope <= -AN_INCH_OFF)?;
    let locked = scene.wheels(WheelFeel::Locked);
    let deep = scene.prints(PrintDepth::Deep);
    if !(locked.agreed() || deep.agreed()) {
        return None;
    }
    Some(
        Evidence::default()
            .pro(format!(
                "the arms slope up to the rear by {}, so the pull presses the units down",
                degrees(-slope)
            ))
            .pro_if(
                locked.agreed(),
                format!("the gauge wheels cannot be turned {}", locked.words()),
            )
            .pro_if(deep.agreed(), "the wheels leave a deep print")
            .con_if(scene.shallow(), "seed lies shallow")
            .con_if(locked.of > 0 && !locked.any(), "the gauge wheels can be turned"),
    )
}

/// Positive where the arms slope down to the rear.
fn slope_of_arms(scene: &Scene<'_>) -> Option<f64> {
    let arms = scene.case.planter.unit.arms;
    match (arms.angle, arms.bar_too_high) {
        (Some(angle), _) => Some(angle.si().tan()),
        (None, Some(high)) => Some(high.si() / arms.length.map_or(0.380, Measured::si)),
        (None, None) => None,
    }
}

fn degrees(slope: f64) -> String {
    format!("{:.1} degrees", slope.atan().to_degrees())
}

/// Ends that lift take load off the outer rows. Depth, wheels, print and logged load each show it; of
/// the two that are felt and seen one alone is misread too easily.
pub(in super::super) fn frame_lifts(scene: &Scene<'_>) -> Option<Evidence> {
    let shallower = scene.aside(Apart::Outer).first().map(|aside| aside.difference);
    let logged = Logged::of(scene);
    let wheels =
        Lighter::outside(scene, |r| wheel_feel(r).map(of_wheels)).filter(|_| logged.is_none());
    let prints = Lighter::outside(scene, |r| r.print.map(of_print));
    let free = scene.of_outer(|r| wheel_feel(r).map(|w| w == WheelFeel::SpinFree));
    let stopped = shallower.is_some() && free == Some(false) && wheels.is_none();
    let low = scene.case.window.low;
    let by_log = logged.as_ref().is_some_and(|l| l.outer < low && low <= l.others);

    let mut evidence = Evidence::default();
    if let Some(by) = shallower {
        let by = say::inches(Length::from_si(by.si().abs()));
        evidence = evidence.pro(format!("the outer rows lie {by} shallower than the others"));
    }
    if let Some(logged) = &logged {
        evidence =
            evidence.pro_if(by_log, logged.words()).con_if(logged.outer >= low, logged.words());
    }
    if let Some(wheels) = &wheels {
        let with_effort =
            "the gauge wheels turn with effort on the outer rows only, the others cannot be turned";
        evidence = evidence.pro(wheels.words("the gauge wheels spin free", with_effort));
        evidence = wheels.against(evidence, "the gauge wheels spin free");
    }
    if let Some(prints) = &prints {
        let light = "the print is light on the outer rows only, and deep on the others";
        evidence = evidence.pro(prints.words("the wheels leave no print", light));
        evidence = prints.against(evidence, "the wheels leave no print");
    }
    let evidence = evidence
        .con_if(stopped, "the gauge wheels of the outer rows carry load: they reach their stop")
        .con_if(
            free == Some(true) && as_deep_outside(scene),
            "seed lies as deep on the outer rows as on the others",
        );
    let sure = shallower.is_some() || by_log || evidence.pro.len() >= 2;
    (sure && evidence.pro.len() > evidence.con.len()).then_some(evidence)
}

/// Mean of the logged loads on the outer rows and on the others.
struct Logged {
    outer: Force,
    others: Force,
}

impl Logged {
    fn of(scene: &Scene<'_>) -> Option<Self> {
        let of = |outer: bool| {
            let rows = scene.dig.rows().iter().filter(|r| r.outer == outer);
            let loads: Vec<f64> = rows.filter_map(|r| Some(r.logged_load?.mean.si())).collect();
            mean(&loads).map(Force::from_si)
        };
        Some(Self { outer: of(true)?, others: of(false)? })
    }

    fn words(&self) -> String {
        let (outer, others) = (say::pounds(self.outer), say::pounds(self.others));
        format!("the logged load is {outer} on the outer rows and {others} on the others")
    }
}

/// A sign by which the outer rows carry less than most of the others.
struct Lighter {
    /// They carry nothing; else they carry something, and all others too much.
    nothing: bool,
    /// Other rows that show the same.
    alike: Vec<u16>,
}

impl Lighter {
    /// Compares a sign, from 0 for a wheel that carries nothing to 2 for one that carries too much.
    fn outside(scene: &Scene<'_>, step: impl Fn(&RowReading) -> Option<u8>) -> Option<Self> {
        let (mut own, mut others) = (Vec::new(), Vec::new());
        for row in scene.dig.rows() {
            let Some(step) = step(row) else { continue };
            if row.outer { own.push(step) } else { others.push((row.row, step)) }
        }
        let heavier = |own: u8| others.iter().filter(|(_, other)| *other > own).count();
        let lighter = |own: u8| match own {
            0 => heavier(own) * 2 > others.len(),
            _ => heavier(own) == others.len(),
        };
        let light: Vec<u8> = own.iter().copied().filter(|own| lighter(*own)).collect();
        let step = *light.iter().max()?;
        let alike =
            others.iter().filter(|(_, other)| *other <= step).map(|(row, _)| *row).collect();
        (others.len() >= 2 && light.len() * 2 > own.len())
            .then_some(Self { nothing: step == 0, alike })
    }

    fn words(&self, nothing: &str, something: &str) -> String {
        match (self.nothing, self.alike.is_empty()) {
            (true, true) => format!("only on the outer rows {nothing}"),
            (true, false) => format!("on the outer rows {nothing}, on most others not"),
            (false, _) => something.to_owned(),
        }
    }

    fn against(&self, evidence: Evidence, sign: &str) -> Evidence {
        let rows = say::rows(&self.alike);
        evidence.con_if(!self.alike.is_empty(), format!("{sign} on {rows} as well"))
    }
}

fn of_wheels(feel: WheelFeel) -> u8 {
    match feel {
        WheelFeel::SpinFree => 0,
        WheelFeel::TurnWithEffort => 1,
        WheelFeel::Locked => 2,
    }
}

fn of_print(print: PrintDepth) -> u8 {
    match print {
        PrintDepth::None => 0,
        PrintDepth::Light => 1,
        PrintDepth::Deep => 2,
    }
}

fn as_deep_outside(scene: &Scene<'_>) -> bool {
    let mean_of = |outer: bool| {
        let rows = scene.depth()?.rows.iter();
        let is = |row: u16| scene.dig.rows().iter().any(|r| r.row == row && r.outer == outer);
        let means: Vec<f64> = rows.filter(|r| is(r.row)).map(|r| r.mean.si()).collect();
        mean(&means)
    };
    mean_of(true).zip(mean_of(false)).is_some_and(|(outer, others)| outer >= others)
}
