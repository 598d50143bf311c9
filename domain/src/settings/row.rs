//! One row unit in one field, every figure with its range, ready for the balance.

use super::say::pounds;
use super::soil_state::{SoilState, soil_state};
use super::taught_row::TaughtRow;
use crate::conditions::{Conditions, Moisture, mat_fraction};
use crate::planter::{Cleaner, CoulterMount, Hopper, Planter};
use crate::provenance::{Assumed, Coefficient, Coefficients, Mark, Step, Text, sources};
use crate::quantity::{Force, Length, Measured, Speed};
use crate::stats::Range;

/// The figures of a row, in N, m and plain numbers.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    /// Bare unit.
    pub unit: Range,
    /// Attachments.
    pub attachments: Range,
    /// Seed in a full hopper, 0 with central fill.
    pub seed_full: Range,
    /// Opener coefficient times the disc factor.
    pub opener: Range,
    /// The same without the disc factor, for the trace.
    pub opener_coefficient: Range,
    /// Diameter of the new opener disc, m.
    pub disc: f64,
    /// Furrow depth, m.
    pub depth: f64,
    /// Coulter coefficient; `None` without a coulter.
    pub coulter: Option<Range>,
    /// Whether the coulter's reaction lifts the unit rather than the frame.
    pub coulter_on_unit: bool,
    /// Depth of the coulter, m.
    pub coulter_depth: Range,
    /// Lift of the row cleaner.
    pub cleaner: Range,
    /// Lift of the closing wheels.
    pub closing: Range,
    /// Horizontal pull.
    pub draft: Range,
    /// Tangent of the arm angle.
    pub arm_slope: Range,
    /// Exponent of depth.
    pub exponent: Range,
    /// Soil-state factor, and where it comes from.
    pub soil: SoilState,
    /// Rise of forces by residue at full cover.
    pub residue_rise: Range,
    /// Share of the path that meets residue or green mat.
    pub mat: Range,
    /// Speed above the reference speed, km/h, never negative.
    pub faster: f64,
    /// Load lost for each km/h.
    pub lost_to_speed: Range,
    /// Moisture class that was used.
    pub moisture: Moisture,
    /// What digs taught, where there are any.
    pub taught: Option<TaughtRow>,
    /// What stood in for observations.
    pub assumed: Vec<Assumed>,
    /// Steps that led to the figures.
    pub steps: Vec<Step>,
}

impl Row {
    /// Gathers the figures of a planter in a field at a depth and speed.
    pub(super) fn gather(
        planter: &Planter,
        field: &Conditions,
        k: &Coefficients,
        depth: Length,
        speed: Speed,
    ) -> Self {
        let mut assumed = Vec::with_capacity(8);
        let mat = mat_fraction(field, k);
        assumed.extend(mat.assumed);
        let moisture = moisture_class(field, &mut assumed);
        let soil = soil_state(field, moisture, k, &mut assumed);
        let disc = planter.unit.opener.new_diameter.si();
        let coulter = planter.unit.coulter;
        let draft =
            if coulter.is_some() { &k.draft_with_coulter } else { &k.draft_without_coulter };
        let opener_coefficient = Range::of(&k.opener_resistance);
        Self {
            unit: weighed(planter.unit.weight, &k.unit_weight, UNIT, &mut assumed),
            attachments: weighed(
                planter.unit.attachments,
                &k.attachment_weight,
                ATTACHMENTS,
                &mut assumed,
            ),
            seed_full: seed_weight(planter, field, k, &mut assumed),
            opener: opener_coefficient.scaled(disc / super::forces::REFERENCE_DISC),
            opener_coefficient,
            disc,
            depth: depth.si(),
            coulter: coulter.map(|_| Range::of(&k.coulter_resistance)),
            coulter_on_unit: coulter.is_none_or(|c| c.mount == CoulterMount::Unit),
            coulter_depth: coulter_depth(planter, depth, k),
            cleaner: cleaner_lift(planter.unit.cleaner, k),
            closing: weighed(planter.unit.closing_lift, &k.closing_lift, CLOSING, &mut assumed),
            draft: Range::of(draft),
            arm_slope: arm_slope(planter, k, &mut assumed),
            exponent: Range::of(&k.depth_exponent),
            soil,
            residue_rise: Range::of(&k.residue_force),
            mat: Range::new(mat.low, mat.likely, mat.high),
            faster: kmh_above(speed, k),
            lost_to_speed: Range::of(&k.load_lost_to_speed),
            moisture,
            taught: None,
            assumed,
            steps: mat.steps,
        }
    }

    /// What opener and coulter are multiplied by, by what digs taught; 1 without digs.
    pub(super) fn learned_scale(&self) -> f64 {
        self.taught.as_ref().map_or(1.0, |taught| taught.scale)
    }
}

/// What is weighed, and how.
type Weighing = (&'static str, &'static str);

const UNIT: Weighing = ("weight of the bare row unit", "weigh one row unit");
const ATTACHMENTS: Weighing =
    ("weight of the attachments on the unit", "weigh one row unit with everything on it");
const CLOSING: Weighing =
    ("lift of the closing wheels", "lift the closing frame with a scale, planter down");

