//! The cover crop in the caller's units: nitrogen, the day of its end, insects.

use domain::provenance::Advice;
use domain::settings::{CoverAdvice, Starter};
use serde::Serialize;
use utoipa::ToSchema;

use super::example_at;
use crate::http::quantity::Quantity;
use crate::v1::conditions::nitrogen::{CarbonToNitrogen, MassRange, NitrogenCredit, credits};
use crate::v1::conditions::termination::Termination;
use crate::v1::conditions::{BridgeRisk, TieUp};
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{Reason, TraceStep, reasons, steps};

/// What to know about the cover crop.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/cover"))))]
pub struct CoverOut {
    /// Dry matter.
    pub dry_matter: MassRange,
    /// Carbon to nitrogen.
    pub carbon_to_nitrogen: CarbonToNitrogen,
    /// Nitrogen in the tops.
    pub nitrogen_in_tops: MassRange,
    /// What of it comes free in the first year, by source.
    #[schema(max_items = 20)]
    pub nitrogen_available: Vec<NitrogenCredit>,
    /// Whether it ties up nitrogen.
    pub tie_up: TieUp,
    /// Nitrogen to place beside the row at planting, where it makes up for what is tied up.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub starter: Option<StarterOut>,
    /// The last day for ending it.
    pub termination: Termination,
    /// Days from its end to planting; negative when it is ended after planting. Absent where one of
    /// both days is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = -14, maximum = 60, example = 12)]
    pub days_from_end_to_planting: Option<i64>,
    /// How likely pests are to move from it to the crop.
    pub green_bridge: BridgeRisk,
    /// What it means.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// The calculation of dry matter and nitrogen.
    #[schema(max_items = 100)]
    pub trace: Vec<TraceStep>,
}

/// Nitrogen beside the row: part of the crop's nitrogen, not on top of it, and never in the furrow.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "low": {"value": 50, "unit": "[lb_av]/[acr_us]"},
    "high": {"value": 70, "unit": "[lb_av]/[acr_us]"}
})))]
pub struct StarterOut {
    /// Least.
    pub low: Quantity,
    /// Most.
    pub high: Quantity,
}

impl CoverOut {
    pub(super) fn of(advice: Advice<CoverAdvice>, show: Show) -> Self {
        let Advice { choice, because, watch, .. } = advice;
        let starter =
            |it: Starter| StarterOut { low: show.nitrogen(it.low), high: show.nitrogen(it.high) };
        Self {
            dry_matter: MassRange::of(&choice.dry_matter, |it| show.dry_matter(it)),
            carbon_to_nitrogen: choice.carbon_to_nitrogen.into(),
            nitrogen_in_tops: MassRange::of(&choice.nitrogen_in_tops, |it| show.nitrogen(it)),
            nitrogen_available: credits(&choice.nitrogen_available, |it| show.nitrogen(it)),
            tie_up: choice.tie_up.into(),
            starter: choice.starter.map(starter),
            termination: choice.termination.into(),
            days_from_end_to_planting: choice.days_from_end_to_planting,
            green_bridge: choice.green_bridge.into(),
            because: reasons(because),
            watch: reasons(watch),
            trace: steps(choice.steps),
        }
    }
}
