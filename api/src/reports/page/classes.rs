//! Codes of soils, covers and causes in words.

use domain::conditions::Crop;
use domain::dig::Cause;
use domain::learning::{CoverClass, SoilClass, SoilGroup};
use domain::season::report::ShedReason;

pub fn soil(it: SoilGroup) -> &'static str {
    match it {
        SoilGroup::Unknown => "soil not named",
        SoilGroup::Coarse => "coarse (sands)",
        SoilGroup::Medium => "medium (loams)",
        SoilGroup::Fine => "fine (clays)",
    }
}

pub fn cover(it: CoverClass) -> &'static str {
    match it {
        CoverClass::NoCover => "no cover crop",
        CoverClass::Living => "living cover",
        CoverClass::Dead => "dead cover",
    }
}

/// `medium (loams), living cover`.
pub fn class(it: SoilClass) -> String {
    format!("{}, {}", soil(it.soil), cover(it.cover))
}

pub fn crop(it: Crop) -> &'static str {
    match it {
        Crop::Corn => "corn",
        Crop::Soybean => "soybean",
    }
}

pub fn shed_reason(it: ShedReason) -> &'static str {
    match it {
        ShedReason::OpenReplacement => "inspection: replace",
        ShedReason::Wear => "wear",
        ShedReason::Digs => "found at digs",
    }
}

/// What a change dealt with.
pub fn cause(it: Option<Cause>) -> &'static str {
    let Some(it) = it else { return "no sign: what all digs together say of the force" };
    match it {
        Cause::SoilTooWet => "soil too wet to plant",
        Cause::CleanerTooDeep => "row cleaners carried the units",
        Cause::CleanerWrapped => "row cleaners wrapped",
        Cause::FrameLifts => "ends of the frame lifted",
        Cause::BarTooHigh => "bar too high",
        Cause::BarTooLow => "bar too low",
        Cause::WornOrMisread => "worn discs, or a lever that reads too deep",
        Cause::Hairpin => "residue tucked into the furrow",
        Cause::DiscsApart => "opener discs don't touch as they should",
        Cause::SeedOffBottom => "seed not on the bottom of the furrow",
        Cause::LooseUnit => "loose arms or bushings",
        Cause::UnevenRows => "rows set differently",
        Cause::TooMuchForce => "too much down force",
        Cause::TooLittleForce => "too little down force",
        Cause::TooFast => "too fast: units bounced",
        Cause::LeverOff => "depth lever in the wrong notch",
        Cause::DrySeedZone => "seed in dry soil",
        Cause::TyreTracks => "packed soil behind tires",
        Cause::OddRow => "something on a single row",
        Cause::ClosingTooMild => "closing wheels too mild",
        Cause::ClosingOffCentre => "closing wheels off the furrow",
        Cause::ClosingTooHard => "closing wheels too hard",
        Cause::SpacingTooFast => "spacing spoiled by speed",
        Cause::Meter => "meters uneven",
        Cause::RateOff => "rate off",
    }
}
