//! How much down force a row needs, as a distribution over what is uncertain.

use super::forces::{Balance, REFERENCE_DEPTH, Soil, arm_force, coulter_reaction, opener_reaction};
use super::row::Row;
use crate::quantity::{Angle, Force, Length, Measured};
use crate::stats::Range;
use crate::stats::Spread;

/// The parts that can be measured one by one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// Weight of unit and attachments.
    Weight,
    /// Lift of the row cleaner.
    Cleaner,
    /// Seed in the hopper.
    Seed,
    /// Resistance to the opener, and how it grows with depth.
    Opener,
    /// Resistance to the coulter.
    Coulter,
    /// State of the soil.
    Soil,
    /// Residue and green mat.
    Residue,
    /// Closing wheels.
    Closing,
    /// Arm angle.
    Arms,
    /// What speed costs.
    Speed,
    /// Scatter of the gauge-wheel load along the row.
    Scatter,
    /// Load that the soil bears.
    Ceiling,
}

/// The balance with every figure at its likely value and no down force; opener and coulter by what
/// digs taught.
pub(super) fn likely_balance(row: &Row, box_share: f64) -> Balance {
    let plain = untaught_balance(row, box_share);
    let scale = row.learned_scale();
    Balance { opener: plain.opener * scale, coulter: plain.coulter * scale, ..plain }
}

/// The same without what digs taught.
pub(super) fn untaught_balance(row: &Row, box_share: f64) -> Balance {
    let force = |r: Range| Force::from_si(r.likely);
    let soil = likely_soil(row);
    let depth = Length::from_si(row.depth);
    let on_unit = row.coulter.filter(|_| row.coulter_on_unit);
    Balance {
        unit: force(row.unit),
        seed: Force::from_si(row.seed_full.likely * box_share),
        attachments: force(row.attachments),
        down_force: Force::from_si(0.0),
        arms: arm_force(force(row.draft), Angle::from_si(row.arm_slope.likely.atan())),
        opener: opener_reaction(
            row.opener_coefficient.likely,
            depth,
            soil,
            Length::from_si(row.disc),
        ),
        coulter: on_unit.map_or(Force::from_si(0.0), |k| coulter_at(k.likely, row, soil)),
        cleaner: force(row.cleaner),
        closing: force(row.closing),
    }
}

/// The likely reaction of the coulter, whoever carries it.
pub(super) fn likely_coulter(row: &Row) -> Force {
    let plain = |k: Range| coulter_at(k.likely, row, likely_soil(row));
    row.coulter.map_or(Force::from_si(0.0), plain) * row.learned_scale()
}

/// The soil factors at their likely values.
pub(super) fn likely_soil(row: &Row) -> Soil {
    Soil {
        exponent: row.exponent.likely,
        state: row.soil.range.likely,
        residue: 1.0 + row.residue_rise.likely * row.mat.likely,
    }
}

fn coulter_at(k_c: f64, row: &Row, soil: Soil) -> Force {
    coulter_reaction(k_c, Length::from_si(row.coulter_depth.likely), soil)
}

/// Load lost to speed at the likely coefficient, N.
pub(super) fn likely_speed_loss(row: &Row) -> Force {
    Force::from_si(row.lost_to_speed.likely * row.faster)
}

/// Everything that pushes up, less the weight that holds down without seed and down force.
///
/// Load = down force + seed - this. Made once for a row and asked several times: raising depths
/// to the exponents is the dear part.
pub(super) struct Lift<'a> {
    row: &'a Row,
    grown: [Grown; 5],
}

/// How depth multiplies the coefficients at one exponent.
#[derive(Clone, Copy)]
struct Grown {
    opener: f64,
    coulter: Spread,
}

impl<'a> Lift<'a> {
    /// For a row at its depth.
    pub(super) fn of(row: &'a Row) -> Self {
        let d = row.coulter_depth;
        let grown = nodes(row.exponent).map(|n| {
            let times = |depth: f64| (depth / REFERENCE_DEPTH).powf(n);
            Grown {
                opener: times(row.depth),
                coulter: Spread::triangular(times(d.low), times(d.likely), times(d.high)),
            }
        });
        Self { row, grown }
    }

    /// The distribution before any dig. With `known`, that part is held at what a measurement would leave of it:
    /// the difference in spread is what measuring it would gain.
    pub(super) fn spread(&self, known: Option<Part>) -> Spread {
        let row = self.row;
        let held = |part: Part, spread: Spread| hold(known, part, spread);
        self.metal_in_soil(known)
            .times(self.cutting(known))
            .plus(held(Part::Cleaner, row.cleaner.spread()))
            .plus(held(Part::Closing, row.closing.spread()))
            .plus(held(Part::Arms, self.arms_up()))
            .plus(held(Part::Speed, row.lost_to_speed.spread().scaled(row.faster)))
            .plus(held(Part::Weight, row.unit.spread().plus(row.attachments.spread())).scaled(-1.0))
    }

