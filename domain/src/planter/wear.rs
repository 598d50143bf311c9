//! Wear of the opener discs: when to replace them, and what it does to depth (B8).

use serde::{Deserialize, Serialize};

use super::OpenerDisc;
use crate::quantity::{Length, Measured};

/// What to do with a pair of opener discs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DiscVerdict {
    /// Above the limit.
    Keep,
    /// At or below the limit.
    Replace,
    /// Nobody measured.
    NotMeasured,
}

/// Compares a disc with its limit: the manual's where it is given, else new less `usual_wear`.
///
/// A disc at the limit is replaced.
pub fn disc_wear(disc: &OpenerDisc, usual_wear: Length) -> DiscVerdict {
    let limit = disc.manual_limit.unwrap_or(disc.new_diameter - usual_wear);
    match disc.measured {
        None => DiscVerdict::NotMeasured,
        Some(now) if now.si() <= limit.si() + 1e-9 => DiscVerdict::Replace,
        Some(_) => DiscVerdict::Keep,
    }
}

/// Depth lost to wear: half the loss of diameter (geometry). Never negative.
fn lost(disc: &OpenerDisc) -> f64 {
    disc.measured.map_or(0.0, |now| ((disc.new_diameter.si() - now.si()) / 2.0).max(0.0))
}

impl OpenerDisc {
    /// Depth that the furrow loses to wear at an unchanged lever.
    pub fn depth_lost(&self) -> Length {
        Length::from_si(lost(self))
    }
}

/// Furrow depth at a lever depth: `d_real` = `d_lever` - (`D_new` - D) / 2, never negative.
pub fn real_depth(lever: Length, disc: &OpenerDisc) -> Length {
    Length::from_si((lever.si() - lost(disc)).max(0.0))
}
