//! `POST /v1/recommendations/{id}/dig-checks`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{DigCheck, DigCheckIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanDig};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::units::UnitsQuery;

/// Send a dig check.
///
/// Judges what was found behind the planter against an issued recommendation: how deep the seed
/// lies and how sure that is (rows are the units), what may be wrong with the evidence for and
/// against it, and the one change to make, with its size and what should be seen at the next dig.
/// A proposed change waits as an adjustment for the advisor's decision; a dig that asks to go on or
/// to dig more makes none. A dig check is never changed. 409 when the recommendation is a draft or
/// was superseded.
#[utoipa::path(
    tag = "dig-checks", operation_id = "create_dig_check", security(("bearer" = ["dig"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), UnitsQuery),
    request_body(content = DigCheckIn, description = "What was found."),
    responses(
        (status = 201, description = "The dig check, judged.", body = DigCheck, headers(
            ("Location" = String, description = "Path of the dig check."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/recommendations/{id}/dig-checks")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanDig>,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<DigCheckIn>,
) -> Result<Answer<DigCheck>, ApiError> {
    let units = caller.units(query.0.units);
    let by = Author::of(&app, &caller);
    let adjustment_id = app.ids.next();
    let given = body.into_inner();
    let (row, adjustment_id) =
        store::insert(&app.db, caller.scope(), by, id.0, adjustment_id, &given).await?;
    let location = format!("/v1/dig-checks/{}", row.id);
    Ok(Answer::created(location, DigCheck::of(&row, adjustment_id, units.into())?))
}
