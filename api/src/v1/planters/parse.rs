//! From the wire into the domain: each number in range, and numbers that fit one another.

use std::collections::BTreeSet;

use domain::planter::{self, Arms, Calibration, DownForce, Notch, Planter};
use domain::quantity::{Bound, Measured, bounds};

use super::frame::sections;
use super::makeup::{
    Coulter, Cylinder, DepthLever, DownForceSource, Hopper, MOST_NOTCHES, MOST_ROWS, Makeup,
    OpenerDisc, ParallelArms, RowUnit, SpringNotch,
};
use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused, text};

pub(crate) type Parsed<T> = Result<T, Vec<BadMember>>;

impl Makeup {
    /// The planter in the domain, with the calibration of its down force if there is one.
    /// `pointer` is where the makeup stands in the body.
    pub fn parse(&self, pointer: &str, calibration: Option<Calibration>) -> Parsed<Planter> {
        let Self {
            rows,
            row_width,
            tyre_rows,
            unit,
            down_force,
            frame,
            ground_drive,
            depth_lever,
            closing_owned,
        } = self;
        let mut refused = Refused::default();
        refused.take(count(&format!("{pointer}/rows"), *rows, 1, MOST_ROWS));
        let row_width =
            refused.take(row_width.parse(&format!("{pointer}/row_width"), &bounds::ROW_WIDTH));
        let tyre_rows =
            refused.take_all(rows_behind_tyres(&format!("{pointer}/tyre_rows"), tyre_rows, *rows));
        let unit = refused.take_all(row_unit(&format!("{pointer}/unit"), unit));
        let down_force =
            refused.take_all(source(&format!("{pointer}/down_force"), down_force, calibration));
        let frame = refused.take_all(sections(&format!("{pointer}/frame"), frame, *rows));
        let ground_drive = ground_drive.as_ref().zip(frame.as_ref()).and_then(|(given, frame)| {
            refused.take_all(given.parse(&format!("{pointer}/ground_drive"), frame))
        });
        let depth_lever = depth_lever
            .as_ref()
            .and_then(|given| refused.take_all(lever(&format!("{pointer}/depth_lever"), given)));
        let (Some(row_width), Some(unit), Some(down_force), Some(frame)) =
            (row_width, unit, down_force, frame)
        else {
            return Err(refused.into_members());
        };
        done(
            refused,
            Planter {
                rows: *rows,
                row_width,
                tyre_rows: tyre_rows.unwrap_or_default(),
                unit,
                down_force,
                frame,
                ground_drive,
                depth_lever,
                closing_owned: closing_owned.iter().copied().map(Into::into).collect(),
            },
        )
    }
}

/// Row numbers of a planter with so many rows, each once; they come out rising.
pub(crate) fn rows_behind_tyres(pointer: &str, given: &[u16], rows: u16) -> Parsed<Vec<u16>> {
    let mut refused = Refused::default();
    refused.take(count(pointer, given.len(), 0, usize::from(MOST_ROWS)));
    let mut seen = BTreeSet::new();
    for (index, row) in given.iter().enumerate() {
        let at = format!("{pointer}/{index}");
        if !(1..=rows).contains(row) {
            refused.add(
                BadMember::new(at, "The planter has no such row.")
                    .given(row)
                    .allowed(format!("1 to {rows}"))
                    .why("rows are counted from 1 at the left end"),
            );
        } else if !seen.insert(*row) {
            refused.add(BadMember::new(at, "This row was given before.").given(row));
        }
    }
    done(refused, seen.into_iter().collect())
}

