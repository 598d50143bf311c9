//! The down-force setting: which force, how to set it, what happens as the hopper empties, what
//! the frame says, and what would help where the planter cannot reach the need.

use serde::{Deserialize, Serialize};

use super::box_states::{BoxState, box_states};
use super::choose::{AtFill, Chosen, best, chance, fills, heaviest, judged};
use super::need::{Lift, likely_balance, likely_coulter, likely_speed_loss};
use super::row::Row;
use super::window::LoadWindow;
use crate::planter::{
    DownForce, FrameVerdict, Planter, RowOnFrame, SectionLoad, Setting, frame_check,
};
use crate::provenance::Coefficients;
use crate::quantity::{Force, Measured};

/// The advice on down force.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DownForceAdvice {
    /// The force to set on each row.
    pub per_row: Force,
    /// How to set it on this planter.
    pub setting: Setting,
    /// The force that the likely figures ask for, half-full hopper: the sum to follow by hand.
    pub need: Force,
    /// Low end (5 %) of what may be needed, half-full hopper.
    pub need_low: Force,
    /// High end (95 %) of what may be needed.
    pub need_high: Force,
    /// Chance that the load lies in the window with this setting.
    pub chance_in_window: f64,
    /// The window.
    pub window: LoadWindow,
    /// What the gauge wheels carry as the hopper empties.
    pub as_box_empties: Vec<BoxState>,
    /// Whether the planter can do what is needed.
    pub reach: Reach,
    /// Whether the frame holds.
    pub frame: FrameVerdict,
    /// What is left on each section, tanks empty.
    pub sections: Vec<SectionLoad>,
}

/// Whether the planter can do what is needed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Reach {
    /// It can.
    Within,
    /// The source, or the frame, does not give enough.
    TooLittle {
        /// What is missing on each row.
        short_by: Force,
        /// Whether the frame is the limit rather than the source.
        frame_is_the_limit: bool,
        /// Whether the unit rides out even at the limit.
        rides_out: bool,
    },
    /// The unit is too heavy even with the least force.
    TooMuch {
        /// What is too much on each row, half-full hopper.
        over_by: Force,
    },
}

/// Works out the down force of a row, or judges the one that was decided after a dig.
pub(super) fn down_force(
    planter: &Planter,
    row: &Row,
    window: &LoadWindow,
    decided: Option<Force>,
    k: &Coefficients,
) -> DownForceAdvice {
    let lift = Lift::of(row);
    let levels = fills(&lift, row);
    let half = half_full(row);
    let need = likely_need(row, window.aim, half);
    let curve = lift.with_seed(half, None).curve();
    let frame_most = frame_limit(planter, row, k);
    let most = frame_most.unwrap_or(f64::INFINITY);
    let reach = reach(&planter.down_force, row, window, need, frame_most);
    let rough = match (decided, &reach) {
        (Some(force), _) => judged(&levels, window, force.si()),
        // Short of what is needed, less would only be worse: the tie rule does not apply.
        (None, Reach::TooLittle { .. }) => {
            judged(&levels, window, heaviest(&planter.down_force, most))
        }
        (None, _) => best(&planter.down_force, &levels, window, most),
    };
    let chosen = settle(&planter.down_force, rough, &levels, window, most);
    let force = Force::from_si(chosen.force);
    let (frame, sections) = frame_check(
        &planter.frame,
        row_on_frame(row, force),
        Force::from_si(k.frame_reserve.value),
    );
    DownForceAdvice {
        per_row: force,
        setting: planter.down_force.setting_for(force),
        need,
        need_low: Force::from_si(curve.quantile(0.05)) + window.aim,
        need_high: Force::from_si(curve.quantile(0.95)) + window.aim,
        chance_in_window: chosen.chance,
        window: *window,
        as_box_empties: box_states(row, &lift, window, force, k),
        reach,
        frame,
        sections,
    }
}

/// The hopper level for which the need is quoted.
pub(super) fn half_full(row: &Row) -> f64 {
    if row.seed_full.likely > 0.0 { 0.5 } else { 0.0 }
}

/// The down force for a load at the likely figures.
pub(super) fn likely_need(row: &Row, load: Force, box_share: f64) -> Force {
    likely_balance(row, box_share).needed_down_force(load) + likely_speed_loss(row)
}

/// Moves a force to one that can be set, never above what the frame holds.
fn settle(
    source: &DownForce,
    rough: Chosen,
    levels: &[AtFill],
    window: &LoadWindow,
    most: f64,
) -> Chosen {
    let settable = source.nearest_settable(Force::from_si(rough.force)).si();
    if settable > most + 1e-9 {
        return rough;
    }
    Chosen { force: settable, chance: chance(levels, window, settable) }
}

/// The most down force per row at which every section of the frame keeps its reserve.
fn frame_limit(planter: &Planter, row: &Row, k: &Coefficients) -> Option<f64> {
    let on_frame = row_on_frame(row, Force::from_si(0.0));
    let (_, sections) =
        frame_check(&planter.frame, on_frame, Force::from_si(k.frame_reserve.value));
    sections.iter().map(|s| s.most_per_row.si().max(0.0)).reduce(f64::min)
}

fn row_on_frame(row: &Row, down_force: Force) -> RowOnFrame {
    let coulter = if row.coulter_on_unit { Force::from_si(0.0) } else { likely_coulter(row) };
    let arm_pull = Force::from_si(row.draft.likely * row.arm_slope.likely);
    RowOnFrame { down_force, coulter, arm_pull }
}

fn reach(
    source: &DownForce,
    row: &Row,
    window: &LoadWindow,
    need: Force,
    frame_most: Option<f64>,
) -> Reach {
    let Some((least, most)) = source.reach() else {
        return Reach::Within;
    };
    let frame = frame_most.unwrap_or(f64::INFINITY);
    let limit = most.si().min(frame);
    let half = half_full(row);
    let lowest_need = likely_need(row, window.low, half);
    if lowest_need.si() > limit + 1e-9 {
        let left = likely_balance(row, half).sum() - likely_speed_loss(row);
        return Reach::TooLittle {
            short_by: Force::from_si(need.si() - limit),
            frame_is_the_limit: frame < most.si(),
            rides_out: left.si() + limit <= 0.0,
        };
    }
    let highest = likely_need(row, window.ceiling, half);
    if highest < least {
        return Reach::TooMuch { over_by: least - highest };
    }
    Reach::Within
}
