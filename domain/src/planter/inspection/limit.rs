//! Where a measured part begins to be watched, and where it is worn out.

use super::item::{ItemCode, Measure};
use super::owner::OwnerLimits;
use super::published::published;
use crate::planter::Planter;
use crate::provenance::{Coefficients, Mark};
use crate::quantity::{Length, Measured};

/// A limit, in SI base units.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// Which way a part goes as it wears.
    pub direction: Direction,
    /// Where to begin to watch it.
    pub watch: Option<f64>,
    /// Where it is worn out.
    pub replace: Option<f64>,
    /// Whether a part that is just at the limit has reached it.
    pub at_counts: bool,
    /// Whose limit it is.
    pub from: LimitFrom,
    /// What it says, in words.
    pub words: String,
    /// How it is known.
    pub mark: Mark,
    /// Where it stands.
    pub source: String,
}

/// Which way a part goes as it wears.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// It gets smaller: a diameter, a contact length.
    Falls,
    /// It gets larger: play, acres since a test.
    Rises,
    /// It is set, and must lie between `watch` (below) and `replace` (above).
    Between,
}

/// Whose limit it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitFrom {
    /// Entered from the manual with the other limits of the planter.
    Manual,
    /// Entered with the make-up of the planter.
    MakeUp,
    /// Published.
    Published,
}

/// The limit that counts: the owner's from the manual, else that of the make-up, else the published
/// one. `None` where nobody published any.
pub fn limit_in_force(
    item: ItemCode,
    planter: &Planter,
    owner: &OwnerLimits,
    k: &Coefficients,
) -> Option<Limit> {
    of_manual(item, planter, owner, k)
        .or_else(|| of_make_up(item, planter, k))
        .or_else(|| published(item, planter, owner, k).map(|it| it.limit))
}

/// Size of a part when new, in m, where it is known. Of the openers the make-up says it.
pub fn new_size(item: ItemCode, planter: &Planter, owner: &OwnerLimits) -> Option<f64> {
    match item {
        ItemCode::OpenerDiameter => Some(planter.unit.opener.new_diameter.si()),
        other => owner.part(other).and_then(|part| part.new),
    }
}

/// Which way an item goes as it wears; `None` where nothing is measured.
pub fn direction(item: ItemCode) -> Option<Direction> {
    let measure = item.item()?.measure?;
    Some(match (measure, item) {
        (
            Measure::Wear(_),
            ItemCode::ArmPlayVertical | ItemCode::ArmPlayHorizontal | ItemCode::GaugeWheelArmPlay,
        )
        | (Measure::Since(_), _) => Direction::Rises,
        (Measure::Wear(_), _) => Direction::Falls,
        (Measure::Set(_), _) => Direction::Between,
    })
}

/// Where to begin to watch a part: when so large a share of what it may wear is used up.
pub(super) fn watched(replace: f64, new: Option<f64>, k: &Coefficients) -> Option<f64> {
    new.map(|new| replace + k.wear_watched.value * (new - replace))
}

fn of_manual(
    item: ItemCode,
    planter: &Planter,
    owner: &OwnerLimits,
    k: &Coefficients,
) -> Option<Limit> {
    let part = owner.part(item)?;
    let direction = direction(item)?;
    if part.replace.is_none() && part.watch.is_none() {
        return None;
    }
    let new = match direction {
        Direction::Falls => new_size(item, planter, owner),
        Direction::Rises => Some(0.0),
        Direction::Between => None,
    };
    let watch = part.watch.or_else(|| watched(part.replace?, new, k));
    Some(Limit {
        direction,
        watch,
        replace: part.replace,
        at_counts: true,
        from: LimitFrom::Manual,
        words: "as the owner entered it from the manual".to_owned(),
        mark: Mark::Read,
        source: part.source.clone().unwrap_or_else(|| "the machine's manual, as entered".into()),
    })
}

fn of_make_up(item: ItemCode, planter: &Planter, k: &Coefficients) -> Option<Limit> {
    let opener = &planter.unit.opener;
    let replace = (item == ItemCode::OpenerDiameter).then_some(opener.manual_limit)?;
    let replace = replace.map(Length::si)?;
    Some(Limit {
        direction: Direction::Falls,
        watch: watched(replace, Some(opener.new_diameter.si()), k),
        replace: Some(replace),
        at_counts: true,
        from: LimitFrom::MakeUp,
        words: "as it was entered with the make-up of the planter".to_owned(),
        mark: Mark::Read,
        source: "the machine's manual, as entered".to_owned(),
    })
}
