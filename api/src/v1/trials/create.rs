//! `POST /v1/trials`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{Trial, TrialIn};
use super::store::{self, NewTrial};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise};
use crate::http::responses::CreateErrors;
use crate::http::{Answer, ApiError, Body, ETag, text};
use crate::v1::author::Author;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Design a trial.
///
/// Lays out what is compared: which rows of the planter carry the part, or which strip gets which
/// treatment, drawn within blocks from a seed. Treated rows are never only outer rows or rows behind
/// tyres. The same seed gives the same layout for ever. What is short, few or not drawn is said under
/// `notices`, each with its source. It is a draft until it is started.
#[utoipa::path(
    tag = "trials", operation_id = "create_trial", security(("bearer" = ["advise"])),
    params(IdempotencyKey),
    request_body(content = TrialIn, description = "What is compared, where and how."),
    responses(
        (status = 201, description = "The trial, laid out, as a draft.", body = Trial, headers(
            ("Location" = String, description = "Path of the trial."),
            ("ETag" = String, description = "Version of the trial."),
        )),
        CreateErrors,
    ),
)]
#[post("/trials")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    body: Body<TrialIn>,
) -> Result<Written<Trial>, ApiError> {
    let TrialIn { field_id, planter_id, name, design } = body.into_inner();
    let name = text::name("/name", &name)?;
    let design = design.settled(caller.units(None), rand::random());
    let by = Author::of(&app, &caller);
    let new = NewTrial { field_id, planter_id, name, design };
    write
        .run(&app, &caller, async |tx| {
            let row = store::insert(tx, caller.scope(), by, &new).await?;
            let touched = Touched::new("trial", row.id).in_version(row.version);
            let touched = touched.in_field(tx, (row.practice_id, row.field_id)).await?;
            let (path, etag) = (format!("/v1/trials/{}", row.id), ETag::of(row.version));
            Ok(Done::new(touched, Answer::created(path, Trial::of(row)?).tagged(&etag)))
        })
        .await
}
