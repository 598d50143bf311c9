//! What would help where the planter cannot do what the field asks.

use serde::{Deserialize, Serialize};

use super::down_force::{DownForceAdvice, Reach, half_full, likely_need};
use super::need::likely_coulter;
use super::row::Row;
use super::say::{inches, mph, pounds};
use crate::conditions::Conditions;
use crate::planter::{FrameVerdict, Planter};
use crate::provenance::{Coefficients, Mark, Reason, sources};
use crate::quantity::{Force, Length, Measured, Speed};

/// What to do instead of more force, the gentlest first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Remedy {
    /// What to do, with how much.
    pub what: Reason,
    /// The down force that would then be needed, half-full hopper.
    pub need_then: Option<Force>,
    /// Whether that is within reach.
    pub enough: bool,
}

/// The case that remedies are sought for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Case<'a> {
    /// The planter.
    pub planter: &'a Planter,
    /// The field.
    pub field: &'a Conditions,
    /// The coefficients.
    pub k: &'a Coefficients,
    /// The row at the wanted depth and speed.
    pub row: &'a Row,
    /// The wanted speed.
    pub speed: Speed,
    /// The shallowest safe depth.
    pub shallowest: Length,
}

/// Remedies for a setting that cannot be had, or for a window without room.
pub(super) fn remedies(case: &Case<'_>, advice: &DownForceAdvice) -> Vec<Remedy> {
    let mut list = match advice.reach {
        Reach::Within => Vec::new(),
        Reach::TooLittle { short_by, frame_is_the_limit, .. } => {
            too_little(case, advice, short_by, frame_is_the_limit)
        }
        Reach::TooMuch { over_by } => vec![lighter(over_by)],
    };
    if !advice.window.room {
        list.insert(0, no_room(advice));
    }
    if matches!(advice.frame, FrameVerdict::Lifts | FrameVerdict::Marginal)
        && !matches!(advice.reach, Reach::TooLittle { .. })
    {
        list.push(frame_weight());
    }
    list
}

fn too_little(
    case: &Case<'_>,
    advice: &DownForceAdvice,
    short_by: Force,
    frame: bool,
) -> Vec<Remedy> {
    let limit = advice.need - short_by;
    let half = half_full(case.row);
    let with = |row: &Row| likely_need(row, advice.window.low, half);
    let remedy = |text: String, need: Option<Force>, source| Remedy {
        what: Reason::made(text, Mark::Derived, source),
        enough: need.is_some_and(|n| n <= limit),
        need_then: need,
    };
    let mut list = Vec::new();
    if case.row.faster > 0.0 {
        let mut slow = case.row.clone();
        slow.faster = 0.0;
        let text = format!("slow down from {} to 5 mph (8 km/h)", mph(case.speed));
        list.push(remedy(text, Some(with(&slow)), sources::LOAD_AND_SPEED));
    }
    if case.shallowest.si() < case.row.depth - 1e-6 {
        let shallow = Row::gather(case.planter, case.field, case.k, case.shallowest, case.speed);
        let text = format!("plant at {}, the shallow end of what is safe", inches(case.shallowest));
        list.push(remedy(text, Some(with(&shallow)), sources::STATICS));
    }
    if case.row.coulter_on_unit && likely_coulter(case.row).si() > 0.0 {
        let mut bare = case.row.clone();
        bare.coulter = None;
        let text = "take the coulter off, or lift it clear: sharp openers cut by themselves";
        list.push(remedy(text.to_owned(), Some(with(&bare)), sources::NEBRASKA_EQUIPMENT));
    }
    list.push(if frame { frame_weight() } else { stronger(limit + short_by) });
    list.push(Remedy {
        what: Reason::fixed(
            "wait for rain to soften the soil, if the date allows it",
            Mark::CommonPractice,
            sources::COMMON_PRACTICE,
        ),
        need_then: None,
        enough: false,
    });
    list
}

fn stronger(need: Force) -> Remedy {
    Remedy {
        what: Reason::made(
            format!("fit springs, bags or cylinders that give {} on each row", pounds(need)),
            Mark::Derived,
            sources::STATICS,
        ),
        need_then: Some(need),
        enough: true,
    }
}

fn frame_weight() -> Remedy {
    Remedy {
        what: Reason::fixed(
            "the frame lacks weight to push against: add weight on the section that lifts, or take frame coulters off; more pressure only lifts the bar",
            Mark::Read,
            sources::NEBRASKA_RIGHT_MOVES,
        ),
        need_then: None,
        enough: true,
    }
}

fn lighter(over_by: Force) -> Remedy {
    Remedy {
        what: Reason::made(
            format!(
                "the unit is {} too heavy for this soil even with no added force: use up-lift, take weight off the unit, fill hoppers half, or wait until it is drier",
                pounds(over_by)
            ),
            Mark::Derived,
            sources::IOWA_WET,
        ),
        need_then: None,
        enough: false,
    }
}

fn no_room(advice: &DownForceAdvice) -> Remedy {
    Remedy {
        what: Reason::made(
            format!(
                "no force is right: wheels need {} to stay down and this soil smears above {}. Wait until it is drier, or slow down and dig",
                pounds(advice.window.contact),
                pounds(advice.window.ceiling)
            ),
            Mark::Read,
            sources::IOWA_WET,
        ),
        need_then: None,
        enough: false,
    }
}
