//! `GET /v1/trials/{id}/plots`

use actix_web::get;
use actix_web::web::Data;

use super::dto::{TrialPlot, TrialPlots};
use super::state::Found;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id};
use crate::v1::trials::store;

/// List the plots of a trial.
///
/// All of them at once, in the order of the map, with what was found on each so far.
#[utoipa::path(
    tag = "trials", operation_id = "list_trial_plots", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the trial.")),
    responses(
        (status = 200, description = "The plots.", body = TrialPlots),
        GetErrors,
    ),
)]
#[get("/trials/{id}/plots")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<Answer<TrialPlots>, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let found = Found::read(&app.db, row).await?;
    let plots = found.layout.plots.iter().map(|plot| TrialPlot::of(&found, plot));
    let plots = plots.collect::<Result<_, _>>()?;
    Ok(Answer::ok(TrialPlots { trial_id: found.id(), plots }))
}
