//! What the owner enters from the manual of the machine.

use std::collections::BTreeMap;

use super::item::ItemCode;
use crate::quantity::Length;

/// What the manual says of the parts of a planter, as far as somebody entered it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OwnerLimits {
    /// Thickness of the blade of the opener discs.
    pub blade_thickness: Option<Length>,
    /// By item.
    pub parts: BTreeMap<ItemCode, OwnerPart>,
}

/// What the manual says of one part, in SI base units.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct OwnerPart {
    /// Size when new.
    pub new: Option<f64>,
    /// Where to begin to watch it.
    pub watch: Option<f64>,
    /// Where to replace it.
    pub replace: Option<f64>,
    /// Where that stands: a page of the manual.
    pub source: Option<String>,
}

impl OwnerLimits {
    /// What was entered for an item.
    pub fn part(&self, item: ItemCode) -> Option<&OwnerPart> {
        self.parts.get(&item)
    }
}
