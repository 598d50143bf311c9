//! `POST /v1/records-links`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{RecordsLink, RecordsLinkIn};
use super::{entered, store};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::http::responses::CreateSealedErrors;
use crate::http::{Answer, ApiError, Body, ETag};
use crate::v1::author::Author;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Add a link to a records system.
///
/// It says where the records of a system are, how the service signs in there, and what stands where in a record:
/// JSONPath (RFC 9535) to the list, JSON Pointer (RFC 6901) to a value, and the unit of what is measured. Nothing is
/// fetched yet: `POST /v1/records-links/{id}/test` shows one page of each resource. The secret is kept sealed
/// and never shown again.
#[utoipa::path(
    tag = "records-links", operation_id = "create_records_link",
    security(("bearer" = ["connect"])), params(IdempotencyKey),
    request_body(content = RecordsLinkIn, description = "The link."),
    responses(
        (status = 201, description = "The link as stored.", body = RecordsLink, headers(
            ("Location" = String, description = "Path of the link."),
            ("ETag" = String, description = "Version of the link."),
        )),
        CreateSealedErrors,
    ),
)]
#[post("/records-links")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    body: Body<RecordsLinkIn>,
) -> Result<Written<RecordsLink>, ApiError> {
    let author = Author::of(&app, &caller);
    let new = entered::new(&app, caller.practice_id(), author.now, body.into_inner())?;
    write
        .run(&app, &caller, async |tx| {
            let row = store::insert(tx, caller.practice_id(), author, new).await?;
            let touched = Touched::new("records_link", row.id);
            let (path, etag) = (format!("/v1/records-links/{}", row.id), ETag::of(row.version));
            // The request holds the secret, so nothing of it is kept beside.
            let answer = Answer::created(path, RecordsLink::show(row)?).tagged(&etag).secret();
            Ok(Done::new(touched, answer))
        })
        .await
}
