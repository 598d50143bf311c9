//! `POST /v1/what-if/trial-power`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::{Coefficients, Input};
use domain::trial::power::USUAL_POWER;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::whole;
use super::step::Known;
use super::trial_plan::{MOST_REPLICATIONS, NONCENTRAL_T, PlannedTrial, PlotScatter, size};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::six_digits;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

const CRITICAL: Known = Known::derived(
    "critical value",
    "t, or Dunnett's or Tukey's value over sqrt(2), at the confidence and the degrees of freedom",
    NONCENTRAL_T,
);
const EFFECT: Known = Known::derived(
    "true difference in standard errors",
    "difference / (sd sqrt(2 / replications))",
    NONCENTRAL_T,
);
const POWER: Known = Known::derived(
    "chance that the difference shows",
    "P(|t'| > critical value), t' noncentral",
    NONCENTRAL_T,
);

/// A trial, its scatter, and a true difference.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "trial": {"design": "completely_randomised"},
    "replications": 20,
    "difference": 0.1,
    "scatter": {"kind": "sd", "sd": 1}
})))]
pub(super) struct TrialPowerIn {
    /// The design.
    pub trial: PlannedTrial,
    /// Pairs, passes, blocks, or plots of each treatment.
    #[schema(minimum = 2, maximum = 100, example = 4)]
    pub replications: u32,
    /// The true difference of two treatments, in any unit.
    #[schema(minimum = 0.000_000_001, maximum = 1_000_000_000, example = 10)]
    pub difference: f64,
    /// How much plots differ by themselves, in the same unit.
    pub scatter: PlotScatter,
}

/// What such a trial shows.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example())))]
pub(super) struct TrialPower {
    /// Chance that the difference shows, 0 to 1.
    #[schema(minimum = 0, maximum = 1, example = 0.81)]
    pub power: f64,
    /// The same in words.
    #[schema(example = "Such a trial shows a difference of 10 in 81 of 100 cases.")]
    pub words: String,
    /// The true difference that shows in 80 of 100 such trials.
    #[schema(example = 9.9)]
    pub detectable: f64,
    /// The least difference that counts as shown when it is found.
    #[schema(example = 7.4)]
    pub least_difference: f64,
    /// Degrees of freedom of the error.
    #[schema(minimum = 1, example = 3)]
    pub error_df: f64,
    /// How many standard errors a difference must reach.
    #[schema(example = 3.18)]
    pub critical: f64,
    /// Standard deviation of a plot that it rests on.
    #[schema(example = 3.5)]
    pub sd: f64,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 1)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 10)]
    pub trace: Vec<TraceStep>,
}

/// Power of a trial.
///
/// How often a trial of this size shows a difference that is really there. By the noncentral t of
/// the test that the analysis makes: Student's t for two treatments, Dunnett for several against a
/// control, Tukey for all pairs. Plots are the replications; samples of a plot only make its mean
/// surer.
///
/// Worked example (results of R's pwr stored in the tests of statsmodels): two treatments, 20 plots
/// of each without blocks, a difference of a tenth of the scatter: it shows in 6 of 100 trials,
/// hardly more often than chance alone would have it.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_trial_power", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = TrialPowerIn, description = "Design, scatter and difference."),
    responses((status = 200, description = "What it shows.", body = TrialPower), ComputeErrors),
)]
#[post("/what-if/trial-power")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    _: Query<UnitsQuery>,
    body: Body<TrialPowerIn>,
) -> Result<Answer<TrialPower>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(&k).map(Answer::ok)
}

impl TrialPowerIn {
    fn work_out(self, k: &Coefficients) -> Result<TrialPower, ApiError> {
        let mut refused = Refused::default();
        let planned = self.trial.parse("/trial", &mut refused);
        let why = "one replication says nothing about chance";
        let most = (2, MOST_REPLICATIONS);
        let n = refused.take(whole("/replications", self.replications, most, why));
        let difference = refused.take(size("/difference", self.difference));
        let scatter = match self.scatter.parse("/scatter", k) {
            Ok(scatter) => Some(scatter),
            Err(error) => {
                for member in error.members() {
                    refused.add(member.clone());
                }
                None
            }
        };
        let (Some(planned), Some(n), Some(difference), Some(scatter)) =
            (planned, n, difference, scatter)
        else {
            return Err(refused.into());
        };
        refused.finish()?;
        let sd = scatter.sd;
        let none = || ApiError::internal("a planned trial without power");
        let power = planned.power(n, difference, sd).ok_or_else(none)?;
        let critical = planned.critical(n).ok_or_else(none)?;
        let effect = difference / (sd * (2.0 / f64::from(n)).sqrt());
        let df = planned.error_df(n);
        let mut trace = scatter.steps;
        let given = |symbol, value| Input::new(symbol, value, "1");
        let df_in = given("degrees of freedom", df);
        trace.push(CRITICAL.gives(vec![df_in.clone()], six_digits(critical), "1"));
        let inputs = vec![
            given("difference", difference),
            given("sd", sd),
            given("replications", f64::from(n)),
        ];
        trace.push(EFFECT.gives(inputs, six_digits(effect), "1"));
        let inputs = vec![given("effect", effect), given("critical value", critical), df_in];
        trace.push(POWER.gives(inputs, six_digits(power), "1"));
        Ok(TrialPower {
            power: six_digits(power),
            words: format!(
                "Such a trial shows a difference of {} in {:.0} of 100 cases.",
                six_digits(difference),
                power * 100.0
            ),
            detectable: planned.detectable(n, sd, USUAL_POWER).map(six_digits).ok_or_else(none)?,
            least_difference: planned.least_difference(n, sd).map(six_digits).ok_or_else(none)?,
            error_df: df,
            critical: six_digits(critical),
            sd: six_digits(sd),
            defaults: scatter.defaults,
            trace,
        })
    }
}

/// The answer to the example of the body, worked out.
fn example() -> serde_json::Value {
    let body = serde_json::json!({
        "trial": {"design": "completely_randomised"},
        "replications": 20,
        "difference": 0.1,
        "scatter": {"kind": "sd", "sd": 1}
    });
    serde_json::from_value::<TrialPowerIn>(body)
        .ok()
        .and_then(|it| it.work_out(&Coefficients::STANDARD).ok())
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
