//! `POST /v1/what-if/disc-wear`

use actix_web::post;
use actix_web::web::Data;
use domain::planter::{self, OpenerDisc, real_depth};
use domain::provenance::{Coefficients, Input, Mark, sources};
use domain::quantity::{Length, Measured, System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::optional;
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::recommendations::DiscVerdict;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// A pair of opener discs, measured.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "new_diameter": {"value": 15, "unit": "[in_i]"},
    "measured": {"value": 14.75, "unit": "[in_i]"},
    "manual_limit": {"value": 14.5, "unit": "[in_i]"},
    "lever_depth": {"value": 2, "unit": "[in_i]"}
})))]
pub(super) struct DiscWearIn {
    /// Diameter when new. Bound: `disc_diameter`.
    pub new_diameter: Quantity,
    /// Diameter as measured. Bound: `disc_diameter`.
    pub measured: Quantity,
    /// Diameter at which the machine's manual says to replace; the coefficient `disc_wear_limit`
    /// below the new diameter when absent. Bound: `disc_diameter`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub manual_limit: Option<Quantity>,
    /// Depth that the lever stands for with new discs. Bound: `planting_depth`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub lever_depth: Option<Quantity>,
}

/// What to do with the discs, and what their wear costs in depth.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "verdict": "keep",
    "limit": {"value": 14.5, "unit": "[in_i]"},
    "depth_lost": {"value": 0.125, "unit": "[in_i]"},
    "furrow_depth": {"value": 1.875, "unit": "[in_i]"},
    "defaults": [],
    "trace": [
        {
            "step": "depth lost to wear",
            "formula": "(D_new - D) / 2",
            "inputs": [
                {"symbol": "D_new", "value": 381, "unit": "mm"},
                {"symbol": "D", "value": 374.65, "unit": "mm"}
            ],
            "value": 3.175,
            "unit": "mm",
            "source": "geometry",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "furrow depth",
            "formula": "d_lever - loss",
            "inputs": [
                {"symbol": "d_lever", "value": 50.8, "unit": "mm"},
                {"symbol": "loss", "value": 3.175, "unit": "mm"}
            ],
            "value": 47.625,
            "unit": "mm",
            "source": "geometry",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "limit of the disc",
            "formula": "as the manual says",
            "inputs": [{"symbol": "D_new", "value": 381, "unit": "mm"}],
            "value": 368.3,
            "unit": "mm",
            "source": "the machine's manual, as entered",
            "mark": "read",
            "mark_words": "read in the source"
        }
    ]
})))]
pub(super) struct DiscWear {
    /// Keep or replace. A disc at the limit is replaced.
    pub verdict: DiscVerdict,
    /// The limit that counted.
    pub limit: Quantity,
    /// Depth that the furrow loses at an unchanged lever.
    pub depth_lost: Quantity,
    /// Furrow depth at the lever depth.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub furrow_depth: Option<Quantity>,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1000)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Wear of opener discs.
///
/// A disc at or below its limit is replaced; the machine's manual wins over the usual half inch.
/// Furrow depth falls by half the loss of diameter: `d = d_lever - (D_new - D) / 2`.
///
/// Worked example (Iowa State University, planter pre-plant checklist, n.d.; depth by geometry): a
/// 15 in disc is replaced at 14.5 in. At 14.75 in it is kept, and a lever at 2 in cuts 1-7/8 in.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_disc_wear", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = DiscWearIn, description = "The discs."),
    responses((status = 200, description = "Keep or replace.", body = DiscWear), ComputeErrors),
)]
#[post("/what-if/disc-wear")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<DiscWearIn>,
) -> Result<Answer<DiscWear>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl DiscWearIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<DiscWear, ApiError> {
        let (disc, now, lever) = self.parse()?;
        let k = &k.disc_wear_limit;
        let usual = Length::from_si(k.value * 0.0254);
        let limit = disc.manual_limit.unwrap_or(disc.new_diameter - usual);
        let lost = disc.depth_lost();
        let mut trace = vec![LOST.gives(
            vec![mm("D_new", disc.new_diameter), mm("D", now)],
            lost.si() * 1000.0,
            "mm",
        )];
        let furrow = lever.map(|lever| real_depth(lever, &disc));
        if let Some((lever, furrow)) = lever.zip(furrow) {
            let inputs = vec![mm("d_lever", lever), mm("loss", lost)];
            trace.push(FURROW.gives(inputs, furrow.si() * 1000.0, "mm"));
        }
        let from = vec![mm("D_new", disc.new_diameter)];
        let shown = limit.si() * 1000.0;
        trace.push(match disc.manual_limit {
            Some(_) => LIMIT_GIVEN.gives(from, shown, "mm"),
            None => LIMIT_USUAL.gives_by(k, from, shown, "mm"),
        });
        let defaults = match disc.manual_limit {
            Some(_) => vec![],
            None => vec![Coefficient::from(k)],
        };
        Ok(DiscWear {
            verdict: planter::disc_wear(&disc, usual).into(),
            limit: Quantity::show(&bounds::DISC_DIAMETER, limit, system),
            depth_lost: Quantity::show(&bounds::PLANTING_DEPTH, lost, system),
            furrow_depth: furrow.map(|d| Quantity::show(&bounds::PLANTING_DEPTH, d, system)),
            defaults,
            trace,
        })
    }

    fn parse(&self) -> Result<(OpenerDisc, Length, Option<Length>), ApiError> {
        let mut refused = Refused::default();
        let diameter = &bounds::DISC_DIAMETER;
        let new = refused.take(self.new_diameter.parse("/new_diameter", diameter));
        let now = refused.take(self.measured.parse("/measured", diameter));
        let limit = self.manual_limit.as_ref();
        let manual_limit = optional(&mut refused, limit, "/manual_limit", diameter);
        let lever = self.lever_depth.as_ref();
        let lever = optional(&mut refused, lever, "/lever_depth", &bounds::PLANTING_DEPTH);
        let (Some(new_diameter), Some(now)) = (new, now) else {
            return Err(refused.into());
        };
        let not_above_new = |length: Length| length.si() <= new_diameter.si() + 1e-9;
        for (pointer, length) in [("/measured", Some(now)), ("/manual_limit", manual_limit)] {
            if !length.is_none_or(not_above_new) {
                refused.add(
                    BadMember::new(pointer, "This is more than the diameter when new.")
                        .why("a disc does not grow"),
                );
            }
        }
        refused.finish()?;
        Ok((OpenerDisc { new_diameter, measured: Some(now), manual_limit }, now, lever))
    }
}

const LOST: Known = Known::derived("depth lost to wear", "(D_new - D) / 2", sources::GEOMETRY);
const FURROW: Known = Known::derived("furrow depth", "d_lever - loss", sources::GEOMETRY);
const LIMIT_GIVEN: Known = Known {
    step: "limit of the disc",
    formula: "as the manual says",
    source: "the machine's manual, as entered",
    mark: Mark::Read,
};
const LIMIT_USUAL: Known =
    Known::derived("limit of the disc", "D_new - w_max", sources::IOWA_CHECKLIST);

fn mm(symbol: &'static str, length: Length) -> Input {
    Input::new(symbol, length.si() * 1000.0, "mm")
}
