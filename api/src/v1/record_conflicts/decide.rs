//! `POST /v1/record-conflicts/{id}/decision`

use actix_web::web::Data;
use actix_web::{HttpMessage, HttpRequest, post};

use super::dto::{ConflictDecision, ConflictDecisionIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::exchange::intake::{self, By, IntakeReport};
use crate::http::request_id::RequestId;
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, Body, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Say which side of a conflict holds.
///
/// `theirs` takes what they say into our object; `ours` leaves it as it is, until they change it again.
/// Send the `ETag` you read as `If-Match`: they may say something else by now.
#[utoipa::path(
    tag = "external-ids", operation_id = "decide_record_conflict", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id of the conflict."),
        ("If-Match" = String, Header, description = "`ETag` of the version that was read."),
        IdempotencyKey,
    ),
    request_body(content = ConflictDecisionIn, description = "Which side holds."),
    responses(
        (status = 200, description = "The conflict is over.", body = ConflictDecision),
        StepErrors,
    ),
)]
#[post("/record-conflicts/{id}/decision")]
pub(super) async fn decide(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    request: HttpRequest,
    body: Body<ConflictDecisionIn>,
) -> Result<Written<ConflictDecision>, ApiError> {
    let ConflictDecisionIn { keep } = body.into_inner();
    let request_id = request.extensions().get::<RequestId>().map(|id| id.0.clone());
    let by = By {
        actor: (&caller).into(),
        operation: "decide_record_conflict".to_owned(),
        request_id: request_id.unwrap_or_default(),
    };
    let asked = (caller.scope(), caller.calendar().today(app.clock.now()));
    write
        .run(&app, &caller, async |tx| {
            let conflict = store::find(tx, caller.scope(), id.0).await?;
            if_match.needed()?.check(conflict.version)?;
            let touched = Touched::new("record_conflict", conflict.id);
            let touched = match conflict.grower_id {
                Some(grower_id) => touched.of_grower(grower_id),
                None => touched,
            };
            let row = intake::decide_conflict(tx, &app, &by, asked, conflict, keep.into()).await?;
            let record = row.map(|row| IntakeReport::of(&row).done(&row));
            Ok(Done::new(touched, Answer::ok(ConflictDecision { kept: keep, record })))
        })
        .await
}
