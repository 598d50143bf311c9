//! `POST /v1/what-if/trial-analysis`

use actix_web::post;
use domain::trial::analysis::analyse;

use super::dto::{TrialDataAnalysis, TrialDataIn};
use super::parse::bad;
use super::steps::steps;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::trials::analysis::figures::figures;
use crate::v1::trials::analysis::verdict::TrialVerdict;
use crate::v1::units::UnitsQuery;
use crate::v1::what_if::step::answer;

/// Analysis of any trial.
///
/// Plots are the replications: digs, counts and rows of a plot are averaged first, and each plot
/// counts once. Paired trials, randomised blocks (plots may be missing), plots without blocks, split
/// planters. Two treatments by Student's t, several against a control by Dunnett, all pairs by Tukey
/// and Kramer. Without replication there is no p-value. The verdict says what can't be concluded.
/// All figures are in the unit of the values.
///
/// Worked example (Clewer and Scarisbrick 2001, Practical Statistics and Experimental Design for
/// Plant and Crop Science, example 10.1): four varieties in three blocks, F 5.52 for varieties and
/// 12.22 for blocks, least significant difference 1.26.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_trial_analysis", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = TrialDataIn, description = "The trial and its plots."),
    responses((status = 200, description = "What they say.", body = TrialDataAnalysis), ComputeErrors),
)]
#[post("/what-if/trial-analysis")]
pub(in crate::v1::what_if) async fn calculate(
    _: Caller<CanRead>,
    _: Query<UnitsQuery>,
    body: Body<TrialDataIn>,
) -> Result<Answer<TrialDataAnalysis>, ApiError> {
    answer(body.into_inner().work_out()).await
}

impl TrialDataIn {
    fn work_out(self) -> Result<TrialDataAnalysis, ApiError> {
        let trial = self.parse()?;
        let found = analyse(&trial).map_err(|error| ApiError::from(bad(error)))?;
        Ok(TrialDataAnalysis {
            trace: steps(&found),
            figures: figures(&found, &trial.treatments),
            verdict: TrialVerdict::of(&found.verdict),
        })
    }
}

/// The answer to the example of the body, worked out.
pub(super) fn example() -> serde_json::Value {
    let yields = [
        ("V1", [7.4, 6.5, 5.6]),
        ("V2", [9.8, 6.8, 6.2]),
        ("V3", [7.3, 6.1, 6.4]),
        ("V4", [9.5, 8.0, 7.4]),
    ];
    let plots: Vec<serde_json::Value> = yields
        .iter()
        .flat_map(|(name, values)| {
            (1..).zip(values).map(move |(block, value)| {
                serde_json::json!({"treatment": name, "block": block, "values": [value]})
            })
        })
        .collect();
    let body = serde_json::json!({
        "design": "randomised_blocks",
        "treatments": ["V1", "V2", "V3", "V4"],
        "randomised": true,
        "response": {"what": "yield", "unit": "t/ha", "better": "higher"},
        "plots": plots
    });
    serde_json::from_value::<TrialDataIn>(body)
        .ok()
        .and_then(|it| it.work_out().ok())
        .map_or(serde_json::Value::Null, |it| serde_json::to_value(it).unwrap_or_default())
}
