//! `GET /v1/external/{system}/fields/{their_id}`

use actix_web::get;
use actix_web::web::Data;

use super::show;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::intake::Kind;
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Query};
use crate::v1::external::dto::ExternalField;
use crate::v1::external::path::{ItsId, ItsPath, SystemPath};
use crate::v1::external::store;
use crate::v1::units::UnitsQuery;

/// Get a field by its id in a records system.
///
/// Our field, and when the record came. A grower's account sees only its own.
#[utoipa::path(
    tag = "external-ids", operation_id = "get_external_field", security(("bearer" = ["read"])),
    params(SystemPath, ItsPath, UnitsQuery),
    responses(
        (status = 200, description = "The field and its id.", body = ExternalField, headers(
            ("ETag" = String, description = "Version of the field."),
        )),
        GetErrors,
    ),
)]
#[get("/external/{system}/fields/{their_id}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    its: ItsId,
    query: Query<UnitsQuery>,
) -> Result<Answer<ExternalField>, ApiError> {
    let scope = caller.scope();
    let tie = store::find(&app.db, scope, &its, Kind::Field).await?;
    let units = caller.units(query.0.units);
    let (shown, tag) = show(&app.db, scope, (None, tie.into()), units).await?;
    Ok(Answer::ok(shown).tagged(&tag))
}
