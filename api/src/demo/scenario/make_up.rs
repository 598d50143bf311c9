//! What an advisor writes down about a planter. Figures as the trade has them: inches, pounds-force,
//! psi, bushels, degrees.

use domain::planter::{Cleaner, ClosingPair, CoulterMount, Side};

/// What a planter is made of, and what is wrong with it that nobody knows yet.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct PlanterPlan {
    /// Place of the grower in the list of growers.
    pub grower: usize,
    /// Name.
    pub name: &'static str,
    /// Rows.
    pub rows: u16,
    /// Row width, in.
    pub row_width: f64,
    /// What adds force.
    pub source: Source,
    /// Weight of the bare unit, lbf, where it was weighed.
    pub unit_weight: Option<f64>,
    /// Weight of the attachments, lbf, where they were weighed.
    pub attachments: Option<f64>,
    /// Where the seed is carried.
    pub hopper: Hopper,
    /// Opener discs: new, measured, limit of the manual; in.
    pub discs: (f64, Option<f64>, Option<f64>),
    /// Coulter: what carries it, and how far above the opener it runs, in.
    pub coulter: Option<(CoulterMount, Option<f64>)>,
    /// Row cleaner.
    pub cleaner: Cleaner,
    /// Closing wheels that are fitted.
    pub closing: ClosingPair,
    /// Closing wheels in the shed.
    pub closing_owned: &'static [ClosingPair],
    /// Angle of the arms below the horizontal, degrees, where it was measured.
    pub arm_angle: Option<f64>,
    /// Depth lever: first notch and step in in, number of notches.
    pub lever: Option<(f64, f64, u8)>,
    /// Sections of the frame, where they were weighed.
    pub sections: &'static [Section],
    /// Speed that the grower likes to drive, mph.
    pub speed: f64,
    /// What is wrong, unknown to everybody until somebody digs and looks.
    pub fault: Option<Fault>,
}

/// Where the seed is carried.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::demo) enum Hopper {
    /// On the frame.
    Central,
    /// On each unit: bushels of one hopper, where somebody knows them.
    OnUnit(Option<f64>),
}

/// What adds force to the units.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) enum Source {
    /// Nothing.
    WeightOnly,
    /// Springs: lbf of each notch, lightest first.
    Springs(&'static [f64]),
    /// Air bags: psi and lbf of the calibration, empty where nobody made one.
    Bags(&'static [(f64, f64)]),
    /// Hydraulic cylinders.
    Oil(Oil),
}

/// Hydraulic cylinders.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct Oil {
    /// Bore and rod, in.
    pub bore_rod: (f64, f64),
    /// Side that pushes down.
    pub side: Side,
    /// Force at the wheels for each force at the cylinder.
    pub lever_ratio: f64,
    /// Greatest pressure, psi.
    pub most: f64,
    /// Up-lift, lbf, where there is one.
    pub lift: Option<f64>,
    /// psi and lbf of the calibration, empty where nobody made one.
    pub points: &'static [(f64, f64)],
}

/// A section of the frame.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct Section {
    /// What people call it.
    pub name: &'static str,
    /// Rows.
    pub rows: u16,
    /// Weight with empty tanks without the units, lbf.
    pub weight: f64,
    /// Part of it on the tractor, lbf.
    pub hitch: f64,
    /// Wheels.
    pub wheels: u16,
}

/// Something wrong that only a dig brings to light.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::demo) enum Fault {
    /// Discs have lost this much diameter, in, and nobody measured.
    WornDiscs(f64),
    /// Fixed cleaners are set too deep and carry this much of the unit, lbf.
    CleanersDeep(f64),
    /// The ends of the bar lift: outer rows miss this much, lbf.
    EndsLift(f64),
    /// This row has a bent arm and misses this much, lbf.
    OddRow(u16, f64),
    /// Meters are worn: more skips and doubles.
    Meters,
}
