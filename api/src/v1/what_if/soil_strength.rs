//! `POST /v1/what-if/soil-strength`

use actix_web::post;
use domain::conditions::{self, OutsideFormula, StrengthSoil};
use domain::provenance::{Input, Mark, Step, sources};
use domain::quantity::{MassDensity, Measured, Pressure, Ratio, System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::step::{Known, answer};
use super::words::StrengthClass;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, ProblemCode, Query, Refused};
use crate::tagged_union;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

tagged_union! {
    /// A cone reading, or a soil by its make-up.
    #[schema(examples(json!({
        "kind": "resistance_at_water",
        "soil": {
            "clay": {"value": 25, "unit": "%"}, "organic_carbon": {"value": 2, "unit": "%"},
            "bulk_density": {"value": 1.3, "unit": "g/cm3"}
        },
        "water": {"value": 0.25, "unit": "1"}
    })))]
    pub(super) enum SoilStrengthIn by "kind" {
        /// The class of a reading.
        ConeReading = "cone_reading" {
            /// Reading of the cone penetrometer. Bound: `penetration_resistance`.
            resistance: Quantity,
        },
        /// The resistance of a soil at a water content.
        ResistanceAtWater = "resistance_at_water" {
            /// The soil.
            soil: StrengthSoilIn,
            /// Water by volume, m3/m3; the formula holds from 0.10 to 0.55. Bound: `share`.
            water: Quantity,
        },
        /// The water content at which a soil has a resistance.
        WaterAtResistance = "water_at_resistance" {
            /// The soil.
            soil: StrengthSoilIn,
            /// Resistance. Bound: `penetration_resistance`.
            resistance: Quantity,
        },
    }
}

/// A soil by its make-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "clay": {"value": 25, "unit": "%"}, "organic_carbon": {"value": 2, "unit": "%"},
    "bulk_density": {"value": 1.3, "unit": "g/cm3"}
})))]
pub(super) struct StrengthSoilIn {
    /// Clay by mass; the formula holds from 5 to 40 %. Bound: `share`.
    pub clay: Quantity,
    /// Organic carbon by mass; the formula holds to 5 %. Bound: `share`.
    pub organic_carbon: Quantity,
    /// Bulk density; the formula holds from 0.9 to 1.8 g/cm3. Bound: `bulk_density`.
    pub bulk_density: Quantity,
}

/// How strong a soil is.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "resistance": {"value": 188.927, "unit": "[psi]"},
    "class": "good",
    "water": {"value": 25, "unit": "%"},
    "trace": [
        {
            "step": "penetration resistance",
            "formula": "c theta^d Db^e",
            "inputs": [
                {"symbol": "c", "value": 0.003_135_4, "unit": "MPa"},
                {"symbol": "theta", "value": 0.25, "unit": "m3/m3"},
                {"symbol": "d", "value": -3.165, "unit": "1"},
                {"symbol": "Db", "value": 1.3, "unit": "g/cm3"},
                {"symbol": "e", "value": 6.2575, "unit": "1"}
            ],
            "value": 1.3026,
            "unit": "MPa",
            "source": "da Silva, Kay 1997; Kay et al. 1997: coefficients as carried in public pedotransfer source text (unit MPa from memory, source to confirm)",
            "mark": "from_memory",
            "mark_words": "from memory, source to confirm"
        },
        {
            "step": "class of the cone reading",
            "formula": "loose < 100 psi <= good <= 200 psi < firm <= 300 psi < hard",
            "inputs": [{"symbol": "PR", "value": 188.927, "unit": "[psi]"}],
            "value": 188.927,
            "unit": "[psi]",
            "source": "Penn State Extension, as reported in the farm press, n.d. Tips for diagnosing soil compaction",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct SoilStrength {
    /// Resistance to the cone.
    pub resistance: Quantity,
    /// Its class.
    pub class: StrengthClass,
    /// Water by volume, where the formula was used.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub water: Option<Quantity>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Soil strength.
///
/// Classes of the cone penetrometer (Penn State Extension), and the formula of da Silva and Kay
/// 1997, `PR = c theta^d Db^e`, which shows what drying does. The unit of its result is from
/// memory, and so is the range of soils that it was built on; outside that range it is refused as
/// `outside_validity`.
///
/// Worked example (da Silva and Kay 1997, calculated from their formula as public source text
/// carries it; the paper itself was not read): 25 % clay, 2 % organic carbon, 1.3 g/cm3 and 25 %
/// of water by volume give 189 psi.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_soil_strength", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SoilStrengthIn, description = "A reading or a soil."),
    responses((status = 200, description = "The strength.", body = SoilStrength), ComputeErrors),
)]
#[post("/what-if/soil-strength")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SoilStrengthIn>,
) -> Result<Answer<SoilStrength>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

