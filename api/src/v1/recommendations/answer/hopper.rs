//! The hopper as it empties: whether one setting serves, and what to change where it does not.

use domain::settings::{HopperAdvice, HopperChange, LevelSetting};
use serde::Serialize;
use utoipa::ToSchema;

use super::SetOnPlanter;
use super::example_at;
use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::words::HopperFill;

/// What to do about the weight of the seed as a hopper empties.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/hopper"))))]
pub struct HopperOut {
    /// Load that the gauge wheels lose from full to empty.
    pub swing: Quantity,
    /// Width of the window, from its low end to its ceiling.
    pub window_width: Quantity,
    /// Whether one setting can serve full and empty: the swing is no wider than the window.
    #[schema(example = false)]
    pub one_setting_serves: bool,
    /// The setting that is best at each level alone. An emptier hopper never needs a lighter one.
    #[schema(max_items = 3)]
    pub at_levels: Vec<LevelSettingOut>,
    /// Where to change the setting on the way from full to empty; empty when one setting serves.
    #[schema(max_items = 10)]
    pub changes: Vec<HopperChangeOut>,
    /// Share of a full hopper, 0 to 1, at which to refill: no setting within reach keeps the wheels
    /// down below it. Absent when the hopper can be run empty, or refilling does not help.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 1, example = 0.3)]
    pub refill_at: Option<f64>,
}

impl HopperOut {
    pub(super) fn of(advice: &HopperAdvice, show: Show) -> Self {
        Self {
            swing: show.load(advice.swing),
            window_width: show.load(advice.window_width),
            one_setting_serves: advice.one_setting_serves,
            at_levels: advice.at_levels.iter().map(|it| LevelSettingOut::of(it, show)).collect(),
            changes: advice.changes.iter().map(|it| HopperChangeOut::of(it, show)).collect(),
            refill_at: advice.refill_at.map(share),
        }
    }
}

/// The setting for one level of the hopper.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/hopper/at_levels/0"))))]
pub struct LevelSettingOut {
    /// How full.
    pub hopper: HopperFill,
    /// The down force that the likely figures ask for.
    pub need: Quantity,
    /// The down force with the best chance at this level.
    pub per_row: Quantity,
    /// How to set it.
    pub setting: SetOnPlanter,
    /// Chance, 0 to 1, that the load then lies in the window.
    #[schema(minimum = 0, maximum = 1, example = 0.4)]
    pub chance_in_window: f64,
}

impl LevelSettingOut {
    fn of(level: &LevelSetting, show: Show) -> Self {
        Self {
            hopper: level.fill.into(),
            need: show.down_force(level.need),
            per_row: show.down_force(level.per_row),
            setting: SetOnPlanter::of(&level.setting, show),
            chance_in_window: share(level.chance_in_window),
        }
    }
}

/// A change of setting on the way from full to empty.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/down_force/hopper/changes/0"))))]
pub struct HopperChangeOut {
    /// Share of a full hopper, 0 to 1, from which the setting serves on the way down; 1 is full.
    #[schema(minimum = 0, maximum = 1, example = 0.5)]
    pub from_share: f64,
    /// The down force on each row.
    pub per_row: Quantity,
    /// How to set it.
    pub setting: SetOnPlanter,
}

impl HopperChangeOut {
    fn of(change: &HopperChange, show: Show) -> Self {
        Self {
            from_share: share(change.from_share),
            per_row: show.down_force(change.per_row),
            setting: SetOnPlanter::of(&change.setting, show),
        }
    }
}
