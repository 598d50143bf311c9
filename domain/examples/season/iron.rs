//! A planter: what its record says, and what is true of its iron.

use domain::planter::{
    Arms, Calibration, CalibrationPoint, Cleaner, ClosingPair, Coulter, CoulterMount, Cylinder,
    DownForce, Hopper, Notch, OpenerDisc, Planter, RowUnit, Side,
};
use domain::quantity::{Angle, Force, Length, Measured, Pressure, Volume};

use crate::dice::Dice;
use crate::field::{INCH, K, POUND};

const PSI: f64 = 6_894.757_293_168;
const BUSHEL: f64 = 0.035_239_070_166_88;
/// Diameter of new discs, m.
const NEW: f64 = 0.381;

/// What may be wrong with the iron.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Fault {
    BarHigh,
    CleanersDeep,
    EndsLift,
    WornDiscs,
    LeverOff,
}

/// What is true of the iron of a planter and nobody knows. N, m.
#[derive(Debug, Clone)]
pub(crate) struct Iron {
    pub unit: f64,
    pub attachments: f64,
    /// Full hopper.
    pub seed: f64,
    pub closing: f64,
    pub cleaner: f64,
    /// Horizontal pull.
    pub draft: f64,
    /// Slope of the arms.
    pub slope: f64,
    /// Share of the force believed to be set that arrives.
    pub arrives: f64,
    /// Depth lost to wear that the planter's record knows of.
    pub lost: f64,
    /// Depth lost that nobody knows of.
    pub lost_unseen: f64,
    /// Force that the outer rows miss where the ends of the bar rise: the added force, and the pull of
    /// arms that then slope.
    pub ends_miss: f64,
    /// Standard deviation of the push from row to row, N, and of the stop, m.
    pub rows_differ: (f64, f64),
    pub fault: Option<Fault>,
}

/// A planter with its truth.
#[derive(Debug, Clone)]
pub(crate) struct Machine {
    pub planter: Planter,
    pub iron: Iron,
}

/// What somebody fitted: the record knows it, whoever looks.
#[derive(Clone, Copy)]
struct Fitted {
    cleaner: Cleaner,
    coulter: bool,
    hoppers: bool,
}

impl Machine {
    /// A planter; with faults, one in ten has one.
    pub(crate) fn of(id: u64, with_faults: bool) -> Self {
        let mut dice = Dice::of(id, 1);
        let cleaner =
            dice.one_of(&[(Cleaner::Floating, 0.6), (Cleaner::Fixed, 0.2), (Cleaner::None, 0.2)]);
        let fitted = Fitted { cleaner, coulter: dice.happens(0.4), hoppers: dice.happens(0.5) };
        let source = source(&mut dice);
        let mut iron = Iron::of(fitted, &source, &mut dice);
        if dice.happens(0.1) && with_faults {
            iron = broken(iron, cleaner, &mut dice);
        }
        let unit = record(fitted, &mut iron, &mut dice);
        let planter = Planter {
            rows: dice.one_of(&[(6, 0.15), (8, 0.3), (12, 0.3), (16, 0.25)]),
            row_width: Length::from_si(30.0 * INCH),
            tyre_rows: Vec::new(),
            unit,
            down_force: source,
            frame: Vec::new(),
            depth_lever: None,
            ground_drive: None,
            closing_owned: Vec::new(),
        };
        Self { planter, iron }
    }
}

impl Iron {
    fn of(fitted: Fitted, source: &DownForce, dice: &mut Dice) -> Self {
        let arrives = match source {
            DownForce::Spring { .. } => dice.between(0.88, 1.03), // springs tire
            DownForce::AirBag { .. } => 1.0 + dice.normal(0.03),
            _ => dice.between(0.92, 1.0), // seals rub
        };
        let draft = if fitted.coulter { &K.draft_with_coulter } else { &K.draft_without_coulter };
        Self {
            unit: dice.of_range(&K.unit_weight),
            attachments: dice.of_range(&K.attachment_weight),
            seed: if fitted.hoppers { 1.6 * dice.between(54.0, 58.0) * POUND } else { 0.0 },
            closing: dice.of_range(&K.closing_lift),
            cleaner: match fitted.cleaner {
                Cleaner::None => 0.0,
                Cleaner::Floating => dice.between(0.0, K.cleaner_floating.high),
                Cleaner::Fixed => dice.of_range(&K.cleaner_fixed),
            },
            draft: dice.of_range(draft),
            slope: dice.normal(1.5).to_radians().tan(),
            arrives,
            lost: dice.triangular(0.0, 0.1, 0.4) * INCH / 2.0,
            lost_unseen: 0.0,
            ends_miss: 0.0,
            rows_differ: (50.0, 0.04 * INCH),
            fault: None,
        }
    }
}

