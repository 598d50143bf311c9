//! A layout over the wire.

use domain::trial::{Layout, Plot};
use serde::Serialize;
use utoipa::ToSchema;

use super::design::{TrialDesign, TrialWay};
use super::words::PassHeading;
use crate::v1::trace::{Reason, reasons};

/// What lies where.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TrialLayout {
    /// How it was drawn, with the version of the way; `as_listed` where it was not.
    #[schema(example = "splitmix64-shuffle-1")]
    pub method: String,
    /// The seed, where it was drawn: the same seed gives the same layout.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 4_294_967_295_i64, example = 2027)]
    pub seed: Option<u32>,
    /// Whether chance decided what lies where.
    #[schema(example = true)]
    pub randomised: bool,
    /// The plots, in the order in which they are reached.
    #[schema(max_items = 72)]
    pub plots: Vec<PlannedPlot>,
    /// Rows of a plot between its borders.
    #[schema(minimum = 1, maximum = 512, example = 6)]
    pub rows_to_look_at: u16,
    /// Rows of the planter that were taken to run behind tyres.
    #[schema(max_items = 64, example = json!([3, 6]))]
    pub tyre_rows: Vec<u16>,
    /// What is to be known before it is planted.
    #[schema(max_items = 20)]
    pub notices: Vec<Reason>,
}

/// One plot: the unit that is compared.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "plot": 1, "block": 1, "place": 1, "treatment": "spiked wheels", "rows": [2, 7]
})))]
pub struct PlannedPlot {
    /// Its number: what is written on the map.
    #[schema(minimum = 1, maximum = 72, example = 1)]
    pub plot: u16,
    /// Its block.
    #[schema(minimum = 1, maximum = 12, example = 1)]
    pub block: u16,
    /// Its place across the field, from 1 at the left as one looks along the first pass; the place to
    /// stop at, where plots are rows of the planter.
    #[schema(minimum = 1, maximum = 72, example = 1)]
    pub place: u16,
    /// Its treatment.
    #[schema(example = "spiked wheels")]
    pub treatment: String,
    /// The rows of the planter in it.
    #[schema(max_items = 64, example = json!([2, 7]))]
    pub rows: Vec<u16>,
    /// How the planter drives along it, where that matters.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub heading: Option<PassHeading>,
}

impl TrialLayout {
    pub(super) fn of(layout: Layout, design: &TrialDesign) -> Self {
        let Layout { method, seed, randomised, way: _, plots, .. } = layout;
        Self {
            method: method.into_owned(),
            seed,
            randomised,
            plots: plots.into_iter().map(|plot| PlannedPlot::of(plot, design)).collect(),
            rows_to_look_at: layout.rows_to_look_at,
            tyre_rows: layout.tyre_rows,
            notices: reasons(layout.notices),
        }
    }
}

impl PlannedPlot {
    fn of(plot: Plot, design: &TrialDesign) -> Self {
        let Plot { number, block, place, treatment, rows, heading } = plot;
        let treatment = design.treatment_name(treatment).to_owned();
        let heading = heading.map(Into::into);
        Self { plot: number, block, place, treatment, rows, heading }
    }
}

impl TrialDesign {
    /// How it is laid out, in words.
    pub fn way_in_words(&self) -> &'static str {
        match self.way {
            TrialWay::PlanterRows { .. } => "on rows of the planter",
            TrialWay::Strips { .. } => "in strips",
            TrialWay::SplitPlanter {} => "by halves of the planter",
        }
    }

    /// The name of a treatment by its place in the list.
    pub fn treatment_name(&self, place: u16) -> &str {
        self.treatments.get(usize::from(place)).map_or("", |it| it.name.trim())
    }

    /// The place of a treatment in the list, by its name; capitals are the same.
    pub fn treatment_place(&self, name: &str) -> Option<u16> {
        let name = name.trim().to_lowercase();
        let place = self.treatments.iter().position(|it| it.name.trim().to_lowercase() == name)?;
        u16::try_from(place).ok()
    }
}
