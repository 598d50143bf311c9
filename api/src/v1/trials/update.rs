//! `PATCH /v1/trials/{id}`

use actix_web::patch;
use actix_web::web::Data;

use super::dto::{Trial, TrialPatch};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::StepErrors;
use crate::http::{Answer, ApiError, Body, ETag, Id, IfMatch, text};
use crate::v1::author::Author;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Change a draft of a trial.
///
/// What is absent stays; a new design is laid out anew, from the seed of the one before where it names
/// none. Send the `ETag` you read as `If-Match`.
#[utoipa::path(
    tag = "trials", operation_id = "update_trial", security(("bearer" = ["advise"])),
    params(
        ("id" = Uuid, Path, description = "Id of the trial."),
        ("If-Match" = String, Header, description = "`ETag` of the version that is changed."),
        IdempotencyKey,
    ),
    request_body(content = TrialPatch, description = "What changes."),
    responses(
        (status = 200, description = "The trial as it is now.", body = Trial, headers(
            ("ETag" = String, description = "New version of the trial."),
        )),
        StepErrors,
    ),
)]
#[patch("/trials/{id}")]
pub(super) async fn update(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    id: Id,
    if_match: IfMatch,
    body: Body<TrialPatch>,
) -> Result<Written<Trial>, ApiError> {
    let TrialPatch { name, design } = body.into_inner();
    let name = name.map(|given| text::name("/name", &given)).transpose()?;
    let (units, drawn) = (caller.units(None), rand::random());
    let by = Author::of(&app, &caller);
    write
        .run(&app, &caller, async |tx| {
            let scope = caller.scope();
            let before = store::hold(tx, scope, id.0).await?;
            let expected = if_match.needed()?;
            let seed = store::design_of(&before)?.seed.unwrap_or(drawn);
            let design = design.map(|design| design.settled(units, seed));
            let row = store::update(tx, scope, before, &expected, (by, name, design)).await?;
            let touched = Touched::new("trial", row.id).in_version(row.version);
            let touched = touched.in_field(tx, (row.practice_id, row.field_id)).await?;
            let etag = ETag::of(row.version);
            Ok(Done::new(touched, Answer::ok(Trial::of(row)?).tagged(&etag)))
        })
        .await
}
