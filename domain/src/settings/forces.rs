//! The vertical balance of one row unit (B1 to B6).
//!
//! A unit on two equal parallel arms does not turn, so only its total vertical and horizontal
//! force matter:
//!
//! `G = W_u + W_s + W_att + F_dp - H tan(theta) - R_o - R_c - R_rc - R_cl`
//!
//! G is the load on the gauge wheels of the row. A balance of zero or less means that the unit
//! rides out: the wheels carry nothing and depth is lost. All forces in N per row.

use serde::{Deserialize, Serialize};

use crate::quantity::{Angle, Force, Length, Measured};
use crate::stats::{phi, phi_inverse};

/// The disc diameter for which the opener coefficient stands, in m (15 in).
pub const REFERENCE_DISC: f64 = 0.381;
/// The depth for which opener and coulter coefficients stand, in m.
pub const REFERENCE_DEPTH: f64 = 0.050;

/// What makes soil hard to enter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Soil {
    /// Exponent of depth, 0.5 to 1.5.
    pub exponent: f64,
    /// Soil-state factor, 1 in moist soil.
    pub state: f64,
    /// Residue factor, 1 on bare ground.
    pub residue: f64,
}

/// Upward reaction on the openers (B2): `K_o (d / 50 mm)^n s_m f_res (D / 381 mm)`.
///
/// `k_o` in N; `disc` is the diameter of the NEW disc.
pub fn opener_reaction(k_o: f64, depth: Length, soil: Soil, disc: Length) -> Force {
    let share = depth.si().max(0.0) / REFERENCE_DEPTH;
    let disc = disc.si() / REFERENCE_DISC;
    Force::from_si(k_o * share.powf(soil.exponent) * soil.state * soil.residue * disc)
}

/// Upward reaction on one coulter (B3): `K_c (max(d_c, 0) / 50 mm)^n s_m f_res`.
pub fn coulter_reaction(k_c: f64, depth: Length, soil: Soil) -> Force {
    let share = depth.si().max(0.0) / REFERENCE_DEPTH;
    Force::from_si(k_c * share.powf(soil.exponent) * soil.state * soil.residue)
}

/// What the arms add to the load of the unit: `-H tan(theta)`, negative when they slope down.
pub fn arm_force(draft: Force, angle: Angle) -> Force {
    Force::from_si(-draft.si() * angle.si().tan())
}

/// Arm angle from a bar that runs too high: `sin(theta) = dh / L`.
///
/// `None` when the height error is not smaller than the arm.
pub fn arm_angle(bar_too_high: Length, arm: Length) -> Option<Angle> {
    let sine = bar_too_high.si() / arm.si();
    (sine.abs() < 1.0).then(|| Angle::from_si(sine.asin()))
}

/// Share of the time that a gauge wheel is off the ground: Phi(-G / sigma).
///
/// The load is taken as normal with a standard deviation that speed does not change (an
/// assumption on top of one published table).
pub fn contact_loss(mean_load: Force, scatter: Force) -> f64 {
    phi(-mean_load.si() / scatter.si())
}

/// The mean load at which the wheels lose contact for a share `p` of the time: z sigma.
pub fn load_for_loss(p: f64, scatter: Force) -> Force {
    Force::from_si(-phi_inverse(p) * scatter.si())
}

/// The parts of the balance of one row unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Balance {
    /// Bare unit.
    pub unit: Force,
    /// Seed on the row.
    pub seed: Force,
    /// Attachments on the unit.
    pub attachments: Force,
    /// Added force.
    pub down_force: Force,
    /// What the arms add, `-H tan(theta)`.
    pub arms: Force,
    /// Opener reaction.
    pub opener: Force,
    /// Reaction of a coulter on the unit; 0 if it hangs on the frame.
    pub coulter: Force,
    /// Lift of a row cleaner.
    pub cleaner: Force,
    /// Lift of the closing wheels.
    pub closing: Force,
}

impl Balance {
    /// The sum B1, which may be negative.
    pub fn sum(&self) -> Force {
        self.unit + self.seed + self.attachments + self.down_force + self.arms
            - self.opener
            - self.coulter
            - self.cleaner
            - self.closing
    }

    /// Load on the gauge wheels: the sum, or nothing when the unit rides out.
    pub fn gauge_wheel_load(&self) -> Force {
        Force::from_si(self.sum().si().max(0.0))
    }

    /// Whether the unit rides out and depth is lost.
    pub fn rides_out(&self) -> bool {
        self.sum().si() <= 0.0
    }

    /// The down force for a wanted load (B6). The `down_force` of the balance is not used.
    pub fn needed_down_force(&self, load: Force) -> Force {
        load - (self.sum() - self.down_force)
    }

    /// The opener reaction when the wheels spin free: the opener carries everything.
    ///
    /// Only a dig with free wheels measures it. The `opener` of the balance is not used.
    pub fn opener_with_free_wheels(&self) -> Force {
        self.sum() + self.opener
    }
}
