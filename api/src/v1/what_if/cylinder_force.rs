//! `POST /v1/what-if/cylinder-force`

use actix_web::post;
use domain::planter::Cylinder;
use domain::provenance::{Input, sources};
use domain::quantity::{Area, Force, Measured, Pressure, System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::{number, optional};
use super::step::{Known, answer};

use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::planters::makeup::CylinderSide;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// A hydraulic cylinder on a row unit, and what is asked of it.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "bore": {"value": 1.5, "unit": "[in_i]"},
    "side": "cap",
    "asked": {"kind": "force_at", "pressure": {"value": 1000, "unit": "[psi]"}}
})))]
pub(super) struct CylinderForceIn {
    /// Diameter of the bore. Bound: `cylinder_diameter`.
    pub bore: Quantity,
    /// Diameter of the rod; needed for the rod side. Bound: `cylinder_diameter`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub rod: Option<Quantity>,
    /// The side that the oil acts on.
    pub side: CylinderSide,
    /// Force at the gauge wheels for each unit of force at the cylinder, from its lever; 1 when
    /// absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.1, maximum = 5, example = 1)]
    pub lever_ratio: Option<f64>,
    /// The force at a pressure, or the pressure for a force.
    pub asked: CylinderQuestion,
}

tagged_union! {
    /// The force at a pressure, or the pressure for a force.
    #[schema(examples(json!({"kind": "force_at", "pressure": {"value": 1000, "unit": "[psi]"}})))]
    pub(super) enum CylinderQuestion by "kind" {
        /// The force at a pressure.
        ForceAt = "force_at" {
            /// Gauge pressure. Bound: `element_pressure`.
            pressure: Quantity,
        },
        /// The pressure for a force.
        PressureFor = "pressure_for" {
            /// Force at the gauge wheels of the row. Bound: `row_force`.
            force: Quantity,
        },
    }
}

/// Pressure and force of a cylinder.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "pressure": {"value": 1000, "unit": "[psi]"},
    "force": {"value": 1767.15, "unit": "[lbf_av]"},
    "area": {"value": 1.76715, "unit": "[sin_i]"},
    "trace": [
        {
            "step": "force of the cylinder",
            "formula": "p A x lever ratio",
            "inputs": [
                {"symbol": "p", "value": 6.89476, "unit": "MPa"},
                {"symbol": "A", "value": 1140.09, "unit": "mm2"},
                {"symbol": "lever ratio", "value": 1, "unit": "1"}
            ],
            "value": 7860.66,
            "unit": "N",
            "source": "mechanics: force = pressure x area",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct CylinderForce {
    /// Gauge pressure.
    pub pressure: Quantity,
    /// Force at the gauge wheels of the row.
    pub force: Quantity,
    /// Area that the oil acts on.
    pub area: Quantity,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Force of a hydraulic cylinder.
///
/// `F = p A` times the lever ratio; `A` is the whole bore on the cap side and the ring around the
/// rod on the rod side. A calibration with a scale under the unit beats this sum. Relieve the
/// pressure before reaching under a unit; the machine's manual sets the limits.
///
/// Worked example (mechanics; no published case): 1.5 in of bore at 1000 psi on the cap side push
/// with 1767 lbf.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_cylinder_force", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = CylinderForceIn, description = "The cylinder and the question."),
    responses((status = 200, description = "Pressure and force.", body = CylinderForce), ComputeErrors),
)]
#[post("/what-if/cylinder-force")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<CylinderForceIn>,
) -> Result<Answer<CylinderForce>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

enum Asked {
    Pressure(Pressure),
    Force(Force),
}

impl CylinderForceIn {
    fn work_out(self, system: System) -> Result<CylinderForce, ApiError> {
        let (cylinder, asked) = self.parse()?;
        let (pressure, force) = match asked {
            Asked::Pressure(pressure) => (pressure, cylinder.force_at(pressure)),
            Asked::Force(force) => (cylinder.pressure_for(force), force),
        };
        let inputs = |symbol, value, unit| {
            vec![
                Input::new(symbol, value, unit),
                Input::new("A", cylinder.area() * 1.0e6, "mm2"),
                Input::new("lever ratio", cylinder.lever_ratio, "1"),
            ]
        };
        let step = match asked {
            Asked::Pressure(p) => FORCE.gives(inputs("p", p.si() / 1e6, "MPa"), force.si(), "N"),
            Asked::Force(f) => PRESSURE.gives(inputs("F", f.si(), "N"), pressure.si() / 1e6, "MPa"),
        };
        Ok(CylinderForce {
            pressure: Quantity::show(&bounds::ELEMENT_PRESSURE, pressure, system),
            force: Quantity::show(&bounds::ROW_FORCE, force, system),
            area: area(Area::from_si(cylinder.area()), system),
            trace: vec![step],
        })
    }

    fn parse(&self) -> Result<(Cylinder, Asked), ApiError> {
        let mut refused = Refused::default();
        let bore = refused.take(self.bore.parse("/bore", &bounds::CYLINDER_DIAMETER));
        let rod = optional(&mut refused, self.rod.as_ref(), "/rod", &bounds::CYLINDER_DIAMETER);
        let lever = refused.take(number(
            "/lever_ratio",
            self.lever_ratio.unwrap_or(1.0),
            (0.1, 5.0),
            "levers on row units stay near one",
        ));
        let asked = refused.take(self.asked.parse());
        if self.side == CylinderSide::Rod && self.rod.is_none() {
            refused.add(BadMember::new("/rod", "The rod side needs the diameter of the rod."));
        }
        if bore.zip(rod).is_some_and(|(bore, rod)| rod >= bore) {
            refused.add(
                BadMember::new("/rod", "The rod is not thinner than the bore.")
                    .why("oil on the rod side needs a ring to act on"),
            );
        }
        let (Some(bore), Some(lever_ratio), Some(asked)) = (bore, lever, asked) else {
            return Err(refused.into());
        };
        refused.finish()?;
        let rod = rod.unwrap_or_else(|| Measured::from_si(0.0));
        let most = Pressure::from_si(f64::MAX);
        Ok((Cylinder { bore, rod, side: self.side.into(), lever_ratio, most }, asked))
    }
}

impl CylinderQuestion {
    fn parse(&self) -> Result<Asked, BadMember> {
        match self {
            Self::ForceAt { pressure } => {
                pressure.parse("/asked/pressure", &bounds::ELEMENT_PRESSURE).map(Asked::Pressure)
            }
            Self::PressureFor { force } => {
                force.parse("/asked/force", &bounds::ROW_FORCE).map(Asked::Force)
            }
        }
    }
}

const FORCE: Known =
    Known::derived("force of the cylinder", "p A x lever ratio", sources::MECHANICS);
const PRESSURE: Known =
    Known::derived("pressure of the cylinder", "F / (A x lever ratio)", sources::MECHANICS);

/// Square inches or square millimetres.
fn area(area: Area, system: System) -> Quantity {
    use crate::http::quantity::six_digits;
    match system {
        System::Us => Quantity::new(six_digits(area.si() / 0.000_645_16), "[sin_i]"),
        System::Si => Quantity::new(six_digits(area.si() * 1.0e6), "mm2"),
    }
}
