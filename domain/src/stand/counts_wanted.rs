//! How many counts a field takes.

use crate::conditions::Crop;
use crate::provenance::{Source, sources};
use crate::quantity::{Area, Measured, bounds, unit};
use crate::stats::units_needed;

/// How a stand was counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CountMethod {
    /// Plants in a length of one row.
    RowLength,
    /// Plants inside a hoop.
    Hoop,
    /// The distance rolled past 150 plants of a row.
    Wheel,
}

/// A published number of counts for a field.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountsWanted {
    /// At least so many.
    pub least: u32,
    /// At most so many, where the source gives a range.
    pub most: u32,
    /// Why, in words.
    pub words: &'static str,
    /// The citation.
    pub source: Source,
}

/// What is published for this crop, way of counting and area. Without an area only what does not
/// depend on it.
pub fn counts_wanted(crop: Crop, method: CountMethod, area: Option<Area>) -> Vec<CountsWanted> {
    let mut all = Vec::new();
    match method {
        CountMethod::Hoop => all.push(CountsWanted {
            least: 5,
            most: 5,
            words: "at least 5 throws of a hoop",
            source: sources::PURDUE_HOOP,
        }),
        CountMethod::RowLength => all.push(CountsWanted {
            least: 5,
            most: 5,
            words: "at least 5 counts of a thousandth of an acre",
            source: sources::TENNESSEE_COUNTS,
        }),
        CountMethod::Wheel => all.extend(area.map(|area| CountsWanted {
            least: times(area, 10.0),
            most: times(area, 5.0),
            words: "one walk past 150 plants for each 5 to 10 ac, in fairly even stands",
            source: sources::ILLINOIS_COUNT,
        })),
    }
    if crop == Crop::Corn {
        all.extend(area.and_then(by_area));
    }
    all
}

/// 3 counts up to 15 ac, 5 up to 30, 7 up to 50; nothing is published beyond.
fn by_area(area: Area) -> Option<CountsWanted> {
    let (counts, words) = match acres(area) {
        a if a <= 15.5 => (3, "3 counts in 1 to 15 ac"),
        a if a <= 30.5 => (5, "5 counts in 16 to 30 ac"),
        a if a <= 50.5 => (7, "7 counts in 31 to 50 ac"),
        _ => return None,
    };
    Some(CountsWanted {
        least: counts,
        most: counts,
        words,
        source: sources::NORTH_CAROLINA_COUNTS,
    })
}

fn times(area: Area, acres_a_count: f64) -> u32 {
    let counts = (acres(area) / acres_a_count).ceil().clamp(1.0, 4000.0);
    // A whole number between 1 and 4000.
    (1..=4000).find(|n| f64::from(*n) >= counts).unwrap_or(4000)
}

fn acres(area: Area) -> f64 {
    unit(bounds::FIELD_AREA.us).map_or_else(|| area.si(), |u| u.read(area))
}

/// Counts needed to know the stand to within a tenth at 95 %, by how much these counts differ:
/// the smallest n with t(0.975, n - 1) s / sqrt(n) <= 0.1. `None` where more than 200 would be.
pub fn counts_for_a_tenth(cv: f64) -> Option<u32> {
    units_needed(cv, 0.1, 200)
}
