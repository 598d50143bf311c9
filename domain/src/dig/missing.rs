//! What a dig did not report, and what it would have told.

use serde::{Deserialize, Serialize};

use super::observation::Observation;
use super::reading::RowReading;
use crate::provenance::Text;

/// Something that nobody looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Missing {
    /// What was not reported.
    pub what: Text,
    /// What it would tell.
    pub would_tell: Text,
}

type Looked = fn(&RowReading) -> bool;

const ON_ROWS: &[(&str, &str, Looked)] = &[
    ("depth of the seeds", "whether the target was met, and how evenly", |r| {
        !r.seed_depths.is_empty()
    }),
    ("how the gauge wheels turn", "whether there is too little or too much down force", |r| {
        r.gauge_wheels.is_some() || r.logged_load.is_some()
    }),
    ("print of the gauge wheels", "whether the load presses the soil", |r| r.print.is_some()),
    ("wall of the furrow", "whether it is too wet, or the load too high", |r| r.wall.is_some()),
    ("bottom of the furrow", "whether the opener discs touch as they should", |r| {
        r.bottom.is_some()
    }),
    ("residue in the furrow", "whether residue was cut or tucked in", |r| {
        r.residue_in_furrow.is_some()
    }),
    (
        "whether the seed lies on the bottom",
        "whether seed depth is furrow depth; firmer and tube",
        |r| r.seed_on_bottom.is_some(),
    ),
    ("closing", "whether the closing wheels suit the soil", |r| r.closed.is_some()),
    ("moisture at the seed", "whether the seed will take up water", |r| r.moist_at_seed.is_some()),
    ("how the row cleaner runs", "whether it carries the unit", |r| r.cleaner.is_some()),
    ("spacing", "meters, speed and rate", |r| !r.spacings.is_empty()),
    ("a row behind a tyre", "whether packed soil asks for more on those rows", |r| r.behind_tyre),
    ("an outer row", "whether the ends of the frame lift", |r| r.outer),
];

/// What was not reported, in the order in which it would help.
pub fn missing(dig: &Observation) -> Vec<Missing> {
    let lacks = |what: &'static str, would_tell: &'static str| Missing {
        what: Text::Borrowed(what),
        would_tell: Text::Borrowed(would_tell),
    };
    let on_rows = ON_ROWS
        .iter()
        .filter(|(_, _, looked)| !dig.rows().iter().any(looked))
        .map(|(what, would_tell, _)| lacks(what, would_tell));
    let settings = dig.settings();
    let few = dig.rows().len() < 3;
    let loose = dig.rows().iter().any(|r| !r.spacings.is_empty() && r.stretch.is_none());
    let whereabouts = dig.whereabouts();
    let on_dig = [
        (
            loose,
            "length of row behind the spacings",
            "whether a spacing was left out or given twice: they must fit into it",
        ),
        (few, "more rows", "whether rows differ: three at least, five seeds on each"),
        (
            settings.down_force.is_none(),
            "down force in use",
            "how much to change it; the advised one is taken",
        ),
        (
            settings.lever_depth.is_none(),
            "depth of the lever",
            "whether the lever or the soil is to blame; the advised one is taken",
        ),
        (
            settings.speed.is_none(),
            "speed while planting",
            "whether speed is to blame; the advised one is taken",
        ),
        (
            settings.box_fill.is_none(),
            "how full the hoppers were",
            "how much weight seed added; half full is taken",
        ),
        (
            whereabouts.place.is_none(),
            "place in the field",
            "whether a later dig stands on the same ground",
        ),
        (
            whereabouts.as_planned.is_none(),
            "how the rows were chosen",
            "whether they speak for the planter: rows picked because they looked odd do not",
        ),
    ];
    on_rows
        .chain(on_dig.into_iter().filter(|(so, _, _)| *so).map(|(_, what, tell)| lacks(what, tell)))
        .collect()
}
