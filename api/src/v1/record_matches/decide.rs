//! `POST /v1/record-matches/{id}/decision`

use actix_web::web::Data;
use actix_web::{HttpMessage, HttpRequest, post};

use super::dto::{MatchDecision, MatchDecisionIn};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanKeep};
use crate::exchange::intake::{self, By, Decided};
use crate::http::request_id::RequestId;
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, Body, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Say what a record is.
///
/// `same` ties it to one of our objects, whose name and boundary follow the record from now on. `new`
/// makes an object beside those that look alike; a planter needs its make-up then. Records that waited
/// for this one are taken up at once. Of a record that was erased here (`erased_at`) nothing was kept:
/// `new` and `same` let it come again, and it is taken when it is sent next, or fetched, or in a file; of
/// a grower that holds for all that was erased with him. Meant for people: whoever decides by a program guesses. Send
/// the `ETag` you read as `If-Match`: the record may say something else by now.
#[utoipa::path(
    tag = "external-ids", operation_id = "decide_record_match", security(("bearer" = ["keep"])),
    params(
        ("id" = Uuid, Path, description = "Id under which it waits."),
        ("If-Match" = String, Header, description = "`ETag` of the version that was read."),
        IdempotencyKey,
    ),
    request_body(content = MatchDecisionIn, description = "What it is."),
    responses(
        (status = 200, description = "What became of it, and of what waited for it.",
            body = MatchDecision),
        StepErrors,
    ),
)]
#[post("/record-matches/{id}/decision")]
pub(super) async fn decide(
    app: Data<AppState>,
    caller: Caller<CanKeep>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    request: HttpRequest,
    body: Body<MatchDecisionIn>,
) -> Result<Written<MatchDecision>, ApiError> {
    let decision = body.into_inner().parse()?;
    let request_id = request.extensions().get::<RequestId>().map(|id| id.0.clone());
    let by = By {
        actor: (&caller).into(),
        operation: "decide_record_match".to_owned(),
        request_id: request_id.unwrap_or_default(),
    };
    let asked = (caller.scope(), caller.calendar().today(app.clock.now()));
    write
        .run(&app, &caller, async |tx| {
            let waiting = store::find(tx, caller.scope(), id.0).await?;
            if_match.needed()?.check(waiting.version)?;
            let match_id = waiting.id;
            let Decided { record, grower_id, followed } =
                intake::decide_match(tx, &app, &by, asked, waiting, decision).await?;
            let touched = Touched::new("record_match", match_id);
            let touched = match grower_id {
                Some(grower_id) => touched.of_grower(grower_id),
                None => touched,
            };
            let answer = MatchDecision { record, followed: followed.into() };
            Ok(Done::new(touched, Answer::ok(answer)))
        })
        .await
}
