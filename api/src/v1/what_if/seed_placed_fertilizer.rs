//! `POST /v1/what-if/seed-placed-fertilizer`

use actix_web::post;
use actix_web::web::Data;
use domain::in_furrow::{self, SeedPlaced, SeedPlacedError, seed_placed, seed_placed_watch};
use domain::provenance::{Coefficients, Input, sources};
use domain::quantity::{ArealMassDensity, Measured, Ratio, System, bounds, unit};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{number, optional};
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::Crop;
use crate::v1::mirror::mirror;
use crate::v1::recommendations::in_furrow::InFurrowStop;
use crate::v1::trace::{self, Reason, TraceStep};
use crate::v1::units::UnitsQuery;

mirror! {
    /// Materials with a published slope: `urea` 46-0-0, `urea_inhibited` with a urease inhibitor,
    /// `uan` 28-0-0, `ammonium_nitrate` 34-0-0.
    SeedMaterial = in_furrow::SeedMaterial { Urea UreaInhibited Uan AmmoniumNitrate }

    /// Moisture and texture at planting; coarse is sandy.
    SeedPlacedSoil = in_furrow::SeedPlacedSoil {
        MoistMediumOrFine MoistCoarse DryMediumOrFine DryCoarse
    }
}

/// Fertilizer in seed contact, and the stand that it may cost.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "corn",
    "material": "urea",
    "furrow_width": {"value": 1, "unit": "[in_i]"},
    "row_width": {"value": 30, "unit": "[in_i]"},
    "stand_loss": {"value": 15, "unit": "%"},
    "soil": "moist_medium_or_fine",
    "nitrogen": {"value": 46, "unit": "%"}
})))]
pub(super) struct SeedPlacedIn {
    /// The crop.
    pub crop: Crop,
    /// The material.
    pub material: SeedMaterial,
    /// Width of the furrow over which it spreads. Bound: `furrow_width`.
    pub furrow_width: Quantity,
    /// Distance between rows. Bound: `row_width`.
    pub row_width: Quantity,
    /// Stand loss that is tolerated; the coefficient `stand_loss_of_tables`, 10 %, when absent.
    /// Bound: `positive_share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub stand_loss: Option<Quantity>,
    /// The soil at planting. Dry soil needs `moisture_texture`.
    pub soil: SeedPlacedSoil,
    /// Factor for moisture and texture of the worksheet; 1, that of moist medium or fine soil, when
    /// absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 1, maximum = 10, example = 1)]
    pub moisture_texture: Option<f64>,
    /// Nitrogen on the label of the material; with it the nitrogen is answered. Bound: `share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub nitrogen: Option<Quantity>,
}