fn weighed(
    measured: Option<Force>,
    k: &Coefficient,
    (what, instead): Weighing,
    assumed: &mut Vec<Assumed>,
) -> Range {
    measured.map_or_else(
        || {
            let used = Force::from_si(k.value);
            assumed.push(Assumed {
                what: Text::Borrowed(what),
                used: Text::Owned(pounds(used)),
                range: Some(Text::Owned(format!("{:.0} to {:.0} N", k.low, k.high))),
                instead: Text::Borrowed(instead),
                mark: k.mark,
                source: k.source.clone(),
            });
            Range::of(k)
        },
        |force| Range::exact(force.si()),
    )
}

/// Seed in a full hopper in N: bushels x pounds-force a bushel.
fn seed_weight(
    planter: &Planter,
    field: &Conditions,
    k: &Coefficients,
    assumed: &mut Vec<Assumed>,
) -> Range {
    use crate::conditions::Crop;
    const BUSHEL: f64 = 0.035_239_070_166_88;
    const POUND_FORCE: f64 = 4.448_221_615_260_5;
    let density = match field.crop {
        Crop::Corn => &k.seed_density_corn,
        Crop::Soybean => &k.seed_density_soybean,
    };
    let per_bushel = Range::of(density).scaled(POUND_FORCE);
    match planter.unit.hopper {
        Hopper::Central => Range::exact(0.0),
        Hopper::PerRow { volume: Some(volume) } => per_bushel.scaled(volume.si() / BUSHEL),
        Hopper::PerRow { volume: None } => {
            let size = &k.hopper_volume;
            assumed.push(Assumed {
                what: Text::Borrowed("content of a row hopper"),
                used: Text::Owned(format!("{} bu", size.value)),
                range: Some(Text::Owned(format!("{} to {} bu", size.low, size.high))),
                instead: Text::Borrowed("read it in the machine's manual"),
                mark: size.mark,
                source: size.source.clone(),
            });
            Range::new(
                per_bushel.low * size.low,
                per_bushel.likely * size.value,
                per_bushel.high * size.high,
            )
        }
    }
}

fn coulter_depth(planter: &Planter, depth: Length, k: &Coefficients) -> Range {
    let below = |above: f64| (depth.si() - above).max(0.0);
    let given = planter.unit.coulter.and_then(|c| c.above_opener);
    given.map_or_else(
        || {
            let mm = &k.coulter_above_opener;
            Range::new(below(mm.high / 1e3), below(mm.value / 1e3), below(mm.low / 1e3))
        },
        |above| Range::exact(below(above.si())),
    )
}

fn cleaner_lift(cleaner: Cleaner, k: &Coefficients) -> Range {
    match cleaner {
        Cleaner::None => Range::exact(0.0),
        Cleaner::Floating => Range::of(&k.cleaner_floating),
        Cleaner::Fixed => Range::of(&k.cleaner_fixed),
    }
}

fn arm_slope(planter: &Planter, k: &Coefficients, assumed: &mut Vec<Assumed>) -> Range {
    let arms = planter.unit.arms;
    if let Some(angle) = arms.angle {
        return Range::exact(angle.si().tan());
    }
    if let Some(too_high) = arms.bar_too_high {
        let slope = |arm: f64| slope_of(too_high, arm);
        return arms.length.map_or_else(
            || {
                let mm = &k.arm_length;
                Range::new(slope(mm.high / 1e3), slope(mm.value / 1e3), slope(mm.low / 1e3))
            },
            |arm| Range::exact(slope(arm.si())),
        );
    }
    let level = &k.arms_level;
    assumed.push(Assumed {
        what: Text::Borrowed("slope of the parallel arms"),
        used: Text::Borrowed("level"),
        range: Some(Text::Owned(format!("{} to {} degrees", level.low, level.high))),
        instead: Text::Borrowed("measure the arm angle, planter down, with no down force"),
        mark: level.mark,
        source: level.source.clone(),
    });
    Range::of(level).map(|degrees| degrees.to_radians().tan())
}

fn slope_of(too_high: Length, arm: f64) -> f64 {
    // A bar higher than the arm is long cannot be: the arm would stand upright. Held at 60 degrees.
    super::forces::arm_angle(too_high, Length::from_si(arm))
        .map_or(1.7 * too_high.si().signum(), |a| a.si().tan())
        .clamp(-1.7, 1.7)
}

fn kmh_above(speed: Speed, k: &Coefficients) -> f64 {
    const MPH: f64 = 1.609_344;
    // Below the reference speed no credit is taken: the published table ends there.
    (speed.si() * 3.6 - k.reference_speed.value * MPH).max(0.0)
}

fn moisture_class(field: &Conditions, assumed: &mut Vec<Assumed>) -> Moisture {
    use crate::conditions::BallTest;
    let (class, used) = match (field.moisture, field.ball) {
        // A ball like putty is wet soil, whatever the hand said before.
        (Some(m), Some(BallTest::Deforms)) => return m.max(Moisture::Wet),
        (Some(m), _) => return m,
        (None, Some(BallTest::Deforms)) => (Moisture::Wet, "wet, from the ball test"),
        (None, _) => (Moisture::Moist, "moist"),
    };
    assumed.push(Assumed {
        what: Text::Borrowed("moisture at seed depth"),
        used: Text::Borrowed(used),
        range: Some(Text::Borrowed("wet to dry")),
        instead: Text::Borrowed("squeeze soil from seed depth and report how it feels"),
        mark: Mark::Assumption,
        source: Text::Borrowed(sources::ASSUMPTION),
    });
    class
}
