//! `GET /v1/external/{system}/farms/{their_id}`

use actix_web::get;
use actix_web::web::Data;

use super::show;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::intake::Kind;
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError};
use crate::v1::external::dto::ExternalFarm;
use crate::v1::external::path::{ItsId, ItsPath, SystemPath};
use crate::v1::external::store;

/// Get a farm by its id in a records system.
///
/// Our farm, and when the record came. A grower's account sees only its own.
#[utoipa::path(
    tag = "external-ids", operation_id = "get_external_farm", security(("bearer" = ["read"])),
    params(SystemPath, ItsPath),
    responses(
        (status = 200, description = "The farm and its id.", body = ExternalFarm, headers(
            ("ETag" = String, description = "Version of the farm."),
        )),
        GetErrors,
    ),
)]
#[get("/external/{system}/farms/{their_id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    its: ItsId,
) -> Result<Answer<ExternalFarm>, ApiError> {
    let scope = caller.scope();
    let tie = store::find(&app.db, scope, &its, Kind::Farm).await?;
    let (shown, tag) = show(&app.db, scope, (None, tie.into())).await?;
    Ok(Answer::ok(shown).tagged(&tag))
}
