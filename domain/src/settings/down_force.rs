//! The down-force setting: which force, how to set it, what happens as the hopper empties, what
//! the frame says, and what would help where the planter cannot reach the need.

use serde::{Deserialize, Serialize};

use super::box_states::{BoxState, box_states};
use super::choose::{AtFill, Band, Chosen, best, fills, heaviest, judged, settle};
use super::force_ranges::{ForceRange, force_ranges};
use super::frame::{FrameAdvice, FrameStage, frame_advice, frame_limit};
use super::hopper::{HopperAdvice, Source, hopper_advice};
use super::need::{Lift, likely_balance, likely_speed_loss};
use super::row::Row;
use super::soil_state::SoilFrom;
use super::source_check::{Needs, SourceCheck, source_check};
use super::window::{LoadWindow, Window};
use crate::planter::{DownForce, DriveCheck, FrameVerdict, Planter, SectionLoad, Setting};
use crate::provenance::Coefficients;
use crate::quantity::{Force, Measured};
use crate::stats::Range;

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
    /// What happens to the frame as the down force rises, the first first. This and what follows
    /// is absent in results of engine 2026.1.
    #[serde(default)]
    pub frame_stages: Vec<FrameStage>,
    /// Whether the ground drive keeps its grip, where there is one.
    #[serde(default)]
    pub ground_drive: Option<DriveCheck>,
    /// What to do as the hopper empties; `None` with central fill.
    #[serde(default)]
    pub hopper: Option<HopperAdvice>,
    /// What the source gives beside what is needed.
    #[serde(default)]
    pub source: Option<SourceCheck>,
    /// How hard the soil is, and how that is known.
    #[serde(default)]
    pub soil: Option<SoilUsed>,
    /// Every force with its range.
    #[serde(default)]
    pub forces: Vec<ForceRange>,
}

/// The soil-state factor that was used.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SoilUsed {
    /// Where it comes from.
    pub from: SoilFrom,
    /// The factor with its ends; 1 in moist soil.
    pub factor: Range,
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
    window: &Window,
    decided: Option<Force>,
    k: &Coefficients,
) -> DownForceAdvice {
    let lift = Lift::of(row);
    let shown = &window.shown;
    let need = likely_need(row, shown.aim, half_full(row));
    let frame_most = frame_limit(planter, row, k);
    let most = frame_most.unwrap_or(f64::INFINITY);
    let reach = reach(&planter.down_force, row, shown, need, frame_most);
    let source = Source { down_force: &planter.down_force, most };
    let band = likely_band(row, shown, half_full(row));
    let chosen = choose(source, &fills(&lift, row, window, None), &reach, band, decided);
    let force = Force::from_si(chosen.force);
    let frame = frame_advice(planter, row, &lift, force, k);
    let states = box_states(row, &lift, shown, force, k);
    let FrameAdvice { verdict, sections, drive, stages } = frame;
    let curve = lift.with_seed(half_full(row), None).plus(window.aim).curve();
    let needs = Needs { half: need, empty: likely_need(row, shown.aim, 0.0), set: force, decided };
    DownForceAdvice {
        per_row: force,
        setting: planter.down_force.setting_for(force),
        need,
        need_low: Force::from_si(curve.quantile(0.05)),
        need_high: Force::from_si(curve.quantile(0.95)),
        chance_in_window: chosen.chance,
        window: *shown,
        reach,
        frame: verdict,
        sections,
        frame_stages: stages,
        ground_drive: drive,
        hopper: hopper_advice(row, &lift, window, source, force),
        source: Some(source_check(&planter.down_force, needs, k)),
        soil: Some(SoilUsed { from: row.soil.from, factor: row.soil.range }),
        forces: force_ranges(row, &lift, window, &states),
        as_box_empties: states,
    }
}

/// The force that would be chosen without what digs taught, with its chance by what they did teach.
pub(super) fn chosen_without_digs(
    planter: &Planter,
    row: &Row,
    window: &Window,
    decided: Option<Force>,
    k: &Coefficients,
) -> Chosen {
    let plain = Row { taught: None, ..row.clone() };
    let need = likely_need(&plain, window.shown.aim, half_full(&plain));
    let frame_most = frame_limit(planter, &plain, k);
    let reach = reach(&planter.down_force, &plain, &window.shown, need, frame_most);
    let most = frame_most.unwrap_or(f64::INFINITY);
    let source = Source { down_force: &planter.down_force, most };
    let levels = fills(&Lift::of(&plain), &plain, window, None);
    let band = likely_band(&plain, &window.shown, half_full(&plain));
    let chosen = choose(source, &levels, &reach, band, decided);
    judged(&fills(&Lift::of(row), row, window, None), chosen.force)
}

/// The force to set, and its chance.
fn choose(
    source: Source<'_>,
    levels: &[AtFill],
    reach: &Reach,
    band: Band,
    decided: Option<Force>,
) -> Chosen {
    let Source { down_force, most } = source;
    let rough = match (decided, reach) {
        (Some(force), _) => judged(levels, force.si()),
        // Short of what is needed, less would only be worse: the tie rule does not apply.
        (None, Reach::TooLittle { .. }) => judged(levels, heaviest(down_force, most)),
        (None, _) => best(down_force, levels, most, Some(band)),
    };
    settle(down_force, rough, levels, most)
}

/// The hopper level for which the need is quoted.
pub(super) fn half_full(row: &Row) -> f64 {
    if row.seed_full.likely > 0.0 { 0.5 } else { 0.0 }
}

/// The down force for a load at the likely figures.
pub(super) fn likely_need(row: &Row, load: Force, box_share: f64) -> Force {
    likely_balance(row, box_share).needed_down_force(load) + likely_speed_loss(row)
}

/// The down forces that put the likely load into the window.
pub(super) fn likely_band(row: &Row, window: &LoadWindow, box_share: f64) -> Band {
    let need = |load: Force| likely_need(row, load, box_share).si();
    Band { from: need(window.low), to: need(window.ceiling) }
}

fn reach(
    source: &DownForce,
    row: &Row,
    window: &LoadWindow,
    need: Force,
    frame_most: Option<f64>,
) -> Reach {
    // A source that nobody calibrated may give anything; the frame holds it back all the same.
    let (least, most) =
        source.reach().map_or((0.0, f64::INFINITY), |(least, most)| (least.si(), most.si()));
    let frame = frame_most.unwrap_or(f64::INFINITY);
    let limit = most.min(frame);
    let half = half_full(row);
    let lowest_need = likely_need(row, window.low, half);
    if lowest_need.si() > limit + 1e-9 {
        let left = likely_balance(row, half).sum() - likely_speed_loss(row);
        return Reach::TooLittle {
            short_by: Force::from_si(need.si() - limit),
            frame_is_the_limit: frame < most,
            rides_out: left.si() + limit <= 0.0,
        };
    }
    let highest = likely_need(row, window.ceiling, half);
    if highest.si() < least {
        return Reach::TooMuch { over_by: Force::from_si(least - highest.si()) };
    }
    Reach::Within
}
