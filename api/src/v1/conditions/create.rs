//! `POST /v1/fields/{id}/conditions`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{ConditionsIn, ConditionsReport};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id};
use crate::v1::author::Author;
use crate::v1::coefficients::figures_in_force;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Report the conditions in a field.
///
/// All but the crop and the time is optional: what is missing is assumed, said so in the
/// recommendation, and widens its ranges. A report is never changed; a newer one takes its place
/// and the older ones stay as history.
#[utoipa::path(
    tag = "conditions", operation_id = "create_conditions_report", security(("bearer" = ["advise"])),
    params(("id" = Uuid, Path, description = "Id of the field."), IdempotencyKey),
    request_body(content = ConditionsIn, description = "What was seen and felt."),
    responses(
        (status = 201, description = "The report as stored.", body = ConditionsReport, headers(
            ("Location" = String, description = "Path of the report."),
        )),
        CreateUnderErrors,
    ),
)]
#[post("/fields/{id}/conditions")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    id: Id,
    body: Body<ConditionsIn>,
) -> Result<Written<ConditionsReport>, ApiError> {
    let given = body.into_inner();
    let by = Author::of(&app, &caller);
    given.parse(by.now)?;
    write
        .run(&app, &caller, async |tx| {
            let field = crate::v1::fields::store::find(tx, caller.scope(), id.0).await?;
            let row = store::insert(tx, &field, by, &given).await?;
            let k = figures_in_force(tx, caller.scope()).await?;
            let touched = Touched::new("conditions_report", row.id);
            let touched = touched.in_field(tx, (field.practice_id, field.id)).await?;
            let report = ConditionsReport::of(&row, &k)?;
            Ok(Done::new(touched, Answer::created(format!("/v1/conditions/{}", row.id), report)))
        })
        .await
}
