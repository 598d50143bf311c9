//! `POST /v1/what-if/sample-size`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::{Coefficients, Input};
use domain::trial::power::{Planned, USUAL_POWER};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::number;
use super::step::Known;
use super::trial_plan::{MOST_REPLICATIONS, NONCENTRAL_T, PlannedTrial, PlotScatter, size};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::six_digits;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

const NEEDED: Known = Known::derived(
    "replications",
    "fewest with P(|t'| > critical value) >= power, t' noncentral",
    NONCENTRAL_T,
);
/// Numbers of replications that people lay out.
const LADDER: [u32; 8] = [2, 3, 4, 5, 6, 8, 10, 12];

/// A trial, its scatter, and the difference that is to show.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "trial": {"design": "paired"},
    "difference": 10.2,
    "scatter": {"kind": "sd", "sd": 5}
})))]
pub(super) struct SampleSizeIn {
    /// The design.
    pub trial: PlannedTrial,
    /// The difference that is to show: what would pay for the part. In any unit.
    #[schema(minimum = 0.000_000_001, maximum = 1_000_000_000, example = 10.2)]
    pub difference: f64,
    /// How much plots differ by themselves, in the same unit.
    pub scatter: PlotScatter,
    /// Chance that it is to show; 0.8 when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, minimum = 0.5, maximum = 0.99, example = 0.8)]
    pub power: Option<f64>,
}

/// How many replications it takes.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub(super) struct SampleSize {
    /// Pairs, passes, blocks, or plots of each treatment; absent when even 100 do not do.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 2, maximum = 100, example = 6)]
    pub replications: Option<u32>,
    /// The same in words.
    #[schema(example = "6 pairs show a difference of 10.2 in 80 of 100 such trials.")]
    pub words: String,
    /// What fewer or more would show.
    #[schema(max_items = 8)]
    pub ladder: Vec<ShownBy>,
    /// Standard deviation of a plot that it rests on.
    #[schema(example = 5)]
    pub sd: f64,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 10)]
    pub trace: Vec<TraceStep>,
}

/// What a number of replications shows.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"replications": 4, "power": 0.55, "detectable": 15.05})))]
pub(super) struct ShownBy {
    /// Replications.
    #[schema(minimum = 2, maximum = 12, example = 4)]
    pub replications: u32,
    /// Chance that the wanted difference shows, 0 to 1.
    #[schema(minimum = 0, maximum = 1, example = 0.55)]
    pub power: f64,
    /// The difference that shows with the wanted chance.
    #[schema(example = 15.05)]
    pub detectable: f64,
}

/// Replications that a trial needs.
///
/// The fewest with which a true difference shows with the wanted chance, by the noncentral t of the
/// test that the analysis makes. More digs or counts in a plot are no replications; they only make
/// its mean surer (`sampled`).
///
/// Worked example (noncentral t, computed; a table of such figures for pairs is
/// checked in the tests): plots that scatter by 5 make pairs that scatter by 7.07. Six pairs show
/// 1.435 times that, 10.2, in 80 of 100 trials.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_sample_size", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SampleSizeIn, description = "Design, scatter and difference."),
    responses((status = 200, description = "How many.", body = SampleSize), ComputeErrors),
)]
#[post("/what-if/sample-size")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    _: Query<UnitsQuery>,
    body: Body<SampleSizeIn>,
) -> Result<Answer<SampleSize>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(&k).map(Answer::ok)
}

impl SampleSizeIn {
    fn work_out(self, k: &Coefficients) -> Result<SampleSize, ApiError> {
        let mut refused = Refused::default();
        let planned = self.trial.parse("/trial", &mut refused);
        let difference = refused.take(size("/difference", self.difference));
        let why = "below an even chance a trial is not worth its ground";
        let power = self.power.unwrap_or(USUAL_POWER);
        let power = refused.take(number("/power", power, (0.5, 0.99), why));
        let scatter = match self.scatter.parse("/scatter", k) {
            Ok(scatter) => Some(scatter),
            Err(error) => {
                for member in error.members() {
                    refused.add(member.clone());
                }
                None
            }
        };
        let (Some(planned), Some(difference), Some(power), Some(scatter)) =
            (planned, difference, power, scatter)
        else {
            return Err(refused.into());
        };
        refused.finish()?;
        let sd = scatter.sd;
        let found = planned.replications(difference, sd, power, MOST_REPLICATIONS);
        let mut trace = scatter.steps;
        if let Some(n) = found {
            let given = |symbol, value| Input::new(symbol, value, "1");
            let inputs =
                vec![given("difference", difference), given("sd", sd), given("power", power)];
            trace.push(NEEDED.gives(inputs, f64::from(n), "1"));
        }
        Ok(SampleSize {
            replications: found,
            words: words(planned, found, difference, power),
            ladder: LADDER
                .iter()
                .filter_map(|n| rung(planned, *n, difference, sd, power))
                .collect(),
            sd: six_digits(sd),
            defaults: scatter.defaults,
            trace,
        })
    }
}

fn rung(planned: Planned, n: u32, difference: f64, sd: f64, power: f64) -> Option<ShownBy> {
    Some(ShownBy {
        replications: n,
        power: six_digits(planned.power(n, difference, sd)?),
        detectable: six_digits(planned.detectable(n, sd, power)?),
    })
}

fn words(planned: Planned, found: Option<u32>, difference: f64, power: f64) -> String {
    use domain::trial::analysis::DesignKind;
    let things = match planned.design {
        DesignKind::Paired => "pairs",
        DesignKind::RandomisedBlocks => "blocks",
        DesignKind::SplitPlanter => "passes",
        DesignKind::CompletelyRandomised => "plots of each treatment",
    };
    let (difference, of) = (six_digits(difference), power * 100.0);
    match found {
        Some(n) => {
            format!("{n} {things} show a difference of {difference} in {of:.0} of 100 such trials.")
        }
        None => format!(
            "Even {MOST_REPLICATIONS} {things} do not show a difference of {difference} that often: \
             measure more carefully, use longer strips, or settle for a larger difference."
        ),
    }
}

/// The answer to the example of the body, worked out.
fn example() -> serde_json::Value {
    let body = serde_json::json!({
        "trial": {"design": "paired"},
        "difference": 10.2,
        "scatter": {"kind": "sd", "sd": 5}
    });
    serde_json::from_value::<SampleSizeIn>(body)
        .ok()
        .and_then(|it| it.work_out(&Coefficients::STANDARD).ok())
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
