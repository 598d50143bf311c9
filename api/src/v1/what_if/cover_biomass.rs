//! `POST /v1/what-if/cover-biomass`

use actix_web::post;
use actix_web::web::Data;
use domain::conditions::{CoverBiomass, CoverCrop, biomass, biomass_from_clip};
use domain::provenance::Coefficients;
use domain::quantity::{System, bounds};
use serde::Serialize;
use utoipa::ToSchema;

use super::member::optional;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::CoverSpecies;
use crate::v1::trace::{self, Assumed, Reason, TraceStep};
use crate::v1::units::UnitsQuery;

tagged_union! {
    /// A clip sample, or the height of a cover crop.
    #[schema(examples(json!({
        "kind": "clip",
        "dry_mass": {"value": 1.2, "unit": "[lb_av]"},
        "area": {"value": 8, "unit": "[sft_i]"}
    })))]
    pub(super) enum CoverBiomassIn by "kind" {
        /// What was clipped, dried and weighed.
        Clip = "clip" {
            /// Dry mass of all frames together. Bound: `weighed_mass`.
            dry_mass: Quantity,
            /// Area of all frames together. Bound: `sampled_area`.
            area: Quantity,
        },
        /// The height rule, good to 40 % either way.
        ByHeight = "height" {
            /// The cover crop.
            species: CoverSpecies,
            /// How tall; 12 in are assumed when absent. Bound: `cover_height`.
            #[serde(default, deserialize_with = "present")]
            #[schema(nullable = false)]
            height: Option<Quantity>,
            /// Ground that it covers; 100 % are assumed when absent. Bound: `share`.
            #[serde(default, deserialize_with = "present")]
            #[schema(nullable = false)]
            ground_cover: Option<Quantity>,
        },
    }
}

/// Dry matter of a cover crop.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "dry_matter": {"value": 6534.03, "unit": "[lb_av]/[acr_us]"},
    "low": {"value": 6534.03, "unit": "[lb_av]/[acr_us]"},
    "high": {"value": 6534.03, "unit": "[lb_av]/[acr_us]"},
    "watch": [],
    "assumed": [],
    "trace": [
        {
            "step": "dry matter from the clip",
            "formula": "m / A",
            "inputs": [
                {"symbol": "m", "value": 0.544_311, "unit": "kg"},
                {"symbol": "A", "value": 0.743_224, "unit": "m2"}
            ],
            "value": 6534.03,
            "unit": "[lb_av]/[acr_us]",
            "source": "Cover-crop biomass and N worksheet. North Carolina extension, n.d.; definition of the acre",
            "mark": "measured",
            "mark_words": "measured"
        }
    ]
})))]
pub(super) struct CoverBiomassResult {
    /// The figure to work with.
    pub dry_matter: Quantity,
    /// Low end.
    pub low: Quantity,
    /// High end.
    pub high: Quantity,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// What nobody measured.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Dry matter of a cover crop.
///
/// From a dried clip sample, mass over area; or by the height rule of extension notes, which is
/// good to 40 % either way.
///
/// Worked example (North Carolina extension, Cover-crop biomass and N worksheet, n.d.): 1.2 lb of
/// dry matter from two frames of 4 sq ft are 6,534 lb an acre.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_cover_biomass", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = CoverBiomassIn, description = "A clip, or a height."),
    responses(
        (status = 200, description = "The dry matter.", body = CoverBiomassResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/cover-biomass")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<CoverBiomassIn>,
) -> Result<Answer<CoverBiomassResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl CoverBiomassIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<CoverBiomassResult, ApiError> {
        let CoverBiomass { low, likely, high, watch, assumed, steps } = self.biomass(k)?;
        let density = |density| Quantity::show(&bounds::DRY_MATTER, density, system);
        Ok(CoverBiomassResult {
            dry_matter: density(likely),
            low: density(low),
            high: density(high),
            watch: trace::reasons(watch),
            assumed: trace::assumed(assumed),
            trace: trace::steps(steps),
        })
    }

    fn biomass(&self, k: &Coefficients) -> Result<CoverBiomass, ApiError> {
        let mut refused = Refused::default();
        match self {
            Self::Clip { dry_mass, area } => {
                let mass = refused.take(dry_mass.parse("/dry_mass", &bounds::WEIGHED_MASS));
                let area = refused.take(area.parse("/area", &bounds::SAMPLED_AREA));
                let (Some(mass), Some(area)) = (mass, area) else {
                    return Err(refused.into());
                };
                biomass_from_clip(mass, area)
                    .map_err(|error| BadMember::new("/area", format!("{error}.")).into())
            }
            Self::ByHeight { species, height, ground_cover } => {
                let height =
                    optional(&mut refused, height.as_ref(), "/height", &bounds::COVER_HEIGHT);
                let ground = ground_cover.as_ref();
                let ground = optional(&mut refused, ground, "/ground_cover", &bounds::SHARE);
                refused.finish()?;
                let species = (*species).into();
                let cover = CoverCrop { height, ground_cover: ground, ..CoverCrop::of(species) };
                Ok(biomass(&cover, k))
            }
        }
    }
}