/// What the record says: half of the units were weighed, six in ten had their discs measured, eight
/// in ten the angle of their arms.
fn record(fitted: Fitted, iron: &mut Iron, dice: &mut Dice) -> RowUnit {
    let weighed = |dice: &mut Dice, true_weight: f64| {
        let scale = 1.0 + dice.normal(0.02);
        dice.happens(0.5).then(|| Force::from_si(true_weight * scale))
    };
    let discs = dice.happens(0.6) && iron.lost_unseen == 0.0;
    if !discs {
        // Nobody allows for wear that nobody measured.
        iron.lost_unseen += iron.lost;
        iron.lost = 0.0;
    }
    let hand = dice.normal(0.5).to_radians();
    let arms = dice.happens(0.8).then(|| Angle::from_si(iron.slope.atan() + hand));
    RowUnit {
        weight: weighed(dice, iron.unit),
        attachments: weighed(dice, iron.attachments),
        hopper: if fitted.hoppers {
            Hopper::PerRow { volume: Some(Volume::from_si(1.6 * BUSHEL)) }
        } else {
            Hopper::Central
        },
        opener: OpenerDisc {
            new_diameter: Length::from_si(NEW),
            measured: discs.then(|| Length::from_si(NEW - 2.0 * iron.lost)),
            manual_limit: None,
        },
        coulter: fitted.coulter.then(|| Coulter {
            mount: CoulterMount::Unit,
            above_opener: Some(Length::from_si(0.008)),
        }),
        cleaner: fitted.cleaner,
        closing: ClosingPair::SpikedAndRubber,
        closing_lift: None,
        arms: Arms { angle: arms, bar_too_high: None, length: None },
    }
}

fn broken(mut iron: Iron, cleaner: Cleaner, dice: &mut Dice) -> Iron {
    let fault = dice.one_of(&[
        (Fault::BarHigh, 0.2),
        (Fault::CleanersDeep, 0.2),
        (Fault::EndsLift, 0.2),
        (Fault::WornDiscs, 0.2),
        (Fault::LeverOff, 0.2),
    ]);
    // Without cleaners none can carry the unit.
    let fault = if fault == Fault::CleanersDeep && cleaner == Cleaner::None {
        Fault::BarHigh
    } else {
        fault
    };
    match fault {
        Fault::BarHigh => iron.slope = dice.between(4.5, 9.0).to_radians().tan(),
        Fault::CleanersDeep => iron.cleaner += dice.between(200.0, 500.0),
        Fault::EndsLift => iron.ends_miss = dice.between(300.0, 800.0),
        Fault::WornDiscs => iron.lost_unseen = dice.between(0.25, 0.5) * INCH,
        Fault::LeverOff => iron.lost_unseen = dice.between(0.3, 0.5) * INCH,
    }
    iron.fault = Some(fault);
    iron
}

fn source(dice: &mut Dice) -> DownForce {
    let point = |psi: f64, pounds: f64| CalibrationPoint {
        pressure: Pressure::from_si(psi * PSI),
        force: Force::from_si(pounds * POUND),
    };
    let kind = dice.share();
    if kind < 0.5 {
        let points = [point(5.0, 10.0), point(80.0, dice.between(380.0, 450.0))];
        DownForce::AirBag { calibration: Calibration::from_points(&points).ok() }
    } else if kind < 0.85 {
        DownForce::Hydraulic {
            cylinder: Cylinder {
                bore: Length::from_si(1.5 * INCH),
                rod: Length::from_si(0.75 * INCH),
                side: Side::Cap,
                lever_ratio: 0.35,
                most: Pressure::from_si(1_000.0 * PSI),
            },
            calibration: None,
            lift: Some(Force::from_si(150.0 * POUND)),
        }
    } else {
        let notch = |label: &str, pounds: f64| Notch {
            label: label.to_owned(),
            force: Force::from_si(pounds * POUND),
        };
        let notches =
            vec![notch("0", 0.0), notch("1", 125.0), notch("2", 250.0), notch("3", 400.0)];
        DownForce::Spring { notches }
    }
}
