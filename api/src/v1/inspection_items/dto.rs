//! What goes over the wire.

use domain::planter::inspection::{Item, Measure};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::v1::inspections::InspectionItemCode;
use crate::v1::recommendations::answer::CautionOut;
use crate::v1::trace::Mark;

/// An item of the checklist: what to look at and how, and what passes.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "item": "gauge_wheel_arm_play", "name": "Play of the gauge-wheel arms",
    "look": "Rock the wheel in and out at its rim and measure how far the arm gives.",
    "pass": "hardly any", "watch": "more than three sixteenths of an inch",
    "replace": "more than 1/4 in", "per_row": true,
    "bound": "arm_play", "wears": true, "to_do": "gauge-wheel arm with bushing",
    "mark": "common_practice", "mark_words": "common practice, no source",
    "source": "common practice, no source", "cautions": []
})))]
pub struct InspectionItem {
    /// The item.
    pub item: InspectionItemCode,
    /// Its name.
    #[schema(example = "Play of the gauge-wheel arms")]
    pub name: String,
    /// What to look at, and how.
    #[schema(example = "Rock the wheel in and out at its rim and measure how far the arm gives.")]
    pub look: String,
    /// When it passes.
    #[schema(example = "hardly any")]
    pub pass: String,
    /// When to keep an eye on it.
    #[schema(example = "more than three sixteenths of an inch")]
    pub watch: String,
    /// When to replace or mend it.
    #[schema(example = "more than 1/4 in")]
    pub replace: String,
    /// Whether each row is looked at by itself.
    #[schema(example = true)]
    pub per_row: bool,
    /// What the planter must have for it, in words; absent where every planter has it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "coulters")]
    pub needs: Option<String>,
    /// Name of the bound of what can be measured, as in `GET /v1/coefficients`; absent where nothing is
    /// measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "arm_play")]
    pub bound: Option<String>,
    /// Whether what is measured changes as the part wears.
    #[schema(example = true)]
    pub wears: bool,
    /// What is to be bought or done where it is found bad.
    #[schema(example = "gauge-wheel arm with bushing")]
    pub to_do: String,
    /// How it is known.
    pub mark: Mark,
    /// The mark in words.
    #[schema(example = "common practice, no source")]
    pub mark_words: String,
    /// Where it stands.
    #[schema(example = "common practice, no source")]
    pub source: String,
    /// What can hurt somebody here.
    #[schema(max_items = 20)]
    pub cautions: Vec<CautionOut>,
}

impl From<&Item> for InspectionItem {
    fn from(item: &Item) -> Self {
        let text = |words: &str| words.to_owned();
        let (bound, wears) = match item.measure {
            Some(Measure::Wear(bound)) => (Some(bound.name), true),
            Some(Measure::Set(bound)) => (Some(bound.name), false),
            Some(Measure::Since(bound)) => (Some(bound.name), true),
            None => (None, false),
        };
        let every = item.needs == domain::planter::inspection::Needs::Nothing;
        Self {
            item: item.code.into(),
            name: text(item.name),
            look: text(item.look),
            pass: text(item.pass),
            watch: text(item.watch),
            replace: text(item.replace),
            per_row: item.per_row,
            needs: (!every).then(|| text(item.needs.words())),
            bound: bound.map(text),
            wears,
            to_do: text(item.action.words()),
            mark: item.mark.into(),
            mark_words: text(item.mark.words()),
            source: text(item.source),
            cautions: item.cautions.iter().copied().map(CautionOut::of).collect(),
        }
    }
}

/// The checklist.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct InspectionItemList {
    /// The items, front to back.
    #[schema(max_items = 100)]
    pub items: Vec<InspectionItem>,
}

/// Which items.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct InspectionItemFilter {
    /// Only what this planter has.
    #[serde(default)]
    #[param(nullable = false)]
    pub planter_id: Option<Uuid>,
}