fn row_unit(pointer: &str, given: &RowUnit) -> Parsed<planter::RowUnit> {
    let RowUnit {
        weight,
        attachments,
        hopper,
        opener,
        coulter,
        cleaner,
        closing,
        closing_lift,
        arms,
    } = given;
    let mut refused = Refused::default();
    let at = |name: &str| format!("{pointer}/{name}");
    let weight = optional(&mut refused, &at("weight"), weight.as_ref(), &bounds::UNIT_WEIGHT);
    let attachments = optional(
        &mut refused,
        &at("attachments"),
        attachments.as_ref(),
        &bounds::ATTACHMENT_WEIGHT,
    );
    let closing_lift =
        optional(&mut refused, &at("closing_lift"), closing_lift.as_ref(), &bounds::ROW_FORCE);
    let hopper = seed_box(&mut refused, &at("hopper"), hopper);
    let opener = refused.take_all(discs(&at("opener"), opener));
    let coulter = coulter.as_ref().map(|given| {
        let Coulter { mount, above_opener } = given;
        let pointer = at("coulter/above_opener");
        planter::Coulter {
            mount: (*mount).into(),
            above_opener: optional(
                &mut refused,
                &pointer,
                above_opener.as_ref(),
                &bounds::COULTER_ABOVE_OPENER,
            ),
        }
    });
    let arms = arms
        .as_ref()
        .map_or_else(Arms::default, |given| parallel_arms(&mut refused, &at("arms"), given));
    let Some(opener) = opener else { return Err(refused.into_members()) };
    done(
        refused,
        planter::RowUnit {
            weight,
            attachments,
            hopper,
            opener,
            coulter,
            cleaner: (*cleaner).into(),
            closing: (*closing).into(),
            closing_lift,
            arms,
        },
    )
}

fn seed_box(refused: &mut Refused, pointer: &str, given: &Hopper) -> planter::Hopper {
    match given {
        Hopper::Central {} => planter::Hopper::Central,
        Hopper::PerRow { volume } => {
            let pointer = format!("{pointer}/volume");
            let volume = optional(refused, &pointer, volume.as_ref(), &bounds::HOPPER_VOLUME);
            planter::Hopper::PerRow { volume }
        }
    }
}

fn parallel_arms(refused: &mut Refused, pointer: &str, given: &ParallelArms) -> Arms {
    let ParallelArms { angle, bar_too_high, length } = given;
    let at = |name: &str| format!("{pointer}/{name}");
    Arms {
        angle: optional(refused, &at("angle"), angle.as_ref(), &bounds::ARM_ANGLE),
        bar_too_high: optional(
            refused,
            &at("bar_too_high"),
            bar_too_high.as_ref(),
            &bounds::BAR_HEIGHT_ERROR,
        ),
        length: optional(refused, &at("length"), length.as_ref(), &bounds::ARM_LENGTH),
    }
}

/// Play of the tape when a disc is measured: a disc does not grow, but may read a little more.
const MEASURING_PLAY_M: f64 = 0.003;

pub(in crate::v1) fn discs(pointer: &str, given: &OpenerDisc) -> Parsed<planter::OpenerDisc> {
    let OpenerDisc { new_diameter, measured, manual_limit } = given;
    let mut refused = Refused::default();
    let at = |name: &str| format!("{pointer}/{name}");
    let new = refused.take(new_diameter.parse(&at("new_diameter"), &bounds::DISC_DIAMETER));
    let worn = optional(&mut refused, &at("measured"), measured.as_ref(), &bounds::DISC_DIAMETER);
    let limit =
        optional(&mut refused, &at("manual_limit"), manual_limit.as_ref(), &bounds::DISC_DIAMETER);
    let Some(new_diameter) = new else { return Err(refused.into_members()) };
    for (name, diameter) in [("measured", worn), ("manual_limit", limit)] {
        if diameter.is_some_and(|d| d.si() > new_diameter.si() + MEASURING_PLAY_M) {
            let detail = "The diameter is larger than that of the new disc.";
            refused.add(BadMember::new(at(name), detail).why("a disc only wears"));
        }
    }
    done(refused, planter::OpenerDisc { new_diameter, measured: worn, manual_limit: limit })
}

fn source(
    pointer: &str,
    given: &DownForceSource,
    calibration: Option<Calibration>,
) -> Parsed<DownForce> {
    match given {
        DownForceSource::WeightOnly {} => Ok(DownForce::WeightOnly),
        DownForceSource::Spring { notches } => spring(&format!("{pointer}/notches"), notches)
            .map(|notches| DownForce::Spring { notches }),
        DownForceSource::AirBag {} => Ok(DownForce::AirBag { calibration }),
        DownForceSource::Hydraulic { cylinder, lift } => {
            let mut refused = Refused::default();
            let lift_at = format!("{pointer}/lift");
            let lift = optional(&mut refused, &lift_at, lift.as_ref(), &bounds::DOWN_FORCE);
            if lift.is_some_and(|force| force.si() < 0.0) {
                refused.add(BadMember::new(lift_at, "Give the lift as a force above 0."));
            }
            let cylinder = refused.take_all(oil_cylinder(&format!("{pointer}/cylinder"), cylinder));
            let Some(cylinder) = cylinder else { return Err(refused.into_members()) };
            done(refused, DownForce::Hydraulic { cylinder, calibration, lift })
        }
    }
}

