//! Where in the field to dig.

use serde::{Deserialize, Serialize};

use super::say::feet;
use crate::provenance::{Coefficients, Mark, Reason, Text, sources};
use crate::quantity::{Length, Measured};

const FOOT: f64 = 0.3048;

/// A place to dig at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DigPlace {
    /// Where it is, to be read after "dig ...".
    pub words: Text,
    /// Why there.
    pub because: Reason,
}

/// The place of every dig: full speed, ordinary ground.
pub(super) fn first(k: &Coefficients) -> DigPlace {
    let from_stop = Length::from_si(k.dig_from_stop.value * FOOT);
    let words = format!(
        "at least {} from where you stopped or turned, on average ground, not on the headland and not in the first pass",
        feet(from_stop)
    );
    let because = "far enough behind the stop full speed was held; headland and first pass are left out by common practice";
    DigPlace {
        words: Text::Owned(words),
        because: Reason::fixed(because, k.dig_from_stop.mark, sources::CANOLA_DIG),
    }
}

/// A second place, where the rows did not agree about the load.
pub(super) fn second(k: &Coefficients) -> DigPlace {
    let spots = &k.soil_spots;
    let because = format!(
        "the rows did not agree about the load, and the soil resists about {:.0} % more or less from spot to spot",
        spots.value * 100.0
    );
    DigPlace {
        words: Text::Borrowed(
            "in another part of the field, where the ground looks harder or softer than at the first place",
        ),
        because: Reason::made(because, spots.mark, spots.source.clone()),
    }
}

/// Why an end, a tyre row and rows between.
pub(super) const ROWS: Reason = Reason::fixed(
    "a row at each end, a row behind a tyre and rows between them: a frame that lifts, packed soil and worn units show on different rows",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
