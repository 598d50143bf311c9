//! What somebody saw and felt in a field.

use chrono::{DateTime, NaiveDate, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::cover::{CoverCropIn, PestsIn};
use crate::entities::conditions_reports;
use crate::http::ApiError;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::v1::conditions::words::{
    BallTest, Crop, Moisture, PreviousCrop, ResidueFeel, ResidueSpread, RowPosition, StrengthClass,
    TerminationZone, TextureFeel, TossTest,
};
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
    "residue_feel": "pliable",
    "cover_ended": "2027-04-25",
    "termination_zone": "four",
    "row_position": "beside_old_row"
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
    /// Ribbon of soil that was wetted to putty, for the texture by feel; 0 to 6 in. Needs
    /// `texture_feel`, and stands in for `texture`, `sand` and `clay`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ribbon_wetted: Option<Quantity>,
    /// How that wetted soil feels. Needs `ribbon_wetted`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub texture_feel: Option<TextureFeel>,
    /// Organic carbon in the topsoil by mass; 0 to 20 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub organic_carbon: Option<Quantity>,
    /// Bulk density of the topsoil; 0.7 to 2 g/cm³.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub bulk_density: Option<Quantity>,
    /// Water in the soil at seed depth by volume, from a probe; 1 to 60 %.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub water: Option<Quantity>,
    /// Moisture at seed depth, by feel.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub moisture: Option<Moisture>,
    /// Soil from seed depth, pressed to a ball.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ball: Option<BallTest>,
    /// A ball a little bigger than a golf ball, from the top 2 to 3 in, thrown up.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub toss: Option<TossTest>,
    /// Length of the ribbon that soil as found can be pressed to; 0 to 6 in.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub ribbon: Option<Quantity>,
    /// Soil temperature at seed depth; 20 to 120 °F.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub soil_temperature: Option<Quantity>,
    /// Depth at which that temperature was read; 1 to 6 in. Seed depth when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub temperature_depth: Option<Quantity>,
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
    /// Strength of the seed zone by knife or probe; a cone reading goes before it.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub strength_class: Option<StrengthClass>,
    /// The cover crop, if there is one.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cover: Option<CoverCropIn>,
    /// The day on which the cover crop was ended, or is meant to be; at most 60 days before and 14
    /// days after `planting_date`, which it needs, as it needs `cover`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-04-09")]
    pub cover_ended: Option<NaiveDate>,
    /// The zone of the guidelines for ending cover crops.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub termination_zone: Option<TerminationZone>,
    /// Whether the field is irrigated.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = false)]
    pub irrigated: Option<bool>,
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
    /// How the residue lies.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub residue_spread: Option<ResidueSpread>,
    /// Where the new rows run, seen from the old ones.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub row_position: Option<RowPosition>,
    /// Pests that were counted.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub pests: Option<PestsIn>,
    /// The hour of the day at which planting is meant to start; 0 to 23.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0, maximum = 23, example = 10)]
    pub start_hour: Option<u8>,
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