fn spring(pointer: &str, given: &[SpringNotch]) -> Parsed<Vec<Notch>> {
    let mut refused = Refused::default();
    refused.take(count(pointer, given.len(), 1, usize::from(MOST_NOTCHES)));
    let mut notches: Vec<Notch> = Vec::new();
    for (index, SpringNotch { label, force }) in given.iter().enumerate() {
        let at = format!("{pointer}/{index}");
        let label = refused.take(text::line(&format!("{at}/label"), label, 20));
        let force = refused.take(force.parse(&format!("{at}/force"), &bounds::DOWN_FORCE));
        let (Some(label), Some(force)) = (label, force) else { continue };
        if notches.last().is_some_and(|before| before.force.si() >= force.si()) {
            let detail = "The force is not more than that of the notch before.";
            refused.add(BadMember::new(format!("{at}/force"), detail).allowed("rising forces"));
        }
        notches.push(Notch { label, force });
    }
    done(refused, notches)
}

fn oil_cylinder(pointer: &str, given: &Cylinder) -> Parsed<planter::Cylinder> {
    let Cylinder { bore, rod, side, lever_ratio, most_pressure } = given;
    let mut refused = Refused::default();
    let at = |name: &str| format!("{pointer}/{name}");
    let bore = refused.take(bore.parse(&at("bore"), &bounds::CYLINDER_DIAMETER));
    let rod = refused.take(rod.parse(&at("rod"), &bounds::CYLINDER_DIAMETER));
    let most = refused.take(most_pressure.parse(&at("most_pressure"), &bounds::ELEMENT_PRESSURE));
    if !(0.1..=10.0).contains(lever_ratio) {
        let member = BadMember::new(at("lever_ratio"), "The ratio is out of range.");
        refused.add(member.given(lever_ratio).allowed("0.1 to 10"));
    }
    let (Some(bore), Some(rod), Some(most)) = (bore, rod, most) else {
        return Err(refused.into_members());
    };
    if rod.si() >= bore.si() {
        refused.add(BadMember::new(at("rod"), "The rod is not thinner than the bore."));
    }
    if most.si() <= 0.0 {
        refused.add(BadMember::new(at("most_pressure"), "The greatest pressure must be above 0."));
    }
    let side = (*side).into();
    done(refused, planter::Cylinder { bore, rod, side, lever_ratio: *lever_ratio, most })
}

pub(in crate::v1) fn lever(pointer: &str, given: &DepthLever) -> Parsed<planter::DepthLever> {
    let DepthLever { first, step, notches } = given;
    let mut refused = Refused::default();
    let at = |name: &str| format!("{pointer}/{name}");
    let first = refused.take(first.parse(&at("first"), &bounds::PLANTING_DEPTH));
    let step = refused.take(step.parse(&at("step"), &bounds::DEPTH_STEP));
    refused.take(count(&at("notches"), *notches, 1, MOST_NOTCHES));
    let (Some(first), Some(step)) = (first, step) else { return Err(refused.into_members()) };
    done(refused, planter::DepthLever { first, step, notches: *notches })
}

fn optional<Q: Measured>(
    refused: &mut Refused,
    pointer: &str,
    given: Option<&Quantity>,
    bound: &Bound<Q>,
) -> Option<Q> {
    given.and_then(|quantity| refused.take(quantity.parse(pointer, bound)))
}

pub(super) fn count<N: Copy + PartialOrd + std::fmt::Display>(
    pointer: &str,
    given: N,
    least: N,
    most: N,
) -> Result<(), BadMember> {
    if given >= least && given <= most {
        return Ok(());
    }
    let allowed = format!("{least} to {most}");
    Err(BadMember::new(pointer, "The number is out of range.").given(given).allowed(allowed))
}

pub(super) fn done<T>(refused: Refused, parsed: T) -> Parsed<T> {
    let members = refused.into_members();
    if members.is_empty() { Ok(parsed) } else { Err(members) }
}
