//! The ranges of one balance whose figures were given one by one.

use super::force_ranges::{ForceRange, NamedForce};
use super::need::{Lift, likely_balance};
use super::row::Row;
use super::soil_state::SoilState;
use crate::conditions::Moisture;
use crate::quantity::{Angle, Force, Length, Measured};
use crate::stats::Range;

/// The figures of a row unit; forces in N. What was measured has no width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowFigures {
    /// Bare unit.
    pub unit: Range,
    /// Attachments.
    pub attachments: Range,
    /// Seed on the unit.
    pub seed: Range,
    /// Opener coefficient `K_o`.
    pub opener: Range,
    /// Diameter of the new opener disc.
    pub disc: Length,
    /// Furrow depth.
    pub depth: Length,
    /// Coefficient and depth of a coulter on the unit, where there is one.
    pub coulter: Option<(Range, Length)>,
    /// Lift of the row cleaner.
    pub cleaner: Range,
    /// Lift of the closing wheels.
    pub closing: Range,
    /// Horizontal pull.
    pub draft: Range,
    /// Angle of the arms below the horizontal.
    pub arm_angle: Angle,
    /// Exponent of depth.
    pub exponent: Range,
    /// Soil-state factor.
    pub soil: Range,
    /// Rise of the forces under full residue.
    pub residue_rise: Range,
    /// Share of the path under residue, 0 to 1.
    pub residue: f64,
}

/// The ranges of a balance.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureRanges {
    /// Each part.
    pub parts: Vec<ForceRange>,
    /// 5 and 95 % of the gauge-wheel load; nothing where the unit rides out.
    pub load: (Force, Force),
    /// 5 and 95 % of the down force for the load that is wanted.
    pub need: (Force, Force),
}

/// Works out the ranges of a balance at a down force, for a wanted load in N.
pub fn figure_ranges(figures: &RowFigures, down_force: Force, wanted: Range) -> FigureRanges {
    use NamedForce as N;
    let row = row_of(figures);
    let lift = Lift::of(&row);
    let balance = likely_balance(&row, 0.0);
    let given = ForceRange::given;
    let mut parts = vec![
        given(N::UnitWeight, figures.unit),
        given(N::Attachments, figures.attachments),
        ForceRange::worked_out(N::Opener, balance.opener.si(), lift.opener()),
        given(N::Cleaner, figures.cleaner),
        given(N::Closing, figures.closing),
        ForceRange::worked_out(N::Arms, balance.arms.si(), lift.arms_up().scaled(-1.0)),
    ];
    if let Some(coulter) = lift.coulter() {
        parts.insert(3, ForceRange::worked_out(N::Coulter, balance.coulter.si(), coulter));
    }
    let net = lift.spread(None).plus(figures.seed.spread().scaled(-1.0));
    let likely = figures.seed.likely + balance.sum().si();
    let need =
        ForceRange::worked_out(N::NeedEmpty, wanted.likely - likely, net.plus(wanted.spread()));
    let carried = ForceRange::worked_out(N::LoadEmpty, likely, net.scaled(-1.0));
    let load = |balance: Force| Force::from_si((balance + down_force).si().max(0.0));
    FigureRanges {
        parts,
        load: (load(carried.low), load(carried.high)),
        need: (need.low, need.high),
    }
}

fn row_of(figures: &RowFigures) -> Row {
    let zero = Range::exact(0.0);
    let disc = figures.disc.si();
    Row {
        unit: figures.unit,
        attachments: figures.attachments,
        seed_full: zero,
        opener: figures.opener.scaled(disc / super::forces::REFERENCE_DISC),
        opener_coefficient: figures.opener,
        disc,
        depth: figures.depth.si(),
        coulter: figures.coulter.map(|(k, _)| k),
        coulter_on_unit: true,
        coulter_depth: Range::exact(figures.coulter.map_or(0.0, |(_, d)| d.si().max(0.0))),
        cleaner: figures.cleaner,
        closing: figures.closing,
        draft: figures.draft,
        arm_slope: Range::exact(figures.arm_angle.si().tan()),
        exponent: figures.exponent,
        soil: SoilState::given(figures.soil),
        residue_rise: figures.residue_rise,
        mat: Range::exact(figures.residue),
        faster: 0.0,
        lost_to_speed: zero,
        moisture: Moisture::Moist,
        taught: None,
        assumed: Vec::new(),
        steps: Vec::new(),
    }
}
