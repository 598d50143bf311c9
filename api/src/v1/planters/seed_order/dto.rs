//! What goes over the wire.

use domain::quantity::System;
use domain::settings::{FieldSeed, SeedOrder};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::RecommendationStatus;
use crate::v1::recommendations::answer::SeedOrderOut;
use crate::v1::recommendations::show::Show;
use crate::v1::units::Units;
use domain::quantity::bounds;

/// Which season, and in which units.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub(super) struct SeedOrderQuery {
    /// Recommendations made in this season, which is named by the year in which it ends; that of the
    /// newest with this planter when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 2000, maximum = 2200, example = 2027)]
    pub season: Option<i32>,
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
}

/// Seed for the fields of a planter, a crop at a time, and the fields that are not in it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "planter_id": "01964f1e-6a00-7000-8000-000000000012",
    "season": 2027,
    "orders": [{
        "order": {
            "crop": "corn",
            "area": {"value": 40, "unit": "[acr_us]"},
            "seeds": 1_360_000,
            "seeds_with_spare": 1_400_800,
            "seeds_per_unit": 80_000,
            "units": 18,
            "weight": {"value": 933.867, "unit": "[lb_av]"},
            "weight_low": {"value": 778.222, "unit": "[lb_av]"},
            "weight_high": {"value": 1077.54, "unit": "[lb_av]"},
            "assumed": [],
            "trace": []
        },
        "fields": [{
            "field_id": "01964f1e-6a00-7000-8000-000000000011",
            "name": "North forty",
            "recommendation_id": "01964f1e-6a00-7000-8000-000000000031",
            "status": "issued",
            "area": {"value": 40, "unit": "[acr_us]"},
            "rate": {"value": 34_000, "unit": "1/[acr_us]"}
        }]
    }],
    "left_out": [{
        "field_id": "01964f1e-6a00-7000-8000-000000000014",
        "name": "Creek bottom",
        "reason": "no_area",
        "why": "the field has neither an entered area nor a boundary"
    }]
})))]
pub(super) struct PlanterSeedOrder {
    /// The planter.
    pub planter_id: Uuid,
    /// The season; absent when the planter has no recommendation yet.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 2027)]
    pub season: Option<i32>,
    /// One for each crop.
    #[schema(max_items = 2)]
    pub orders: Vec<CropOrder>,
    /// Fields of the grower that are not in it, and why.
    #[schema(max_items = 10_000)]
    pub left_out: Vec<FieldLeftOut>,
}

/// Seed of one crop, and the fields it is for.
#[derive(Debug, Serialize, ToSchema)]
pub(super) struct CropOrder {
    /// What to order.
    pub order: SeedOrderOut,
    /// The fields it is for.
    #[schema(max_items = 10_000)]
    pub fields: Vec<FieldInOrder>,
}

/// A field that is in the order.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "field_id": "01964f1e-6a00-7000-8000-000000000011",
    "name": "North forty",
    "recommendation_id": "01964f1e-6a00-7000-8000-000000000031",
    "status": "issued",
    "area": {"value": 40, "unit": "[acr_us]"},
    "rate": {"value": 34_000, "unit": "1/[acr_us]"}
})))]
pub(super) struct FieldInOrder {
    /// The field.
    pub field_id: Uuid,
    /// Its name.
    #[schema(example = "North forty")]
    pub name: String,
    /// The newest recommendation that names a seeding rate.
    pub recommendation_id: Uuid,
    /// Where that stands.
    pub status: RecommendationStatus,
    /// Area of the field.
    pub area: Quantity,
    /// Seeds per area.
    pub rate: Quantity,
}

/// Why a field is not in the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
pub(super) enum LeftOutReason {
    /// No recommendation with this planter in the season.
    #[serde(rename = "no_recommendation")]
    Recommendation,
    /// No recommendation that names a seeding rate or a stand.
    #[serde(rename = "no_seeding_rate")]
    SeedingRate,
    /// Nobody gave its area.
    #[serde(rename = "no_area")]
    Area,
}

impl LeftOutReason {
    fn words(self) -> &'static str {
        match self {
            Self::Recommendation => "no recommendation with this planter in the season",
            Self::SeedingRate => "its recommendations name neither a seeding rate nor a stand",
            Self::Area => "the field has neither an entered area nor a boundary",
        }
    }
}

/// A field that is not in the order.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "field_id": "01964f1e-6a00-7000-8000-000000000014",
    "name": "Creek bottom",
    "reason": "no_area",
    "why": "the field has neither an entered area nor a boundary"
})))]
pub(super) struct FieldLeftOut {
    /// The field.
    pub field_id: Uuid,
    /// Its name.
    #[schema(example = "Creek bottom")]
    pub name: String,
    /// Why, for programs.
    pub reason: LeftOutReason,
    /// Why, in words.
    #[schema(example = "the field has neither an entered area nor a boundary")]
    pub why: String,
}

impl FieldLeftOut {
    /// A field with the reason.
    pub(super) fn because(field_id: Uuid, name: String, reason: LeftOutReason) -> Self {
        Self { field_id, name, reason, why: reason.words().to_owned() }
    }
}

/// A field with its seed, before it is shown.
#[derive(Debug)]
pub(super) struct Sown {
    pub field_id: Uuid,
    pub name: String,
    pub recommendation_id: Uuid,
    pub status: RecommendationStatus,
    pub seed: FieldSeed,
}

impl CropOrder {
    /// In these units.
    pub(super) fn of(order: &SeedOrder, fields: Vec<Sown>, system: System) -> Self {
        let shown = |it: Sown| FieldInOrder {
            field_id: it.field_id,
            name: it.name,
            recommendation_id: it.recommendation_id,
            status: it.status,
            area: Quantity::show(&bounds::FIELD_AREA, it.seed.area, system),
            rate: Show(system).population(it.seed.rate),
        };
        Self {
            order: SeedOrderOut::of(order, system),
            fields: fields.into_iter().map(shown).collect(),
        }
    }
}
