//! Coulter, row cleaner and the place of the rows, in the caller's units.

use domain::conditions::RiskPoint;
use domain::provenance::Advice;
use domain::settings::{CoulterAdvice, OldRowsAdvice, RowCleanerAdvice};
use serde::Serialize;
use utoipa::ToSchema;

use super::example_at;
use crate::http::quantity::Quantity;
use crate::v1::conditions::RowPosition;
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::words::{CleanerUse, CoulterUse, HairpinRisk, WrapRisk};
use crate::v1::trace::{Reason, reasons};

/// What to do with the coulter.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/coulter"))))]
pub struct CoulterOut {
    /// What to do.
    pub coulter: CoulterUse,
    /// How much higher its edge runs than the opener's, when it runs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub above_opener: Option<Quantity>,
    /// The risk of straw in the slot with the coulter as advised.
    pub hairpins: HairpinRisk,
    /// The sum of the points behind that risk.
    #[schema(minimum = 0, maximum = 3, example = 1.5)]
    pub hairpin_points: f64,
    /// What makes up that risk, each cause with its points.
    #[schema(max_items = 20)]
    pub points: Vec<RiskPointOut>,
    /// What would lower that risk, the gentlest first.
    #[schema(max_items = 20)]
    pub lower: Vec<Reason>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl CoulterOut {
    /// In these units.
    pub fn of(advice: &Advice<CoulterAdvice>, show: Show) -> Self {
        let choice = &advice.choice;
        Self {
            coulter: choice.coulter.into(),
            above_opener: choice.above_opener.map(|height| show.coulter(height)),
            hairpins: choice.hairpins.into(),
            hairpin_points: share(choice.total),
            points: points(&choice.points),
            lower: reasons(choice.lower.clone()),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// How to run the row cleaner.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/row_cleaner"))))]
pub struct CleanerOut {
    /// What to do.
    pub cleaner: CleanerUse,
    /// The risk that stems wrap.
    pub wrap: WrapRisk,
    /// The sum of the points behind that risk.
    #[schema(minimum = 0, example = 2)]
    pub wrap_points: f64,
    /// What makes up that risk, each cause with its points.
    #[schema(max_items = 20)]
    pub points: Vec<RiskPointOut>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl CleanerOut {
    /// The advice as it goes out.
    pub fn of(advice: &Advice<RowCleanerAdvice>) -> Self {
        let choice = &advice.choice;
        Self {
            cleaner: choice.cleaner.into(),
            wrap: choice.wrap.into(),
            wrap_points: share(choice.total),
            points: points(&choice.points),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}

/// One cause of a risk, and what it counts.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "worth": 2,
    "because": {
        "text": "dying, yellow cover is tough and tucks into the slot",
        "mark": "read",
        "mark_words": "read in the source",
        "source": "USDA-NRCS agronomist (Indiana), as reported in the farm press, 2014. Remove coulters to plant into cover crops"
    }
})))]
pub struct RiskPointOut {
    /// What it counts: points, or a factor. A coefficient of this project's own choice.
    #[schema(example = 2)]
    pub worth: f64,
    /// The cause, with its source.
    pub because: Reason,
}

/// The causes of a risk.
pub fn points(list: &[RiskPoint]) -> Vec<RiskPointOut> {
    let point = |it: &RiskPoint| RiskPointOut {
        worth: share(it.worth),
        because: it.because.clone().into(),
    };
    list.iter().map(point).collect()
}

/// Where the rows should run, seen from the old ones.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/settings/old_rows"))))]
pub struct OldRowsOut {
    /// Where to run.
    pub run: RowPosition,
    /// How far beside the old row, when it is beside.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub beside: Option<Quantity>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl OldRowsOut {
    /// In these units.
    pub fn of(advice: &Advice<OldRowsAdvice>, show: Show) -> Self {
        Self {
            run: advice.choice.run.into(),
            beside: advice.choice.beside.map(|distance| show.spacing(distance)),
            because: reasons(advice.because.clone()),
            watch: reasons(advice.watch.clone()),
        }
    }
}
