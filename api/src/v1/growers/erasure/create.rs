//! `POST /v1/growers/{id}/erasure`

use actix_web::post;
use actix_web::web::Data;

use super::carry_out::carry_out;
use super::dto::{Erasure, ErasureIn};
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};
use crate::v1::author::Author;
use crate::v1::growers::store;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Erase what names a grower.
///
/// Names, contacts, notes, boundaries and areas go; accounts are closed for good and links revoked.
/// What nobody dug for is deleted. What the practice has learned from rests on dig checks and their
/// recommendations: they are kept without anything that names or finds the grower, and so is the audit
/// trail, which holds ids only. The answer counts both and says why. Of the ids that records systems gave
/// a hash stays: when they send the grower again, he waits among the records that wait for a person, as
/// `erased_at` says there, and nothing that is said of him is kept meanwhile. It can't be undone; done
/// again, it erases what came since.
#[utoipa::path(
    tag = "growers", operation_id = "erase_grower", security(("bearer" = ["manage"])),
    params(
        ("id" = Uuid, Path, description = "Id of the grower."),
        ("If-Match" = String, Header, description = "`ETag` of the grower as it was read."),
        IdempotencyKey,
    ),
    request_body(content = ErasureIn, description = "Why."),
    responses(
        (status = 200, description = "What was erased and what is kept.", body = Erasure, headers(
            ("ETag" = String, description = "Version of the grower now."),
        )),
        StepErrors,
    ),
)]
#[post("/growers/{id}/erasure")]
pub(in crate::v1::growers) async fn erase(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<ErasureIn>,
) -> Result<Written<Erasure>, ApiError> {
    let reason = body.into_inner().parse()?;
    let by = Author::of(&app, &caller);
    write
        .run(&app, &caller, async |tx| {
            let grower = store::find(tx, caller.scope(), id.0).await?;
            if_match.needed()?.check(grower.version)?;
            let touched = Touched::new("grower", grower.id).of_grower(grower.id);
            let (erasure, version) = carry_out(tx, &app.ids, by, grower, reason).await?;
            Ok(Done::new(touched, Answer::ok(erasure).tagged(&ETag::of(version))))
        })
        .await
}
