//! `PATCH /v1/records-links/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{RecordsLink, RecordsLinkPatch};
use super::entered;
use super::store::{self, Whose};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::UpdateSealedErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a link to a records system.
///
/// What is absent stays; each member is exchanged as a whole. A new host needs `auth` with its secret again. The
/// next run fetches everything where the profile was changed. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "records-links", operation_id = "update_records_link",
    security(("bearer" = ["connect"])),
    params(
        ("id" = Uuid, Path, description = "Id of the link."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = RecordsLinkPatch, description = "What changes."),
    responses(
        (status = 200, description = "The link as it is now.", body = RecordsLink, headers(
            ("ETag" = String, description = "New version of the link."),
        )),
        UpdateSealedErrors,
    ),
)]
#[patch("/records-links/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<RecordsLinkPatch>,
) -> Result<Written<RecordsLink>, ApiError> {
    let patch = body.into_inner();
    let now = app.clock.now();
    // On the heap: a whole profile is too large to be carried through by value.
    Box::pin(write.run(&app, &caller, async |tx| {
        let before = store::find(tx, Whose::of(&caller), id.0).await?;
        let expected = if_match.needed()?;
        let change = entered::change(&app, &before, now, patch)?;
        let row = store::update(tx, &before, &expected, now, change).await?;
        let (touched, etag) = (Touched::new("records_link", row.id), ETag::of(row.version));
        // The request may hold a secret, so nothing of it is kept beside.
        Ok(Done::new(touched, Answer::ok(RecordsLink::show(row)?).tagged(&etag).secret()))
    }))
    .await
}
