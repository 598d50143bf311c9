//! `POST /v1/what-if/cover-nitrogen`

use actix_web::post;
use actix_web::web::Data;
use domain::conditions::{self, CoverClip, CoverCrop, CoverNitrogen};
use domain::provenance::Coefficients;
use domain::quantity::{Area, ArealMassDensity, Mass, Measured, System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::optional;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::nitrogen::{CarbonToNitrogen, MassRange, NitrogenCredit, credits};
use crate::v1::conditions::{CoverSpecies, CoverStage, TieUp};
use crate::v1::trace::{self, Assumed, Reason, TraceStep};
use crate::v1::units::UnitsQuery;

/// A cover crop by its dry matter.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "species": "hairy_vetch",
    "dry_matter": {"value": 6534, "unit": "[lb_av]/[acr_us]"},
    "nitrogen": {"value": 4, "unit": "%"}
})))]
pub(super) struct CoverNitrogenIn {
    /// The cover crop.
    pub species: CoverSpecies,
    /// Its dry matter. Bound: `dry_matter`.
    pub dry_matter: Quantity,
    /// How far it has grown; midway from tillering to flower is assumed when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub stage: Option<CoverStage>,
    /// Nitrogen in the dry tops, by a laboratory; published ranges stand in when absent. Bound:
    /// `tops_nitrogen`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub nitrogen: Option<Quantity>,
}

