//! `POST /v1/what-if/contact-loss`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::{Coefficients, Input, Mark, sources};
use domain::quantity::{Force, Measured, Ratio, System, bounds};
use domain::settings::forces;
use serde::Serialize;
use utoipa::ToSchema;

use super::member::optional;
use super::step::Known;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::tagged_union;
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

tagged_union! {
    /// A mean load, or the share of contact loss that is put up with.
    #[schema(examples(json!({
        "kind": "share_at_load",
        "load": {"value": 713, "unit": "N"},
        "scatter": {"value": 506.23, "unit": "N"}
    })))]
    pub(super) enum ContactLossIn by "kind" {
        /// How often wheels leave the ground at a mean load.
        ShareAtLoad = "share_at_load" {
            /// Mean load on the gauge wheels of a row. Bound: `gauge_wheel_load`.
            load: Quantity,
            /// Standard deviation of that load along the row; the coefficient `load_scatter` when
            /// absent. Bound: `gauge_wheel_load`.
            #[serde(default, deserialize_with = "present")]
            #[schema(nullable = false)]
            scatter: Option<Quantity>,
        },
        /// The mean load at which wheels leave the ground so often.
        LoadForShare = "load_for_share" {
            /// Share of the time without contact, from 0.1 to 50 %. Bound: `share`.
            share: Quantity,
            /// Standard deviation of the load along the row; the coefficient `load_scatter` when
            /// absent. Bound: `gauge_wheel_load`.
            #[serde(default, deserialize_with = "present")]
            #[schema(nullable = false)]
            scatter: Option<Quantity>,
        },
    }
}

/// Load, scatter, and how often wheels leave the ground.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "load": {"value": 160.289, "unit": "[lbf_av]"},
    "scatter": {"value": 113.805, "unit": "[lbf_av]"},
    "contact_loss": {"value": 7.94988, "unit": "%"},
    "defaults": [],
    "trace": [
        {
            "step": "share of the time without contact",
            "formula": "Phi(-G / sigma)",
            "inputs": [
                {"symbol": "G", "value": 713, "unit": "N"},
                {"symbol": "sigma", "value": 506.23, "unit": "N"}
            ],
            "value": 0.079_498_8,
            "unit": "1",
            "source": "normal distribution of the load (an assumption) with the published spread",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct ContactLossResult {
    /// Mean load on the gauge wheels of a row.
    pub load: Quantity,
    /// Standard deviation of that load along the row.
    pub scatter: Quantity,
    /// Share of the time that the wheels are off the ground.
    pub contact_loss: Quantity,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1000)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Contact loss of gauge wheels.
///
/// `p = Phi(-G / sigma)`: the load along the row is taken as normal (an assumption) with a scatter
/// that speed does not change.
///
/// Worked example (journal abstract, "Two-dimensional radial sensing device for gauge-wheel
/// downforce on a no-till planter"; mean and coefficient of variation read, share derived): at
/// 12 km/h the mean load was 713 N with a coefficient of variation of 0.71, so a scatter of
/// 506 N: the wheels are off the ground 8 % of the time (7.95 %).
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_contact_loss", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = ContactLossIn, description = "A load, or a share."),
    responses(
        (status = 200, description = "Load and share of contact loss.", body = ContactLossResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/contact-loss")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<ContactLossIn>,
) -> Result<Answer<ContactLossResult>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl ContactLossIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<ContactLossResult, ApiError> {
        let mut refused = Refused::default();
        match self {
            Self::ShareAtLoad { load, scatter } => {
                let load = refused.take(load.parse("/load", &bounds::GAUGE_WHEEL_LOAD));
                let scatter = scatter_of(scatter.as_ref(), k, &mut refused);
                let (Some(load), Some(scatter)) = (load, scatter) else {
                    return Err(refused.into());
                };
                let p = forces::contact_loss(load, scatter.force);
                let step = share_step(load, scatter.force, p);
                Ok(scatter.shown(load, p, step, system))
            }
            Self::LoadForShare { share, scatter } => {
                let share = refused.take(tail(&share));
                let scatter = scatter_of(scatter.as_ref(), k, &mut refused);
                let (Some(p), Some(scatter)) = (share, scatter) else {
                    return Err(refused.into());
                };
                let load = forces::load_for_loss(p, scatter.force);
                let inputs =
                    vec![Input::new("p", p, "1"), Input::new("sigma", scatter.force.si(), "N")];
                let step = LOAD.gives(inputs, load.si(), "N");
                Ok(scatter.shown(load, p, step, system))
            }
        }
    }
}

const SHARE: Known = Known {
    step: "share of the time without contact",
    formula: "Phi(-G / sigma)",
    source: sources::NORMAL,
    mark: Mark::Derived,
};
const LOAD: Known = Known {
    step: "mean load for a share of contact loss",
    formula: "-Phi^-1(p) sigma",
    source: sources::NORMAL,
    mark: Mark::Derived,
};

/// The step of the contact loss, also for the balance of a row.
pub(super) fn share_step(load: Force, scatter: Force, p: f64) -> TraceStep {
    let inputs = vec![Input::new("G", load.si(), "N"), Input::new("sigma", scatter.si(), "N")];
    SHARE.gives(inputs, p, "1")
}

/// The scatter of the load, measured or by default.
pub(super) struct Scatter {
    /// Standard deviation.
    pub force: Force,
    /// The coefficient, where it stood in.
    pub default: Option<Coefficient>,
}

/// Reads `/scatter`.
pub(super) fn scatter_of(
    given: Option<&Quantity>,
    k: &Coefficients,
    refused: &mut Refused,
) -> Option<Scatter> {
    let Some(given) = given else {
        let k = &k.load_scatter;
        return Some(Scatter {
            force: Force::from_si(k.value),
            default: Some(Coefficient::from(k)),
        });
    };
    let force = optional(refused, Some(given), "/scatter", &bounds::GAUGE_WHEEL_LOAD)?;
    if force.si() < 1.0 {
        let member = BadMember::new("/scatter", "The load of a moving planter always varies.")
            .given(format!("{} {}", given.value, given.unit))
            .allowed("1 N or more")
            .why("without scatter there is no share of contact loss, only all or nothing");
        refused.add(member);
        return None;
    }
    Some(Scatter { force, default: None })
}

impl Scatter {
    fn shown(self, load: Force, p: f64, step: TraceStep, system: System) -> ContactLossResult {
        let force = |force| Quantity::show(&bounds::GAUGE_WHEEL_LOAD, force, system);
        ContactLossResult {
            load: force(load),
            scatter: force(self.force),
            contact_loss: Quantity::show(&bounds::SHARE, Ratio::from_si(p), system),
            defaults: self.default.into_iter().collect(),
            trace: vec![step],
        }
    }
}

/// A share of contact loss for which there is a load.
fn tail(given: &Quantity) -> Result<f64, BadMember> {
    let share = given.parse("/share", &bounds::SHARE)?.si();
    if (0.001..=0.5).contains(&share) {
        return Ok(share);
    }
    Err(BadMember::new("/share", "No load belongs to this share.")
        .given(format!("{} {}", given.value, given.unit))
        .allowed("0.1 to 50 %")
        .why("at one half the mean load is nothing; below one in a thousand the tail is a guess"))
}
