//! `POST /v1/what-if/salt-limit`

use actix_web::post;
use actix_web::web::Data;
use domain::conditions::Conditions;
use domain::in_furrow::{
    Analysis, InFurrowAdvice, InFurrowPlan, InFurrowProduct, Stop, in_furrow, salt_indexes,
};
use domain::provenance::{Advice, Coefficients};
use domain::quantity::{ArealMassDensity, Length, Measured, System, VolumePerArea, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::optional;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::{Crop, Moisture};
use crate::v1::fields::TextureClass;
use crate::v1::recommendations::answer::OtherLimitOut;
use crate::v1::recommendations::in_furrow::{InFurrowStop, InFurrowVerdict, NeverInFurrow};
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{self, Assumed, Reason, TraceStep};
use crate::v1::units::UnitsQuery;

/// A starter, and where it is to go.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "corn",
    "row_width": {"value": 30, "unit": "[in_i]"},
    "texture": "silt_loam",
    "moisture": "moist",
    "nitrogen": {"value": 10, "unit": "%"},
    "phosphate": {"value": 34, "unit": "%"},
    "potash": {"value": 0, "unit": "%"},
    "density": {"value": 11.65, "unit": "[lb_av]/[gal_us]"},
    "contains": [],
    "rate": {"value": 10, "unit": "[gal_us]/[acr_us]"}
})))]
pub(super) struct SaltLimitIn {
    /// The crop.
    pub crop: Crop,
    /// Distance between rows. Bound: `row_width`.
    pub row_width: Quantity,
    /// Texture of the topsoil; when absent it is taken as sandy, which bears least.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub texture: Option<TextureClass>,
    /// Moisture at seed depth.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub moisture: Option<Moisture>,
    /// Cation exchange capacity, from a soil test. Bound: `cation_exchange`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub exchange_capacity: Option<Quantity>,
    /// N of the starter by mass. Bound: `share`.
    pub nitrogen: Quantity,
    /// P2O5 by mass. Bound: `share`.
    pub phosphate: Quantity,
    /// K2O by mass. Bound: `share`.
    pub potash: Quantity,
    /// Density of the starter. Bound: `fertilizer_density`.
    pub density: Quantity,
    /// What its label names of what never goes into a furrow; empty where it names none of them,
    /// absent where nobody looked.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, max_items = 3, example = json!([]))]
    pub contains: Option<Vec<NeverInFurrow>>,
    /// The rate of starter that is wanted; the most that is allowed when absent. Bound:
    /// `application_rate`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub rate: Option<Quantity>,
}

/// The limit, and what it means for this product.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub(super) struct SaltLimitResult {
    /// What to do.
    pub verdict: InFurrowVerdict,
    /// Why it must not run; nothing lifts a stop.
    #[schema(max_items = 10)]
    pub stops: Vec<InFurrowStop>,
    /// The most N + K2O: 0 with soybean; absent on any other stop, and where a product carries next
    /// to none.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub limit: Option<Quantity>,
    /// The most product.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub most_product: Option<Quantity>,
    /// N + K2O at the rate that was wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub wanted: Option<Quantity>,
    /// The rate of product to set, down to a tenth of a gallon an acre where it is lowered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub product_rate: Option<Quantity>,
    /// What other sources print; their rows are not stated, 30 in is usual.
    #[schema(max_items = 10)]
    pub other_limits: Vec<OtherLimitOut>,
    /// Salt indexes, for information: they rank products and set no limit here.
    #[schema(max_items = 10)]
    pub salt_indexes: Vec<Coefficient>,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// What nobody told, and what was used instead.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation, with the limit for each 1,000 ft of row.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Salt limit of a starter in the furrow.
