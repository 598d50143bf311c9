//! The limits that are published, with their sources. Where sources disagree, all are shown, and the
//! one that is used is named.

use super::item::ItemCode;
use super::limit::{Direction, Limit, LimitFrom, watched};
use super::owner::OwnerLimits;
use crate::planter::Planter;
use crate::provenance::{Coefficients, Mark, Reason, sources};
use crate::quantity::{Length, Measured};

const INCH: f64 = 0.0254;
/// One US survey acre, in m².
const ACRE: f64 = 4_046.872_609_874_252;

/// A published limit, and what other sources say.
#[derive(Debug, Clone, PartialEq)]
pub struct Published {
    /// The limit that is used.
    pub limit: Limit,
    /// What other sources say.
    pub others: Vec<Reason>,
}

/// The class of an opener blade by its thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BladeClass {
    /// Thickness, mm.
    pub thickness: f64,
    /// Least contact length, in.
    pub least: f64,
    /// Most contact length that the source names, in.
    pub most: f64,
}

impl BladeClass {
    /// Iowa State University, planter pre-plant checklist.
    pub const ALL: [Self; 3] = [
        Self { thickness: 3.0, least: 2.0, most: 2.5 },
        Self { thickness: 3.5, least: 1.5, most: 2.0 },
        Self { thickness: 4.0, least: 1.0, most: 1.0 },
    ];

    /// The class of a blade: within a quarter of a millimetre of its thickness. `None` for blades of
    /// which the source says nothing.
    pub fn of(blade: Length) -> Option<Self> {
        let thickness = blade.si() * 1000.0;
        Self::ALL.into_iter().find(|class| (class.thickness - thickness).abs() <= 0.25 + 1e-9)
    }
}

/// The published limit of an item; `None` where there is none that holds for all planters.
pub fn published(
    item: ItemCode,
    planter: &Planter,
    owner: &OwnerLimits,
    k: &Coefficients,
) -> Option<Published> {
    let limit = match item {
        ItemCode::OpenerDiameter => opener_diameter(planter, k),
        ItemCode::OpenerContact => contact(owner.blade_thickness),
        ItemCode::OpenerLeadingEdge => {
            between((None, Some(0.125)), "under 1/8 in of contact", READ_IOWA)
        }
        ItemCode::ArmPlayVertical => play(2.0, "under 2 in at the back of the unit", READ_IOWA, k),
        ItemCode::ArmPlayHorizontal => {
            play(1.0, "under 1 in at the back of the unit", READ_IOWA, k)
        }
        ItemCode::GaugeWheelArmPlay => Limit {
            at_counts: false,
            ..play(0.25, "more than 1/4 in of play: replace the arm", COMMON, k)
        },
        ItemCode::SeedMeter => meter(),
        ItemCode::ToolbarHeight => between(
            (Some(20.0), Some(22.0)),
            "20 in is read; 20 to 22 in is common practice",
            (Mark::Read, sources::PENNSYLVANIA_ALLIANCE),
        ),
        ItemCode::CoulterHeight => {
            between((Some(0.25), Some(0.375)), "1/4 to 3/8 in higher than the opener", COMMON)
        }
        ItemCode::ClosingGap => between(
            (Some(1.5), Some(2.0)),
            "1.5 to 2 in, rubber or cast iron",
            (Mark::Read, sources::PENN_CHECKLIST),
        ),
        _ => return None,
    };
    Some(Published { limit, others: other_sources(item) })
}

