//! The cover crop and what lives in it.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::conditions::words::{CoverSpecies, CoverStage, CoverState, RollDirection};

/// A cover crop as it stands.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "species": "cereal_rye",
    "height": {"value": 24, "unit": "[in_i]"},
    "ground_cover": {"value": 95, "unit": "%"},
    "state": "green_standing"
})))]
pub struct CoverCropIn {
    /// What it is.
    pub species: CoverSpecies,
    /// How tall; 0 to 84 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub height: Option<Quantity>,
    /// Ground it covers; 0 to 100 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ground_cover: Option<Quantity>,
    /// Alive or dead, and how.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub state: Option<CoverState>,
    /// How far it has grown.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub stage: Option<CoverStage>,
    /// Dry matter that was clipped and weighed; it goes before height and ground cover.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub clip: Option<CoverClipIn>,
    /// Nitrogen in the dry tops, by a laboratory; 0.3 to 8 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub nitrogen: Option<Quantity>,
    /// Which way it was rolled, seen from the rows to be planted.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub rolled: Option<RollDirection>,
}

/// A clip sample: several frames, cut at the ground and dried until crunchy.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "dry": {"value": 1.2, "unit": "[lb_av]"}, "area": {"value": 8, "unit": "[sft_i]"}
})))]
pub struct CoverClipIn {
    /// Dry mass of all frames together; 0 to 2,000 lb, and no more than 25,000 lb/ac.
    pub dry: Quantity,
    /// Area of all frames together; 0.25 to 2,000 sq ft.
    pub area: Quantity,
}

/// Pests that were counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"armyworm": {"value": 10, "unit": "%"}, "slugs_per_plant": 1.5})))]
pub struct PestsIn {
    /// Slugs on a plant, mean of five plants at ten places; 0 to 100.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 100, example = 1.5)]
    pub slugs_per_plant: Option<f64>,
    /// Plants that armyworms feed on; 0 to 100 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub armyworm: Option<Quantity>,
    /// Plants that cutworms cut or tunnelled; 0 to 100 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cutworm: Option<Quantity>,
}
