//! `POST /v1/records-links/{id}/runs`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{RecordsRun, RecordsRunIn};
use super::store::{self, Whose};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::pull::runs::store::{self as runs, NewRun};
use crate::http::responses::RunErrors;
use crate::http::{Answer, ApiError, Body, Id};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Fetch the records of a system.
///
/// The work goes on beside: read the run until its `status` is `done` or `failed`. A `preview` says what would
/// become of each record and changes nothing; `apply` takes them. What can't be fetched to its end ends the run and nothing
/// is taken. Nothing is ever deleted: what is missing over there is marked. What was erased here waits until a
/// person says that it may come again. Of a link one run at most is not finished.
#[utoipa::path(
    tag = "records-links", operation_id = "create_records_run",
    security(("bearer" = ["connect"])),
    params(("id" = Uuid, Path, description = "Id of the link."), IdempotencyKey),
    request_body(content = RecordsRunIn, description = "What the run does."),
    responses(
        (status = 202, description = "The run, which will be done.", body = RecordsRun),
        RunErrors,
    ),
)]
#[post("/records-links/{id}/runs")]
pub(super) async fn create_run(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    body: Body<RecordsRunIn>,
) -> Result<Written<RecordsRun>, ApiError> {
    let RecordsRunIn { mode, everything } = body.into_inner();
    let new = NewRun {
        id: app.ids.next(),
        mode,
        everything,
        asked_by: caller.account_id(),
        now: app.clock.now(),
    };
    let written = write
        .run(&app, &caller, async |tx| {
            let link = store::find(tx, Whose::of(&caller), id.0).await?;
            let run = runs::ask(tx, &link, new).await?;
            let touched = Touched::new("records_run", run.id);
            Ok(Done::new(touched, Answer::accepted(RecordsRun::show(&run)?)))
        })
        .await;
    app.runs.wake();
    written
}
