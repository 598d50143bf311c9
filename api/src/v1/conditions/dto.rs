//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::words::{BallTest, CoverSpecies, CoverState, Crop, Moisture, PreviousCrop, ResidueFeel};
use crate::entities::conditions_reports;
use crate::http::ApiError;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::fields::TextureClass;

/// What somebody saw and felt in a field.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "observed_at": "2027-04-20T11:30:00Z",
    "crop": "corn",
    "planting_date": "2027-04-21",
    "texture": "silt_loam",
    "moisture": "moist",
    "ball": "crumbles",
    "ribbon": {"value": 0.5, "unit": "[in_i]"},
    "soil_temperature": {"value": 52, "unit": "[degF]"},
    "soil_low": {"value": 50, "unit": "[degF]"},
    "rain": {"value": 0.1, "unit": "[in_i]"},
    "cover": {
        "species": "cereal_rye",
        "height": {"value": 24, "unit": "[in_i]"},
        "ground_cover": {"value": 95, "unit": "%"},
        "state": "green_standing"
    },
    "previous_crop": "corn",
    "previous_yield_bu_ac": 200,
    "residue_feel": "pliable"
})))]
pub struct ConditionsIn {
    /// When the field was looked at; not before 2000, at most a day ahead of now.
    pub observed_at: DateTime<Utc>,
    /// The crop to be planted.
    pub crop: Crop,
    /// The day of planting.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-04-21")]
    pub planting_date: Option<NaiveDate>,
    /// Texture of the topsoil. With `sand` and `clay` it must be the class that they make.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub texture: Option<TextureClass>,
    /// Sand by mass, of the part below 2 mm; 0 to 100 %. Needs `clay`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sand: Option<Quantity>,
    /// Clay by mass, of the part below 2 mm; 0 to 100 %. Needs `sand`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub clay: Option<Quantity>,
    /// Moisture at seed depth, by feel.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub moisture: Option<Moisture>,
    /// Soil from seed depth, pressed to a ball.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ball: Option<BallTest>,
    /// Length of the ribbon that soil as found can be pressed to; 0 to 6 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ribbon: Option<Quantity>,
    /// Soil temperature at seed depth; 20 to 120 °F.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soil_temperature: Option<Quantity>,
    /// Whether that temperature was read under killed or bare ground while planting green.
    #[serde(default)]
    #[schema(default = false)]
    pub read_outside_cover: bool,
    /// Lowest soil temperature expected in the next 48 h; 20 to 120 °F.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soil_low: Option<Quantity>,
    /// Rain expected in the next 48 h; 0 to 15 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub rain: Option<Quantity>,
    /// Cone penetrometer reading in the top 3 in; 0 to 800 psi.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub penetration: Option<Quantity>,
    /// The cover crop, if there is one.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cover: Option<CoverCropIn>,
    /// The crop whose residue lies there.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub previous_crop: Option<PreviousCrop>,
    /// Its yield in bushels per acre, 0 to 400.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 400, example = 200)]
    pub previous_yield_bu_ac: Option<f64>,
    /// Ground covered by dead residue, counted along a tape; 0 to 100 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residue_cover: Option<Quantity>,
    /// How the residue breaks at the hour of planting.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residue_feel: Option<ResidueFeel>,
    /// What else was seen.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Wet spot at the south end.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

impl ConditionsIn {
    /// As it was entered, from a stored report.
    pub fn stored(row: &conditions_reports::Model) -> Result<Self, ApiError> {
        serde_json::from_value(row.observations.clone()).map_err(ApiError::internal)
    }
}

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
}

/// A conditions report. Never changed; the newest counts.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000021",
    "field_id": "01964f1e-6a00-7000-8000-000000000011",
    "observations": {
        "observed_at": "2027-04-20T11:30:00Z",
        "crop": "corn",
        "texture": "silt_loam",
        "moisture": "moist",
        "read_outside_cover": false,
        "soil_temperature": {"value": 52, "unit": "[degF]"}
    },
    "created_at": "2027-04-20T11:34:10Z",
    "created_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct ConditionsReport {
    /// Id of the report.
    pub id: Uuid,
    /// Id of the field.
    pub field_id: Uuid,
    /// What was seen and felt, as it was entered.
    pub observations: ConditionsIn,
    /// When the report came in.
    pub created_at: DateTime<Utc>,
    /// Account of whoever sent it.
    pub created_by: Uuid,
}

impl ConditionsReport {
    /// The answer for a row.
    pub(super) fn of(row: &conditions_reports::Model) -> Result<Self, ApiError> {
        Ok(Self {
            id: row.id,
            field_id: row.field_id,
            observations: ConditionsIn::stored(row)?,
            created_at: row.created_at,
            created_by: row.created_by,
        })
    }
}

/// A page of conditions reports.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000021",
        "field_id": "01964f1e-6a00-7000-8000-000000000011",
        "observations": {
            "observed_at": "2027-04-20T11:30:00Z", "crop": "corn", "read_outside_cover": false
        },
        "created_at": "2027-04-20T11:34:10Z",
        "created_by": "01964f1e-6a00-7000-8000-000000000001"
    }],
    "next_cursor": "01964f1e-6a00-7000-8000-000000000021"
})))]
pub struct ConditionsPage {
    /// The reports of this page, in the order in which they came in.
    #[schema(max_items = 200)]
    pub items: Vec<ConditionsReport>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "01964f1e-6a00-7000-8000-000000000021")]
    pub next_cursor: Option<String>,
}

/// Which page of the reports of a field.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct ConditionsRequest {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, format = Uuid)]
    pub cursor: Option<String>,
}
