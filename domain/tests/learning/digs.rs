//! Digs for the tests: rows of a balance, and dice with a fixed seed.

use domain::dig::{PrintDepth, WheelFeel};
use domain::learning::{
    CoverClass, DigEvent, DugBalance, Place, Prior, Reading, RowSeen, SoilClass, SoilGroup,
    WheelEdges,
};
use domain::provenance::Coefficients;
use domain::stats::phi_inverse;

pub(crate) const K: Coefficients = Coefficients::STANDARD;
const INCH: f64 = 0.0254;

pub(crate) fn prior() -> Prior {
    Prior::of(&K)
}

pub(crate) fn reading() -> Reading {
    Reading::of(&K)
}

/// 1,000 N of likely reaction at 2 in, and this much that pushes down.
pub(crate) fn balance(pushes: f64) -> DugBalance {
    DugBalance {
        pushes,
        metal: 1_000.0,
        steepness: 1.0,
        stop: 2.0 * INCH,
        edges: WheelEdges { free: 120.0, locked: 890.0 },
    }
}

pub(crate) fn row(wheels: WheelFeel, print: PrintDepth) -> RowSeen {
    RowSeen { wheels: Some(wheels), print: Some(print), ..RowSeen::default() }
}

/// Four rows that feel alike.
pub(crate) fn alike(wheels: WheelFeel) -> Vec<RowSeen> {
    let print = match wheels {
        WheelFeel::SpinFree => PrintDepth::None,
        WheelFeel::TurnWithEffort => PrintDepth::Light,
        WheelFeel::Locked => PrintDepth::Deep,
    };
    vec![row(wheels, print); 4]
}

/// Four rows with their seeds around a depth in inches, as far apart as soil lets them ride out.
pub(crate) fn at_depth(wheels: WheelFeel, inches: f64) -> Vec<RowSeen> {
    let mut rows = alike(wheels);
    for row in &mut rows {
        let off = [-0.4, -0.3, -0.2, -0.1, 0.0, 0.0, 0.1, 0.2, 0.3, 0.4];
        row.depths = off.map(|off| (inches + off) * INCH).to_vec();
    }
    rows
}

pub(crate) const CLASS: SoilClass =
    SoilClass { soil: SoilGroup::Medium, cover: CoverClass::Living };
pub(crate) const OTHER: SoilClass = SoilClass { soil: SoilGroup::Fine, cover: CoverClass::NoCover };

pub(crate) fn place(class: SoilClass, planter: u128, field: u128, season: u16) -> Place {
    Place { class, planter, field, season }
}

pub(crate) fn here() -> Place {
    place(CLASS, 1, 1, 2026)
}

pub(crate) fn event(dig: u128, place: Place, pushes: f64, rows: Vec<RowSeen>) -> DigEvent {
    DigEvent { dig, place, balance: balance(pushes), rows }
}

/// Numbers from a linear congruential generator (Knuth's MMIX constants).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn share(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let [.., a, b, c, d] = (self.0 >> 32).to_be_bytes();
        (f64::from(u32::from_be_bytes([a, b, c, d])) + 0.5) / 2.0_f64.powi(32)
    }

    pub(crate) fn normal(&mut self, sd: f64) -> f64 {
        sd * phi_inverse(self.share())
    }

    pub(crate) fn happens(&mut self, share: f64) -> bool {
        self.share() < share
    }

    /// A normal number that keeps the factor in its range.
    pub(crate) fn within(&mut self, mean: f64, sd: f64) -> f64 {
        let (low, high) = domain::learning::FACTOR_RANGE;
        loop {
            let x = mean + self.normal(sd);
            if low.ln() <= x && x <= high.ln() {
                return x;
            }
        }
    }
}

/// A dig of four rows where the factor is this, by the process that the likelihood describes.
pub(crate) fn dug(factor: f64, pushes: f64, dice: &mut Dice) -> Vec<RowSeen> {
    let (set, how) = (balance(pushes), reading());
    (0..4)
        .map(|_| {
            let soil = dice.normal(how.spots).exp();
            let load = pushes + dice.normal(how.rows) - set.metal * factor * soil;
            // Wheel and print have edges of their own.
            let mut answer = || {
                let class = if load < set.edges.free + dice.normal(how.free_edge) {
                    0
                } else if load > set.edges.locked * (1.0 + dice.normal(how.locked_edge)) {
                    2
                } else {
                    1
                };
                if !dice.happens(how.misread) {
                    return class;
                }
                let others: Vec<usize> = (0..3).filter(|one| *one != class).collect();
                others[usize::from(dice.happens(0.5))]
            };
            let feels = [WheelFeel::SpinFree, WheelFeel::TurnWithEffort, WheelFeel::Locked];
            let prints = [PrintDepth::None, PrintDepth::Light, PrintDepth::Deep];
            row(feels[answer()], prints[answer()])
        })
        .collect()
}