/// The material that costs so much stand. It allows nothing that is stopped.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "material": {"value": 15.544, "unit": "[lb_av]/[acr_us]"},
    "nitrogen": {"value": 7.15026, "unit": "[lb_av]/[acr_us]"},
    "stops": ["urea"],
    "because": [{
        "text": "urea turns to ammonia, which kills seedlings: never in the furrow",
        "mark": "read", "mark_words": "read in the source",
        "source": "Southern Illinois University and a state soybean association, n.d. In-furrow fertilizer in soybean; Kansas State University eUpdate article 3091"
    }],
    "watch": [
        {
            "text": "for information: it says what a rate costs, and allows nothing that is stopped",
            "mark": "proposal", "mark_words": "this project's own choice",
            "source": "this project's own choice"
        },
        {
            "text": "blends are not additive: do not add the rates of their parts",
            "mark": "read", "mark_words": "read in the source",
            "source": "South Dakota State University Extension, n.d. Fertilizer placed with seeds: rules of the tables"
        },
        {
            "text": "slopes come from seedlings in a laboratory; half the loss means half the rate",
            "mark": "read", "mark_words": "read in the source",
            "source": "South Dakota State University Extension, n.d. Fertilizer placed with seeds: rules of the tables"
        }
    ],
    "slope": {
        "name": "stand_slope_urea_corn", "symbol": "C",
        "what": "Change of the stand of corn for each lb/ac of urea with the seed",
        "value": -0.965, "low": -0.965, "high": -0.965, "unit": "%.[acr_us]/[lb_av]",
        "mark": "read", "mark_words": "read in the source",
        "source": "South Dakota State University, n.d. Seed-placed fertilizer worksheet",
        "corrected_by_digs": false
    },
    "trace": [
        {
            "step": "material with the seed", "formula": "30 S (-T) / (C R MX)",
            "inputs": [
                {"symbol": "S", "value": 1, "unit": "[in_i]"},
                {"symbol": "T", "value": 15, "unit": "%"},
                {"symbol": "C", "value": -0.965, "unit": "%.[acr_us]/[lb_av]"},
                {"symbol": "R", "value": 30, "unit": "[in_i]"},
                {"symbol": "MX", "value": 1, "unit": "1"}
            ],
            "value": 15.544, "unit": "[lb_av]/[acr_us]",
            "source": "South Dakota State University, n.d. Seed-placed fertilizer worksheet",
            "mark": "read", "mark_words": "read in the source"
        },
        {
            "step": "nitrogen with the seed", "formula": "F N",
            "inputs": [
                {"symbol": "F", "value": 15.544, "unit": "[lb_av]/[acr_us]"},
                {"symbol": "N", "value": 46, "unit": "%"}
            ],
            "value": 7.15026, "unit": "[lb_av]/[acr_us]",
            "source": "definition of the unit", "mark": "derived", "mark_words": "derived"
        }
    ]
})))]
pub(super) struct SeedPlacedResult {
    /// Material that costs the stand that is tolerated.
    pub material: Quantity,
    /// Nitrogen in it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub nitrogen: Option<Quantity>,
    /// Why it must stay out of the furrow all the same; nothing lifts a stop.
    #[schema(max_items = 10)]
    pub stops: Vec<InFurrowStop>,
    /// The stops in words.
    #[schema(max_items = 10)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// The slope that was used.
    pub slope: Coefficient,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Seed-placed fertilizer.
///
/// Material that costs so much stand: `F = 30 S (-T) / (C R MX)`, cut by a further 40 % on moist and
/// 20 % on dry coarse soil, as printed. For information: soybean, urea and UAN stay stopped whatever
/// comes out. Only the factor of moist soil is known here; dry soil needs the worksheet's own.
///
/// Worked example (South Dakota State University, seed-placed fertilizer worksheet): urea on corn in
/// 30 in rows with a furrow of 1 in and 15 % of the stand given up is 15.5 lb/ac, or 7.2 lb/ac N.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_seed_placed_fertilizer",
    security(("bearer" = ["read"])), params(UnitsQuery),
    request_body(content = SeedPlacedIn, description = "Crop, material, furrow, rows, soil."),
    responses(
        (status = 200, description = "Material and stops.", body = SeedPlacedResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/seed-placed-fertilizer")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SeedPlacedIn>,
) -> Result<Answer<SeedPlacedResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl SeedPlacedIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<SeedPlacedResult, ApiError> {
        let (case, nitrogen) = self.parse()?;
        let (material, worked) = seed_placed(&case, k).map_err(bad)?;
        let mut trace = trace::steps(worked);
        let nitrogen = nitrogen.map(|share| {
            trace.push(nitrogen_step(material, share, material * share));
            material * share
        });
        let shown = |it: ArealMassDensity| Quantity::show(&bounds::SEED_PLACED, it, system);
        let stops = case.stops();
        Ok(SeedPlacedResult {
            material: shown(material),
            nitrogen: nitrogen.map(shown),
            because: trace::reasons(stops.iter().map(|stop| stop.reason()).collect()),
            stops: stops.into_iter().map(Into::into).collect(),
            watch: trace::reasons(seed_placed_watch(&case)),
            slope: Coefficient::from(case.slope(k)),
            trace,
        })
    }

    fn parse(&self) -> Result<(SeedPlaced, Option<Ratio>), ApiError> {
        let mut refused = Refused::default();
        let furrow = &self.furrow_width;
        let furrow = refused.take(furrow.parse("/furrow_width", &bounds::FURROW_WIDTH));
        let row_width = refused.take(self.row_width.parse("/row_width", &bounds::ROW_WIDTH));
        let loss = self.stand_loss.as_ref();
        let tolerated = optional(&mut refused, loss, "/stand_loss", &bounds::POSITIVE_SHARE);
        let why = "1 in moist medium or fine soil, more where the soil bears less";
        let factor = self
            .moisture_texture
            .and_then(|given| refused.take(number("/moisture_texture", given, (1.0, 10.0), why)));
        let nitrogen = self.nitrogen.as_ref();
        let nitrogen = optional(&mut refused, nitrogen, "/nitrogen", &bounds::SHARE);
        let (Some(furrow), Some(row_width)) = (furrow, row_width) else {
            return Err(refused.into());
        };
        refused.finish()?;
        let case = SeedPlaced {
            crop: self.crop.into(),
            material: self.material.into(),
            furrow,
            row_width,
            tolerated,
            soil: self.soil.into(),
            factor,
        };
        Ok((case, nitrogen))
    }
}

fn bad(error: SeedPlacedError) -> ApiError {
    let pointer = match error {
        SeedPlacedError::DryWithoutFactor => "/moisture_texture",
        SeedPlacedError::NotAboveZero => "/furrow_width",
    };
    BadMember::new(pointer, format!("{error}.")).into()
}

const NITROGEN: Known = Known::derived("nitrogen with the seed", "F N", sources::DEFINITION);

fn nitrogen_step(material: ArealMassDensity, share: Ratio, mass: ArealMassDensity) -> TraceStep {
    let pounds = |it: ArealMassDensity| {
        unit("[lb_av]/[acr_us]").map_or_else(|| it.si(), |unit| unit.read(it))
    };
    let inputs = vec![
        Input::new("F", pounds(material), "[lb_av]/[acr_us]"),
        Input::new("N", share.si() * 100.0, "%"),
    ];
    NITROGEN.gives(inputs, pounds(mass), "[lb_av]/[acr_us]")
}
