//! `POST /v1/what-if/green-bridge`

use actix_web::post;
use actix_web::web::Data;
use chrono::{NaiveDate, TimeDelta};
use domain::conditions::{self, Conditions, CoverCrop, kill_gap, pests};
use domain::provenance::{Coefficients, sources};
use domain::quantity::bounds;
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
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::pests::{PestFinding, findings};
use crate::v1::conditions::{BridgeRisk, CoverSpecies, CoverState, Crop};
use crate::v1::trace::{Reason, TraceStep, reasons};
use crate::v1::units::UnitsQuery;

/// A cover crop, its end, and what was counted.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "corn",
    "species": "cereal_rye",
    "state": "green_rolled",
    "days_from_end_to_planting": -4,
    "armyworm": {"value": 18, "unit": "%"}
})))]
pub(super) struct GreenBridgeIn {
    /// The crop to be planted.
    pub crop: Crop,
    /// The cover crop.
    pub species: CoverSpecies,
    /// Its state on the day of planting.
    pub state: CoverState,
    /// Its height. Bound: `cover_height`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub height: Option<Quantity>,
    /// Days from its end to planting; negative when it is ended after planting.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = -14, maximum = 60, example = -4)]
    pub days_from_end_to_planting: Option<i64>,
    /// Plants that armyworms feed on. Bound: `share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub armyworm: Option<Quantity>,
    /// Plants that cutworms cut or tunnelled. Bound: `share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub cutworm: Option<Quantity>,
    /// Slugs on a plant, mean of five plants at ten places.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0, maximum = 100, example = 1.5)]
    pub slugs_per_plant: Option<f64>,
}

/// What may move from the cover to the crop, and what the gap costs.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "risk": "high",
    "because": [
        {
            "text": "rolled, planted green and sprayed afterwards is the worst green bridge: scout for cutworm and armyworm from emergence on",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "Cornell University. Cover crops and insect green bridge, n.d."
        },
        {
            "text": "less than two weeks between the end of a grass cover and corn raises the risk of armyworm: look at 20 plants at 5 places each week",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "Penn State Extension, as reported in the farm press, n.d. True armyworm when corn planting is delayed"
        },
        {
            "text": "black cutworm feeds on the dying cover for 1 to 2 weeks and then moves to the crop",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "Cornell University. Cover crops and insect green bridge, n.d."
        }
    ],
    "gap": [
        {
            "text": "rye that lived 1 to 2 weeks beside early corn cost 40 to 60 bu/ac; ended right at planting corn was good",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "University of Wisconsin, as reported on farm radio, n.d. Know when to terminate when planting green"
        },
        {
            "text": "a roller without herbicide needs the right stage and at least 3 weeks before planting",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "SARE. Conservation Tillage Systems in the Southeast, ch. 9, Planting in cover crop residue"
        },
        {
            "text": "ending it with herbicide needs daytime air of 55 °F or more; the label says how, and it is the law",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "Pennsylvania note, as reported in the farm press, n.d. No-till, cover crop residue serve beneficial functions"
        }
    ],
    "pests": [
        {
            "pest": "armyworm",
            "level": "look_again",
            "reason": {
                "text": "armyworm feeds on 18 % of the plants: from 15 to 20 % look again in a few days (Ohio)",
                "mark": "read",
                "mark_words": "read in the source",
                "source": "Ohio State University, as reported in the farm press, n.d. Armyworm and cover crops"
            }
        }
    ],
    "trace": [
        {
            "step": "days from the end of the cover to planting",
            "formula": "t_planting - t_end",
            "inputs": [],
            "value": -4,
            "unit": "d",
            "source": "definition of the unit",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct GreenBridgeResult {
    /// How likely pests are to move over.
    pub risk: BridgeRisk,
    /// Why, and what to look for.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What the days between the end of the cover and planting cost and save.
    #[schema(max_items = 100)]
    pub gap: Vec<Reason>,
    /// What was counted, against published thresholds.
    #[schema(max_items = 10)]
    pub pests: Vec<PestFinding>,
    /// The days that were held against the rules, where they are known.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Green bridge from cover to crop.
///
/// The risk that armyworm, cutworm and slugs move from the cover to the crop, by species, state and
/// the days between its end and planting, by rules and not by a formula; counts are held against
/// published thresholds; and what the gap costs and saves.
///
/// Worked example (Cornell University, Cover crops and insect green bridge, n.d.; Ohio State
/// University, Armyworm and cover crops, n.d.): rolled, planted green and sprayed four days after
/// planting is the worst bridge; at 18 % of plants fed on by armyworm look again (15 to 20 %).
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_green_bridge", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = GreenBridgeIn, description = "Cover, gap, counts."),
    responses((status = 200, description = "The risk.", body = GreenBridgeResult), ComputeErrors),
)]
#[post("/what-if/green-bridge")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    _query: Query<UnitsQuery>,
    body: Body<GreenBridgeIn>,
) -> Result<Answer<GreenBridgeResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(&k).map(Answer::ok)
}

impl GreenBridgeIn {
    fn work_out(self, k: &Coefficients) -> Result<GreenBridgeResult, ApiError> {
        let field = self.parse()?;
        let bridge = conditions::green_bridge(&field, k);
        Ok(GreenBridgeResult {
            risk: bridge.risk.into(),
            because: reasons(bridge.causes),
            gap: reasons(kill_gap(&field, k)),
            pests: findings(pests(&field, k)),
            trace: self.days_from_end_to_planting.map(gap_step).into_iter().collect(),
        })
    }

    fn parse(&self) -> Result<Conditions, ApiError> {
        let mut refused = Refused::default();
        let share = |refused: &mut Refused, given: Option<&Quantity>, at: &str| {
            optional(refused, given, at, &bounds::SHARE)
        };
        let counted = conditions::Pests {
            armyworm: share(&mut refused, self.armyworm.as_ref(), "/armyworm"),
            cutworm: share(&mut refused, self.cutworm.as_ref(), "/cutworm"),
            slugs_per_plant: self.slugs_per_plant.and_then(|given| {
                let why = "a plant of a few leaves carries no more";
                refused.take(number("/slugs_per_plant", given, (0.0, 100.0), why))
            }),
        };
        let height = self.height.as_ref();
        let height = optional(&mut refused, height, "/height", &bounds::COVER_HEIGHT);
        let gap = self.days_from_end_to_planting.and_then(|days| refused.take(gap(days)));
        refused.finish()?;
        // Only the days between count; any day of planting does.
        let planting = NaiveDate::default();
        Ok(Conditions {
            planting_date: Some(planting),
            cover_ended: gap.and_then(|days| planting.checked_sub_signed(TimeDelta::days(days))),
            cover: Some(CoverCrop {
                state: Some(self.state.into()),
                height,
                ..CoverCrop::of(self.species.into())
            }),
            pests: counted,
            ..Conditions::of(self.crop.into())
        })
    }
}

const GAP: Known = Known::derived(
    "days from the end of the cover to planting",
    "t_planting - t_end",
    sources::DEFINITION,
);

fn gap_step(days: i64) -> TraceStep {
    // Checked to lie within a few weeks.
    let days = i32::try_from(days).map_or(0.0, f64::from);
    GAP.gives(Vec::new(), days, "d")
}

fn gap(days: i64) -> Result<i64, BadMember> {
    if (-14..=60).contains(&days) {
        return Ok(days);
    }
    let detail = format!("{days} days are outside -14 to 60.");
    Err(BadMember::new("/days_from_end_to_planting", detail)
        .given(days)
        .allowed("-14 to 60 days")
        .why("a cover that died in winter is dead residue, and none may live on beside the crop"))
}
