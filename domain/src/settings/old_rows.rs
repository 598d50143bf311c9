//! Where the new rows should run, seen from the old ones.

use serde::{Deserialize, Serialize};

use crate::conditions::{Conditions, Crop, PreviousCrop, RowPosition};
use crate::provenance::{Advice, Coefficients, Mark, Reason, sources};
use crate::quantity::{Length, Measured};

/// The advice on the place of the rows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct OldRowsAdvice {
    /// Where to run.
    pub run: RowPosition,
    /// How far beside the old row, when it is beside.
    pub beside: Option<Length>,
    /// Where they are meant to run, when somebody said.
    pub reported: Option<RowPosition>,
}

/// Works out where the new rows should run.
///
/// Corn on corn: a hand's width beside the old row, off its root balls. Another crop before: on the
/// old row. Never between, where wheels ran. `None` where the crop before is unknown or left no
/// rows and nobody named a place, or where the rows run across.
pub fn old_rows(c: &Conditions, k: &Coefficients) -> Option<Advice<OldRowsAdvice>> {
    let corn_on_corn = c.crop == Crop::Corn && c.previous_crop == Some(PreviousCrop::Corn);
    let reported = c.row_position;
    if reported == Some(RowPosition::Across) || !corn_on_corn && reported.is_none() {
        return None;
    }
    let run = if corn_on_corn { RowPosition::BesideOldRow } else { RowPosition::OnOldRow };
    let distance = Length::from_si(k.old_row_distance.value * 0.0254);
    let differs = reported.is_some_and(|place| place != run);
    let list = [
        (reported == Some(RowPosition::BetweenOldRows), WHEEL_TRACKS),
        (corn_on_corn && reported == Some(RowPosition::OnOldRow), ROOT_BALLS),
        (differs, GUIDANCE),
    ];
    Some(Advice {
        choice: OldRowsAdvice { run, beside: corn_on_corn.then_some(distance), reported },
        because: vec![if corn_on_corn { CORN_ON_CORN } else { ROTATION }],
        watch: list.into_iter().filter(|(holds, _)| *holds).map(|(_, reason)| reason).collect(),
        assumed: Vec::new(),
    })
}

const CORN_ON_CORN: Reason =
    Reason::fixed("corn on corn: about 5 in beside the old row", Mark::Read, sources::NEBRASKA_DRY);
const ROTATION: Reason = Reason::fixed(
    "in a rotation: on the old row, not between the rows",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const WHEEL_TRACKS: Reason = Reason::fixed(
    "between the old rows run the wheel tracks: hard ground, so rows differ",
    Mark::Read,
    sources::NEBRASKA_DRY,
);
const ROOT_BALLS: Reason = Reason::fixed(
    "on the old corn row the unit bounces over root balls",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
const GUIDANCE: Reason = Reason::fixed(
    "move the guidance line before you change settings",
    Mark::CommonPractice,
    sources::COMMON_PRACTICE,
);
