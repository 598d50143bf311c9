//! `GET /v1/coefficients/{name}`

use actix_web::get;
use actix_web::web::{Data, Path};

use super::figure::CoefficientInForce;
use super::in_force::in_force;
use super::named::named;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, ETag};

/// Get a coefficient.
///
/// The figure that holds for the practice; where that is its own, the one that ships stands beside
/// it.
#[utoipa::path(
    tag = "coefficients", operation_id = "get_coefficient", security(("bearer" = ["read"])),
    params(("name" = String, Path, description = "Name of the coefficient.")),
    responses(
        (status = 200, description = "The coefficient.", body = CoefficientInForce, headers(
            ("ETag" = String, description = "Version of the practice's figure."),
        )),
        GetErrors,
    ),
)]
#[get("/coefficients/{name}")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    name: Path<String>,
) -> Result<Answer<CoefficientInForce>, ApiError> {
    let held = in_force(&app.db, caller.scope()).await?;
    let k = named(&held.set, &name)?;
    let change = held.changes.iter().find(|row| row.name == k.name);
    let etag = ETag::of(store::version_of(change)).in_form(domain::settings::ENGINE);
    Ok(Answer::ok(CoefficientInForce::of(&k, change)).tagged(&etag))
}