const CLASS: Known = Known {
    step: "class of the cone reading",
    formula: "loose < 100 psi <= good <= 200 psi < firm <= 300 psi < hard",
    source: sources::PENN_PENETROMETER,
    mark: Mark::Read,
};

impl SoilStrengthIn {
    fn work_out(self, system: System) -> Result<SoilStrength, ApiError> {
        let cone = &bounds::PENETRATION_RESISTANCE;
        let mut refused = Refused::default();
        match self {
            Self::ConeReading { resistance } => {
                let resistance = resistance.parse("/resistance", cone)?;
                Ok(shown(resistance, None, None, system))
            }
            Self::ResistanceAtWater { soil, water } => {
                let soil = soil.parse(&mut refused);
                let theta = refused.take(water.parse("/water", &bounds::SHARE));
                let (Some(soil), Some(theta)) = (soil, theta) else {
                    return Err(refused.into());
                };
                let (resistance, step) =
                    soil_of(soil)?.resistance(theta.si()).map_err(|e| outside(&e))?;
                Ok(shown(resistance, Some(theta.si()), Some(step), system))
            }
            Self::WaterAtResistance { soil, resistance } => {
                let soil = soil.parse(&mut refused);
                let resistance = refused.take(resistance.parse("/resistance", cone));
                let (Some(soil), Some(resistance)) = (soil, resistance) else {
                    return Err(refused.into());
                };
                let (theta, step) = soil_of(soil)?.water_at(resistance).map_err(|e| outside(&e))?;
                Ok(shown(resistance, Some(theta), Some(step), system))
            }
        }
    }
}

/// Clay and organic carbon in percent, bulk density.
type Parts = (f64, f64, MassDensity);

impl StrengthSoilIn {
    fn parse(&self, refused: &mut Refused) -> Option<Parts> {
        let Self { clay, organic_carbon, bulk_density } = self;
        let clay = refused.take(clay.parse("/soil/clay", &bounds::SHARE));
        let carbon = refused.take(organic_carbon.parse("/soil/organic_carbon", &bounds::SHARE));
        let density = refused.take(bulk_density.parse("/soil/bulk_density", &bounds::BULK_DENSITY));
        Some((clay?.si() * 100.0, carbon?.si() * 100.0, density?))
    }
}

/// A soil for which the formula holds.
fn soil_of((clay, carbon, density): Parts) -> Result<StrengthSoil, ApiError> {
    StrengthSoil::new(clay, carbon, density).map_err(|error| outside(&error))
}

fn outside(error: &OutsideFormula) -> ApiError {
    let pointer = match error.what {
        "clay" => "/soil/clay",
        "organic carbon" => "/soil/organic_carbon",
        "bulk density" => "/soil/bulk_density",
        _ => "/water",
    };
    let member = BadMember::new(pointer, format!("{error}."))
        .given(format!("{} {}", error.value, error.unit))
        .allowed(format!("{} to {} {}", error.least, error.most, error.unit))
        .why("the formula was built on soils within this range");
    ApiError::new(ProblemCode::OutsideValidity, "The strength formula does not hold here.")
        .with_members(vec![member])
}

fn shown(
    resistance: Pressure,
    water: Option<f64>,
    step: Option<Step>,
    system: System,
) -> SoilStrength {
    let psi = bounds::PENETRATION_RESISTANCE.show(resistance, System::Us).0;
    let mut trace: Vec<TraceStep> = step.into_iter().map(TraceStep::from).collect();
    trace.push(CLASS.gives(vec![Input::new("PR", psi, "[psi]")], psi, "[psi]"));
    SoilStrength {
        resistance: Quantity::show(&bounds::PENETRATION_RESISTANCE, resistance, system),
        class: conditions::StrengthClass::of(resistance).into(),
        water: water.map(|share| Quantity::show(&bounds::SHARE, Ratio::from_si(share), system)),
        trace,
    }
}
