//! `GET /v1/trials/{id}/analysis`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{AnalysisQuery, TrialAnalysis};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::trials::plots::state::Found;
use crate::v1::trials::store;

/// Get what a trial says.
///
/// For each response the means, the table of analysis, the effects with their intervals, whether what
/// is taken for granted holds, and a verdict in plain words that also says what can't be concluded.
/// Plots are the replications: digs and counts within a plot are averaged. Without replication there
/// is no interval and no p-value. It can be asked while plots are still open, and says so.
#[utoipa::path(
    tag = "trials", operation_id = "get_trial_analysis", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the trial."), AnalysisQuery),
    responses(
        (status = 200, description = "What the trial says.", body = TrialAnalysis),
        GetErrors,
    ),
)]
#[get("/trials/{id}/analysis")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<AnalysisQuery>,
) -> Result<Answer<TrialAnalysis>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let found = Found::read(&app.db, row).await?;
    Ok(Answer::ok(TrialAnalysis::of(&found, &query.0)?))
}
