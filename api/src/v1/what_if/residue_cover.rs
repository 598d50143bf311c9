//! `POST /v1/what-if/residue-cover`

use actix_web::post;
use actix_web::web::Data;
use domain::conditions::{self, Conditions, cover_from_mass, transect_cover};
use domain::provenance::{Coefficients, Input, Mark, sources};
use domain::quantity::{Measured, Ratio, System, bounds};
use serde::Serialize;
use utoipa::ToSchema;

use super::member::{number, whole};
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::PreviousCrop;
use crate::v1::trace::{self, Assumed, TraceStep};
use crate::v1::units::UnitsQuery;

tagged_union! {
    /// A line transect, a mass of residue, or a yield.
    #[schema(examples(json!({
        "kind": "mass", "previous_crop": "corn", "mass": {"value": 0.5, "unit": "kg/m2"}
    })))]
    pub(super) enum ResidueCoverIn by "kind" {
        /// Marks of a tape laid across the rows at 45 degrees.
        Transect = "transect" {
            /// Marks that lie over residue.
            #[schema(minimum = 0, maximum = 1000, example = 45)]
            hits: u32,
            /// Marks that were looked at.
            #[schema(minimum = 10, maximum = 1000, example = 100)]
            marks: u32,
        },
        /// Residue of a crop by its mass.
        Mass = "mass" {
            /// The crop that left it; `other` has no factor.
            previous_crop: PreviousCrop,
            /// Dry residue on the ground. Bound: `dry_matter`.
            mass: Quantity,
        },
        /// Residue of a crop by its yield.
        Yield = "yield" {
            /// The crop that left it.
            previous_crop: PreviousCrop,
            /// Its yield in bushels per acre; the usual one when absent.
            #[serde(default, deserialize_with = "present")]
            #[schema(nullable = false, minimum = 0, maximum = 400, example = 180)]
            yield_bu_ac: Option<f64>,
        },
    }
}

/// Ground under dead residue.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "cover": {"value": 68.3363, "unit": "%"},
    "low": {"value": 68.3363, "unit": "%"},
    "high": {"value": 81.7316, "unit": "%"},
    "assumed": [],
    "trace": [
        {
            "step": "ground covered by residue",
            "formula": "1 - exp(-cf M)",
            "inputs": [
                {"symbol": "cf_corn", "value": 2.3, "unit": "m2/kg"},
                {"symbol": "M", "value": 0.5, "unit": "kg/m2"}
            ],
            "value": 0.683_363,
            "unit": "1",
            "source": "USDA-ARS erosion model source (covcal, recoded 1993); Gregory 1982, Trans. ASAE, 1333-1337",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct ResidueCoverResult {
    /// Share of the ground that is covered.
    pub cover: Quantity,
    /// Least that is likely.
    pub low: Quantity,
    /// Most that is likely.
    pub high: Quantity,
    /// What nobody observed.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Ground covered by residue.
///
/// Counted along a tape (hits over marks, 100 marks are usual), or by `1 - exp(-cf M)` from the
/// mass of the residue, which a yield gives too.
///
/// Worked example (USDA-ARS erosion model source, 1993, after Gregory 1982, Trans. ASAE): 0.5 kg of
/// corn residue on each square metre, at 2.3 m2/kg, cover 68 % of the ground.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_residue_cover", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = ResidueCoverIn, description = "A transect, a mass, or a yield."),
    responses(
        (status = 200, description = "The cover.", body = ResidueCoverResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/residue-cover")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<ResidueCoverIn>,
) -> Result<Answer<ResidueCoverResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

const TRANSECT: Known = Known {
    step: "ground covered by residue",
    formula: "hits / marks",
    source: sources::KANSAS_TRANSECT,
    mark: Mark::Read,
};
const MASS: Known =
    Known::derived("ground covered by residue", "1 - exp(-cf M)", sources::GREGORY_1982);

impl ResidueCoverIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<ResidueCoverResult, ApiError> {
        match self {
            Self::Transect { hits, marks } => {
                let cover = counted(hits, marks)?;
                let inputs = vec![
                    Input::new("hits", f64::from(hits), "1"),
                    Input::new("marks", f64::from(marks), "1"),
                ];
                let step = TRANSECT.gives(inputs, cover.si(), "1");
                Ok(shown([cover.si(); 3], Vec::new(), vec![step], system))
            }
            Self::Mass { previous_crop, mass } => from_mass(previous_crop, &mass, system, k),
            Self::Yield { previous_crop, yield_bu_ac } => {
                let why = "corn yields up to about 300 bushels an acre";
                let bushels = yield_bu_ac
                    .map(|given| number("/yield_bu_ac", given, (0.0, 400.0), why))
                    .transpose()?;
                let field = Conditions {
                    previous_crop: Some(previous_crop.into()),
                    previous_yield_bu_ac: bushels,
                    // The crop to be planted has no say in what lies there.
                    ..Conditions::of(conditions::Crop::Corn)
                };
                let found = conditions::residue_cover(&field, k);
                let range = [found.low, found.likely, found.high];
                let assumed = trace::assumed(found.assumed);
                Ok(shown(range, assumed, trace::steps(found.steps), system))
            }
        }
    }
}

fn counted(hits: u32, marks: u32) -> Result<Ratio, ApiError> {
    let mut refused = Refused::default();
    let why = "a few marks say little; 100 are usual";
    refused.take(whole("/marks", marks, (10, 1000), why));
    refused.finish()?;
    transect_cover(hits, marks)
        .map_err(|error| BadMember::new("/hits", format!("{error}.")).given(hits).into())
}

fn from_mass(
    crop: PreviousCrop,
    mass: &Quantity,
    system: System,
    k: &Coefficients,
) -> Result<ResidueCoverResult, ApiError> {
    let mut refused = Refused::default();
    let mass = refused.take(mass.parse("/mass", &bounds::DRY_MATTER));
    let factor = match crop {
        PreviousCrop::Corn => Some(&k.cover_factor_corn),
        PreviousCrop::Soybean => Some(&k.cover_factor_soybean),
        PreviousCrop::Wheat => Some(&k.cover_factor_small_grain),
        PreviousCrop::Other => None,
    };
    if factor.is_none() {
        refused.add(
            BadMember::new("/previous_crop", "There is no cover factor for other crops.")
                .given("other")
                .allowed("corn, soybean, wheat")
                .why("how far a mass of residue covers the ground differs from crop to crop"),
        );
    }
    let (Some(mass), Some(cf)) = (mass, factor) else { return Err(refused.into()) };
    let cover = |factor| cover_from_mass(mass, factor).si();
    let inputs =
        vec![Input::new(cf.symbol, cf.value, cf.unit), Input::new("M", mass.si(), "kg/m2")];
    let step = MASS.gives_by(cf, inputs, cover(cf.value), "1");
    let range = [cover(cf.low), cover(cf.value), cover(cf.high)];
    Ok(shown(range, Vec::new(), vec![step], system))
}

fn shown(
    [low, likely, high]: [f64; 3],
    assumed: Vec<Assumed>,
    trace: Vec<TraceStep>,
    system: System,
) -> ResidueCoverResult {
    let share = |share| Quantity::show(&bounds::SHARE, Ratio::from_si(share), system);
    ResidueCoverResult { cover: share(likely), low: share(low), high: share(high), assumed, trace }
}
