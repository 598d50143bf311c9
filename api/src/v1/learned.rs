//! What digs taught, on the wire.

use domain::learning::{DigsCounted, SetForce, Taught};
use domain::stats::Range;
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};

/// What digs taught about the soil, and what that changed.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = Learned, examples(json!({
    "words": "from 14 digs on this planter in medium soil under living cover, 2 of them here this season: soil asks 1.18 times (1.02 to 1.36) what was expected without digs; down force 185 lbf (823 N) instead of 140 lbf (623 N)",
    "soil_and_cover": "medium soil under living cover",
    "digs": {"here_this_season": 2, "field": 2, "planter": 14, "soil_and_cover": 37, "practice": 61},
    "resistance": {"low": 1.02, "middle": 1.18, "high": 1.36},
    "resistance_before": {"low": 0.62, "middle": 1, "high": 1.61},
    "down_force": {"value": 185, "unit": "[lbf_av]"}, "chance_in_window": 0.66,
    "down_force_before": {"value": 140, "unit": "[lbf_av]"}, "chance_before": 0.41
})))]
pub struct LearnedOut {
    /// All of it in a sentence.
    pub words: String,
    /// The soil and cover in which digs are pooled.
    #[schema(example = "medium soil under living cover")]
    pub soil_and_cover: String,
    /// Digs behind it, from near to far.
    pub digs: DigsBehind,
    /// What soil asks of opener and coulter, over what was expected before.
    pub resistance: Factor,
    /// The same before: without a single dig for a recommendation, without this dig for a dig check.
    pub resistance_before: Factor,
    /// The down force on each row that is advised.
    pub down_force: Quantity,
    /// Chance that the gauge-wheel load then lies in the window.
    #[schema(minimum = 0, maximum = 1, example = 0.66)]
    pub chance_in_window: f64,
    /// The down force that would have been advised without digs; for a dig check the one that was in
    /// use.
    pub down_force_before: Quantity,
    /// Its chance, by what is known now.
    #[schema(minimum = 0, maximum = 1, example = 0.41)]
    pub chance_before: f64,
}

impl LearnedOut {
    /// In these units.
    pub fn of(it: Taught, show: Show) -> Self {
        let Taught { class, digs, factor, factor_before, set, before, words } = it;
        let force = |it: SetForce| (show.down_force(it.force), share(it.chance));
        let (down_force, chance_in_window) = force(set);
        let (down_force_before, chance_before) = force(before);
        Self {
            words: words.into_owned(),
            soil_and_cover: class.words(),
            digs: digs.into(),
            resistance: factor.into(),
            resistance_before: factor_before.into(),
            down_force,
            chance_in_window,
            down_force_before,
            chance_before,
        }
    }
}

/// How many digs stand behind an estimate. Each count holds the ones before it.
#[derive(Debug, Clone, Copy, Serialize, ToSchema)]
#[schema(examples(json!({
    "here_this_season": 2, "field": 2, "planter": 14, "soil_and_cover": 37, "practice": 61
})))]
pub struct DigsBehind {
    /// In this field, this season.
    #[schema(example = 2)]
    pub here_this_season: u32,
    /// In this field behind this planter, all seasons.
    #[schema(example = 2)]
    pub field: u32,
    /// Behind this planter in this soil and cover.
    #[schema(example = 14)]
    pub planter: u32,
    /// Behind all planters of the practice in this soil and cover.
    #[schema(example = 37)]
    pub soil_and_cover: u32,
    /// In the whole practice.
    #[schema(example = 61)]
    pub practice: u32,
}

impl From<DigsCounted> for DigsBehind {
    fn from(it: DigsCounted) -> Self {
        let DigsCounted { season, field, planter, class, practice } = it;
        Self { here_this_season: season, field, planter, soil_and_cover: class, practice }
    }
}

/// A factor with its 90 % range.
#[derive(Debug, Clone, Copy, Serialize, ToSchema)]
#[schema(as = LearnedFactor, examples(json!({"low": 1.02, "middle": 1.18, "high": 1.36})))]
pub struct Factor {
    /// 5 % of what it may be.
    #[schema(minimum = 0, example = 1.02)]
    pub low: f64,
    /// The middle.
    #[schema(minimum = 0, example = 1.18)]
    pub middle: f64,
    /// 95 % of what it may be.
    #[schema(minimum = 0, example = 1.36)]
    pub high: f64,
}

impl From<Range> for Factor {
    fn from(it: Range) -> Self {
        let Range { low, likely, high } = it;
        Self { low: share(low), middle: share(likely), high: share(high) }
    }
}