/// The nitrogen of a cover crop.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "carbon_to_nitrogen": {"likely": 10.5, "low": 10, "high": 11.25},
    "nitrogen_in_tops": {
        "likely": {"value": 261.36, "unit": "[lb_av]/[acr_us]"},
        "low": {"value": 261.36, "unit": "[lb_av]/[acr_us]"},
        "high": {"value": 261.36, "unit": "[lb_av]/[acr_us]"}
    },
    "nitrogen_available": [
        {
            "tilled": true,
            "share": 0.5,
            "nitrogen": {"value": 130.68, "unit": "[lb_av]/[acr_us]"},
            "source": "North Carolina, worked in: Cover-crop biomass and N worksheet, n.d."
        },
        {
            "tilled": false,
            "share": 0.4,
            "nitrogen": {"value": 104.544, "unit": "[lb_av]/[acr_us]"},
            "source": "North Carolina, left on the surface: Cover-crop biomass and N worksheet, n.d."
        },
        {
            "tilled": true,
            "share": 0.333_333,
            "nitrogen": {"value": 87.12, "unit": "[lb_av]/[acr_us]"},
            "source": "North Dakota, worked in: extension note, as reported in the farm press, n.d."
        },
        {
            "tilled": false,
            "share": 0.2,
            "nitrogen": {"value": 52.272, "unit": "[lb_av]/[acr_us]"},
            "source": "North Dakota, no-till: extension note, as reported in the farm press, n.d."
        },
        {
            "tilled": true,
            "share": 0.5,
            "nitrogen": {"value": 130.68, "unit": "[lb_av]/[acr_us]"},
            "source": "worked in: Cover Crops, Unit 1.6, teaching manual, n.d."
        },
        {
            "tilled": false,
            "share": 0.5,
            "nitrogen": {"value": 130.68, "unit": "[lb_av]/[acr_us]"},
            "source": "left on the surface, warm climate: Cover Crops, Unit 1.6, teaching manual, n.d."
        },
        {
            "tilled": false,
            "share": 0.25,
            "nitrogen": {"value": 65.34, "unit": "[lb_av]/[acr_us]"},
            "source": "left on the surface, cool climate: Cover Crops, Unit 1.6, teaching manual, n.d."
        }
    ],
    "tie_up": "unlikely",
    "watch": [],
    "assumed": [],
    "trace": [
        {
            "step": "carbon to nitrogen of the cover",
            "formula": "C / N",
            "inputs": [
                {"symbol": "C", "value": 0.42, "unit": "1"},
                {"symbol": "N", "value": 0.04, "unit": "1"}
            ],
            "value": 10.5,
            "unit": "1",
            "low": 10,
            "high": 11.25,
            "source": "general plant analysis (from memory, source to confirm)",
            "mark": "from_memory",
            "mark_words": "from memory, source to confirm"
        },
        {
            "step": "nitrogen in the tops of the cover",
            "formula": "B N",
            "inputs": [
                {"symbol": "B", "value": 6534, "unit": "[lb_av]/[acr_us]"},
                {"symbol": "N", "value": 0.04, "unit": "1"}
            ],
            "value": 261.36,
            "unit": "[lb_av]/[acr_us]",
            "low": 261.36,
            "high": 261.36,
            "source": "measured in this field",
            "mark": "measured",
            "mark_words": "measured"
        }
    ]
})))]
pub(super) struct CoverNitrogenResult {
    /// Carbon to nitrogen.
    pub carbon_to_nitrogen: CarbonToNitrogen,
    /// Nitrogen in the tops.
    pub nitrogen_in_tops: MassRange,
    /// What of it comes free in the first year, by source.
    #[schema(max_items = 20)]
    pub nitrogen_available: Vec<NitrogenCredit>,
    /// Whether it ties up nitrogen.
    pub tie_up: TieUp,
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

/// Nitrogen of a cover crop.
///
/// Dry matter times the share of nitrogen, from a laboratory or from published ranges; what of it
/// comes free in the first year by several sources; C:N by species and stage, and whether the cover
/// ties up nitrogen: above a C:N of 24 and 1,500 lb/ac (the mass is this project's own choice).
///
/// Worked example (North Carolina, Cover-crop biomass and N worksheet, n.d.): 6,534 lb/ac of dry
/// matter at 4 % hold 261 lb/ac of nitrogen; 130.5 lb/ac come free when worked in, and 0.4 of 261,
/// 104.5 lb/ac, on the surface.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_cover_nitrogen", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = CoverNitrogenIn, description = "Species, dry matter, stage, nitrogen."),
    responses(
        (status = 200, description = "The nitrogen.", body = CoverNitrogenResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/cover-nitrogen")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<CoverNitrogenIn>,
) -> Result<Answer<CoverNitrogenResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl CoverNitrogenIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<CoverNitrogenResult, ApiError> {
        let cover = self.parse()?;
        let found = conditions::cover_nitrogen(&cover, k);
        let CoverNitrogen { carbon_to_nitrogen, in_tops, available, tie_up, .. } = found;
        let show = |mass: ArealMassDensity| Quantity::show(&bounds::NITROGEN_RATE, mass, system);
        // The dry matter was given: how it came about is not known here.
        let steps = found.steps.into_iter().skip(1).collect();
        Ok(CoverNitrogenResult {
            carbon_to_nitrogen: carbon_to_nitrogen.into(),
            nitrogen_in_tops: MassRange::of(&in_tops, show),
            nitrogen_available: credits(&available, show),
            tie_up: tie_up.into(),
            watch: trace::reasons(found.watch),
            assumed: trace::assumed(found.assumed),
            trace: trace::steps(steps),
        })
    }

    fn parse(&self) -> Result<CoverCrop, ApiError> {
        let mut refused = Refused::default();
        let mass = refused.take(self.dry_matter.parse("/dry_matter", &bounds::DRY_MATTER));
        let nitrogen = self.nitrogen.as_ref();
        let nitrogen = optional(&mut refused, nitrogen, "/nitrogen", &bounds::TOPS_NITROGEN);
        let Some(mass) = mass else { return Err(refused.into()) };
        refused.finish()?;
        // So much on one square metre.
        let clip = CoverClip { dry: Mass::from_si(mass.si()), area: Area::from_si(1.0) };
        Ok(CoverCrop {
            stage: self.stage.map(Into::into),
            clip: Some(clip),
            nitrogen,
            ..CoverCrop::of(self.species.into())
        })
    }
}