    /// The same with a hopper that is full to a share.
    pub(super) fn with_seed(&self, box_share: f64, known: Option<Part>) -> Spread {
        let seed = hold(known, Part::Seed, self.row.seed_full.spread().scaled(-box_share));
        let expected = self.spread(known).plus(seed);
        let taught = self.row.taught.as_ref();
        taught.map_or(expected, |taught| taught.weigh(self.row, box_share, expected))
    }

    /// The reaction of the opener.
    pub(super) fn opener(&self) -> Spread {
        let opener = self.row.opener.spread_by_ratio();
        let plain = self.over_exponents(|grown| opener.scaled(grown.opener));
        plain.times(self.cutting(None)).scaled(self.row.learned_scale())
    }

    /// The reaction of the coulter, whoever carries it; nothing without one.
    pub(super) fn coulter(&self) -> Option<Spread> {
        let coulter = self.row.coulter?.spread_by_ratio();
        let metal = self.over_exponents(|grown| coulter.times(grown.coulter));
        Some(metal.times(self.cutting(None)).scaled(self.row.learned_scale()))
    }

    /// What the arms take off the load, `H tan(theta)`.
    pub(super) fn arms_up(&self) -> Spread {
        self.row.draft.spread().times(self.row.arm_slope.spread())
    }

    /// Soil state times residue factor.
    fn cutting(&self, known: Option<Part>) -> Spread {
        let soil = self.row.soil.range.spread_by_ratio();
        let soil = if known == Some(Part::Soil) { self.row.soil.measured(soil) } else { soil };
        soil.times(self.residue(known))
    }

    fn residue(&self, known: Option<Part>) -> Spread {
        let rise = self.row.residue_rise.spread();
        // Counting the residue tells the mat; what a mat costs stays as uncertain as it was.
        let mat = hold(known, Part::Residue, self.row.mat.spread());
        Spread::exact(1.0).plus(rise.times(mat))
    }

    /// Opener and coulter before soil state and residue.
    ///
    /// Both grow with the same exponent of depth, so the sum is taken at fixed exponents and then
    /// averaged over them.
    fn metal_in_soil(&self, known: Option<Part>) -> Spread {
        let opener = self.row.opener.spread_by_ratio();
        let Some(coulter) = self.row.coulter.filter(|_| self.row.coulter_on_unit) else {
            return match known {
                Some(Part::Opener) => self.opener_known(),
                _ => self.over_exponents(|grown| opener.scaled(grown.opener)),
            };
        };
        let apart = coulter.spread_by_ratio();
        match known {
            Some(Part::Opener) => {
                // A dug opener tells its growth with depth as well; the middle node is the likely one.
                let [_, _, middle, _, _] = self.grown;
                self.opener_known().plus(apart.times(middle.coulter))
            }
            Some(Part::Coulter) => {
                let held = Spread::exact(apart.mean());
                self.over_exponents(|grown| {
                    opener.scaled(grown.opener).plus(held.times(grown.coulter))
                })
            }
            _ => self.over_exponents(|grown| together(self.row.opener, coulter, grown)),
        }
    }

    fn opener_known(&self) -> Spread {
        let [_, _, middle, _, _] = self.grown;
        Spread::exact(self.row.opener.spread_by_ratio().mean()).scaled(middle.opener)
    }

    fn over_exponents(&self, at: impl Fn(Grown) -> Spread) -> Spread {
        let [first, second, middle, fourth, fifth] = self.grown;
        let pair = |one: Grown, other: Grown| at(one).mixed(0.5, at(other));
        pair(first, second).mixed(0.5, pair(fourth, fifth)).mixed(0.8, at(middle))
    }
}

/// Opener and coulter meet the same soil: where it is harder for the one, it is harder for the other.
/// So their ranges are added end to end; how deep the coulter runs is another matter.
fn together(opener: Range, coulter: Range, grown: Grown) -> Spread {
    let deep = grown.coulter.mean();
    let sum = |end: fn(&Range) -> f64| end(&opener) * grown.opener + end(&coulter) * deep;
    let (low, likely, high) = (sum(|r| r.low), sum(|r| r.likely), sum(|r| r.high));
    let metal = Spread::exact(opener.likely)
        .scaled(grown.opener)
        .plus(grown.coulter.scaled(coulter.likely));
    Spread::by_ratio(low, likely, high).times(metal).scaled(1.0 / likely)
}

fn hold(known: Option<Part>, part: Part, spread: Spread) -> Spread {
    if known == Some(part) { Spread::exact(spread.mean()) } else { spread }
}

/// Five points of a triangular distribution, each standing for a fifth of it.
fn nodes(r: Range) -> [f64; 5] {
    [0.1, 0.3, 0.5, 0.7, 0.9].map(|p| r.quantile(p))
}
