//! `POST /v1/external/{system}/batch`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{BatchQuery, ExternalBatch, ExternalBatchIn, LookAlikes};
use super::path::{InSystem, SystemPath};
use super::said::{Says, columns};
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::intake::{self, Beside, Incoming, Place, Source};
use crate::http::responses::ExternalBatchErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query};
use crate::writes::{Done, IdempotencyKey, Write, Written};

/// Most records of a batch.
const MOST: usize = 500;

/// Put many records of a records system.
///
/// Each record is judged like a `PUT` of it, and the answer says what became of each: one that is
/// refused or waits keeps none of the others back. Records may belong to others of the same batch. What
/// was erased here, and what hangs below it, waits until a person says that it may come again; nothing
/// that it says is kept meanwhile.
/// `dry_run=true` says what would become of each and stores nothing.
#[utoipa::path(
    tag = "external-ids", operation_id = "put_external_batch", security(("bearer" = ["connect"])),
    params(SystemPath, BatchQuery, IdempotencyKey),
    request_body(content = ExternalBatchIn, description = "The records."),
    responses(
        (status = 200, description = "What became of each record.", body = ExternalBatch),
        ExternalBatchErrors,
    ),
)]
#[post("/external/{system}/batch")]
pub(super) async fn batch(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    of: InSystem,
    query: Query<BatchQuery>,
    body: Body<ExternalBatchIn>,
) -> Result<Written<ExternalBatch>, ApiError> {
    let BatchQuery { dry_run, look_alikes } = query.0;
    let dry_run = dry_run.unwrap_or(false);
    let beside = match look_alikes.unwrap_or_default() {
        LookAlikes::Wait => Beside::Waits,
        LookAlikes::Create => Beside::Creates,
    };
    let today = caller.calendar().today(app.clock.now());
    let source = Source { system: of.system.clone(), today, beside };
    let records = records(body.into_inner())?;
    let by = of.by(&caller, "put_external_batch");
    write
        .run(&app, &caller, async |tx| {
            let mut plan = intake::plan(tx, caller.scope(), &source, records).await?;
            if !dry_run {
                plan = intake::apply(tx, &app, &by, plan).await?;
            }
            let counts = plan.counts().into();
            // What was done stands in the audit trail already, object by object.
            Ok(Done::unchanged(Answer::ok(ExternalBatch::of(&plan.rows, counts, dry_run))))
        })
        .await
}

fn records(body: ExternalBatchIn) -> Result<Vec<Incoming>, ApiError> {
    let ExternalBatchIn { growers, farms, fields, planters, yields } = body;
    let features = fields.map(|fields| fields.features).unwrap_or_default();
    let mut records = list("/growers", growers);
    records.extend(list("/farms", farms));
    records.extend(list("/fields/features", features));
    records.extend(list("/planters", planters));
    records.extend(list("/yields", yields));
    if records.len() > MOST {
        let member = BadMember::new("", "These are too many records for one batch.");
        let allowed = format!("at most {MOST}, of all kinds together");
        return Err(member.given(records.len()).allowed(allowed).into());
    }
    Ok(records)
}

fn list<S: Says>(at: &str, said: Vec<S>) -> Vec<Incoming> {
    let columns = columns::<S>();
    let numbered = said.into_iter().enumerate();
    numbered.map(|(index, said)| said.says(Place::new(format!("{at}/{index}"), &columns))).collect()
}