///
/// N + K2O of a starter against what corn bears beside its seed, by row width and texture; between
/// printed row widths by length of row, and none is given for rows outside 15 to 40 in. Soybean
/// bears none. Urea, UAN and ammonium thiosulfate never go in the furrow. The label comes first.
///
/// Worked example (Kansas State University eUpdate article 3091): corn in 30 in rows on a medium
/// soil bears 8 lb/ac N + K2O. A 10-34-0 of 11.65 lb/gal carries 1.165 lb/gal, so at most 6.87
/// gal/ac; 10 gal/ac is too much.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_salt_limit", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SaltLimitIn, description = "Crop, rows, soil, starter."),
    responses(
        (status = 200, description = "The limit and the verdict.", body = SaltLimitResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/salt-limit")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SaltLimitIn>,
) -> Result<Answer<SaltLimitResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

/// The worked example, as the service answers it.
fn example() -> serde_json::Value {
    let text = r#"{
        "crop": "corn", "row_width": {"value": 30, "unit": "[in_i]"}, "texture": "silt_loam",
        "moisture": "moist", "nitrogen": {"value": 10, "unit": "%"},
        "phosphate": {"value": 34, "unit": "%"}, "potash": {"value": 0, "unit": "%"},
        "density": {"value": 11.65, "unit": "[lb_av]/[gal_us]"}, "contains": [],
        "rate": {"value": 10, "unit": "[gal_us]/[acr_us]"}
    }"#;
    serde_json::from_str::<SaltLimitIn>(text)
        .ok()
        .and_then(|body| body.work_out(System::Us, &Coefficients::STANDARD).ok())
        .and_then(|told| serde_json::to_value(told).ok())
        .unwrap_or_default()
}

impl SaltLimitIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<SaltLimitResult, ApiError> {
        let (plan, row_width) = self.parse()?;
        let field = Conditions {
            texture: self.texture.map(Into::into),
            moisture: self.moisture.map(Into::into),
            ..Conditions::of(self.crop.into())
        };
        let advice = in_furrow(&plan, &field, row_width, None, k);
        Ok(SaltLimitResult::of(advice, k, system))
    }

    fn parse(&self) -> Result<(InFurrowPlan, Length), ApiError> {
        let mut refused = Refused::default();
        let row_width = refused.take(self.row_width.parse("/row_width", &bounds::ROW_WIDTH));
        let product = self.product(&mut refused);
        let rate = self.rate.as_ref();
        let rate = optional(&mut refused, rate, "/rate", &bounds::APPLICATION_RATE);
        let held = self.exchange_capacity.as_ref();
        let exchange_capacity =
            optional(&mut refused, held, "/exchange_capacity", &bounds::CATION_EXCHANGE);
        let (Some(product), Some(row_width)) = (product, row_width) else {
            return Err(refused.into());
        };
        refused.finish()?;
        let harmful = self.contains.as_ref();
        let contains = harmful.map(|all| all.iter().copied().map(Into::into).collect());
        let plan = InFurrowPlan { rate, contains, exchange_capacity, ..InFurrowPlan::of(product) };
        Ok((plan, row_width))
    }

    fn product(&self, refused: &mut Refused) -> Option<InFurrowProduct> {
        let nitrogen = refused.take(self.nitrogen.parse("/nitrogen", &bounds::SHARE));
        let phosphate = refused.take(self.phosphate.parse("/phosphate", &bounds::SHARE));
        let potash = refused.take(self.potash.parse("/potash", &bounds::SHARE));
        let density = refused.take(self.density.parse("/density", &bounds::FERTILIZER_DENSITY));
        let analysis = Analysis::new(nitrogen?, phosphate?, potash?);
        let analysis = analysis.map_err(|error| BadMember::new("/nitrogen", format!("{error}.")));
        Some(InFurrowProduct::Starter { analysis: refused.take(analysis)?, density: density? })
    }
}

impl SaltLimitResult {
    fn of(advice: Advice<InFurrowAdvice>, k: &Coefficients, system: System) -> Self {
        let Advice { choice, because, watch, assumed } = advice;
        let mass = |it: ArealMassDensity| Quantity::show(&bounds::SEED_PLACED, it, system);
        let rate = |it: VolumePerArea| Quantity::show(&bounds::APPLICATION_RATE, it, system);
        let salt = choice.salt.as_ref();
        let others = salt.map_or(&[][..], |salt| salt.others.as_slice());
        let none = choice.stops.contains(&Stop::FertilizerOnSoybean);
        let nothing = none.then(|| mass(ArealMassDensity::from_si(0.0)));
        Self {
            verdict: choice.verdict.into(),
            stops: choice.stops.iter().copied().map(Into::into).collect(),
            limit: salt.map(|salt| mass(salt.limit)).or(nothing),
            most_product: salt.map(|salt| rate(salt.most)),
            wanted: salt.and_then(|salt| salt.wanted).map(mass),
            product_rate: choice.product_rate.map(rate),
            other_limits: others.iter().map(|it| OtherLimitOut::of(it, Show(system))).collect(),
            salt_indexes: salt_indexes(k).into_iter().map(Coefficient::from).collect(),
            because: trace::reasons(because),
            watch: trace::reasons(watch),
            assumed: trace::assumed(assumed),
            trace: trace::steps(choice.steps),
        }
    }
}