type From = (Mark, &'static str);

const READ_IOWA: From = (Mark::Read, sources::IOWA_CHECKLIST);
const COMMON: From = (Mark::CommonPractice, sources::COMMON_PRACTICE);

fn limit(direction: Direction, words: &str, (mark, source): From) -> Limit {
    Limit {
        direction,
        watch: None,
        replace: None,
        at_counts: true,
        from: LimitFrom::Published,
        words: words.to_owned(),
        mark,
        source: source.to_owned(),
    }
}

fn opener_diameter(planter: &Planter, k: &Coefficients) -> Limit {
    let new = planter.unit.opener.new_diameter.si();
    let figure = &k.disc_wear_limit;
    let replace = new - figure.value * INCH;
    let words = format!("{} in below new, where the manual is not at hand", figure.value);
    Limit {
        watch: watched(replace, Some(new), k),
        replace: Some(replace),
        source: figure.source.clone().into_owned(),
        ..limit(Direction::Falls, &words, (figure.mark, ""))
    }
}

/// By the thickness of the blade; where nobody measured it, between what the sources ask.
fn contact(blade: Option<Length>) -> Limit {
    match blade.and_then(BladeClass::of) {
        Some(class) => {
            let BladeClass { thickness, least, most } = class;
            let range = if least < most { format!("{least} to {most}") } else { least.to_string() };
            let words = format!("{range} in for blades of {thickness:.1} mm");
            Limit {
                replace: Some(least * INCH),
                at_counts: false,
                ..limit(Direction::Falls, &words, READ_IOWA)
            }
        }
        None => Limit {
            watch: Some(2.0 * INCH),
            replace: Some(1.5 * INCH),
            at_counts: false,
            ..limit(
                Direction::Falls,
                "1.5 to 2 in is ideal; the thickness of the blade is not known, and sources disagree",
                (Mark::Read, sources::MISSOURI_CHECK),
            )
        },
    }
}

fn play(inches: f64, words: &str, from: From, k: &Coefficients) -> Limit {
    let replace = inches * INCH;
    Limit {
        watch: watched(replace, Some(0.0), k),
        replace: Some(replace),
        ..limit(Direction::Rises, words, from)
    }
}

fn meter() -> Limit {
    let words = "test every year, or every 300 to 400 acres";
    Limit {
        watch: Some(300.0 * ACRE),
        replace: Some(400.0 * ACRE),
        ..limit(Direction::Rises, words, (Mark::Read, sources::PENN_READY))
    }
}

fn between((low, high): (Option<f64>, Option<f64>), words: &str, from: From) -> Limit {
    let metres = |inches: Option<f64>| inches.map(|it| it * INCH);
    Limit { watch: metres(low), replace: metres(high), ..limit(Direction::Between, words, from) }
}

/// What sources say that are not the one that is used by default.
pub fn other_sources(item: ItemCode) -> Vec<Reason> {
    let read = |text, source| Reason::fixed(text, Mark::Read, source);
    match item {
        ItemCode::OpenerDiameter => vec![
            read(
                "some accept 14.5 in, some 14 in from a 15 in disc; follow the manual; 14.75 in was kept in use",
                sources::PURDUE_TAPE,
            ),
            read(
                "a disc that should have gone at 14 in was at 13.5: inner spurs",
                sources::PENN_WEAR,
            ),
        ],
        ItemCode::OpenerContact => vec![
            read(
                "2 to 2.5 in for blades of 3.0 mm, 1.5 to 2 in for 3.5 mm, 1 in for 4.0 mm",
                sources::IOWA_CHECKLIST,
            ),
            read("about 2 in, discs side by side", sources::NEBRASKA_EQUIPMENT),
            read("2 to 3 in between cards", sources::PENN_OPENERS),
            read("usually 3 in, may vary with the planter", sources::PENN_CHECKLIST),
            read("less than 2 in: adjust or replace", sources::COLORADO_TEN),
            read("1.5 to 2 in is ideal", sources::MISSOURI_CHECK),
        ],
        ItemCode::ArmPlayVertical | ItemCode::ArmPlayHorizontal => vec![read(
            "stricter: it should not be easy to lift the unit or to move it sideways",
            sources::PENN_READY,
        )],
        ItemCode::ToolbarHeight => vec![Reason::fixed(
            "20 to 22 in under the bar, planter in the ground",
            Mark::CommonPractice,
            sources::COMMON_PRACTICE,
        )],
        ItemCode::CoulterHeight => vec![read(
            "the same depth as the opener discs, on a research planter with plain coulters of 0.47 m",
            "Fallahi, Raoufat 2008. Row-crop planter attachments in a conservation tillage system. Soil Till. Res. 98:27-34",
        )],
        _ => Vec::new(),
    }
}
