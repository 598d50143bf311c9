//! `POST /v1/recommendations/{id}/dig-checks`

use std::sync::Arc;

use actix_web::post;
use actix_web::web::Data;
use domain::learning::Learned;
use sea_orm::DatabaseTransaction;

use super::dto::{DigCheck, DigCheckIn};
use super::store::{self, Kept, Sent};
use crate::app::AppState;
use crate::auth::{Caller, CanDig, Scope};
use crate::changes::ChangeType;
use crate::http::responses::CreateUnderErrors;
use crate::http::{Answer, ApiError, Body, Id, Query};
use crate::v1::author::Author;
use crate::v1::coefficients::figures_in_force;
use crate::v1::units::{Units, UnitsQuery};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Send a dig check.
///
/// Judges what was found behind the planter against an issued recommendation: how deep the seed
/// lies and how sure that is (rows are the units), what may be wrong with the evidence for and
/// against it, and the one change to make, with its size and what should be seen at the next dig.
/// A proposed change waits as an adjustment for the advisor's decision; a dig that asks to go on or
/// to dig more makes none. A dig check is never changed. 409 when the recommendation is a draft:
/// nobody has set a planter by it.
///
/// Nothing that was found is lost; what is to be known beside stands in `notices`:
///
/// - The same dig sent again (same series, time, settings, rows, place and notes) is answered 200
///   with the dig check that is there. With another place or other notes it is kept, and counts
///   once. With the same time and rows but other readings it is kept and counts.
/// - A dig for a revision that was replaced is judged against what was set: what it reports, and for
///   the rest what the revision says that it was sent to. It teaches, but its change waits for no
///   decision, since the setting that it judged is no longer in force.
/// - A dig made more than 15 minutes before its settings were issued is judged against what it
///   reports. A change of down force, lever or speed is proposed only where that setting was
///   reported, and the dig teaches only when all three were; less than that is put down to clocks.
/// - Depths that would be usual only in another unit are refused where no furrow is that deep, and
///   kept with a notice where they are next to nothing.
#[utoipa::path(
    tag = "dig-checks", operation_id = "create_dig_check", security(("bearer" = ["dig"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), UnitsQuery, IdempotencyKey),
    request_body(content = DigCheckIn, description = "What was found."),
    responses(
        (status = 201, description = "The dig check, judged.", body = DigCheck, headers(
            ("Location" = String, description = "Path of the dig check."),
        )),
        (status = 200, description = "The same dig was sent before: the dig check that is there.",
            body = DigCheck),
        CreateUnderErrors,
    ),
)]
#[post("/recommendations/{id}/dig-checks")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanDig>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
    body: Body<DigCheckIn>,
) -> Result<Written<DigCheck>, ApiError> {
    let units = caller.units(query.0.units);
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    let adjustment_id = app.ids.next();
    let given = body.into_inner();
    write
        .run_prepared(
            &app,
            &caller,
            async || learned_now(&app, scope, by).await,
            async |tx, learned| {
                let sent = Sent { recommendation_id: id.0, adjustment_id, given: &given };
                let kept = store::insert(tx, scope, by, sent, &learned).await?;
                answer(tx, scope, &kept, units).await
            },
        )
        .await
}

async fn learned_now(app: &AppState, scope: Scope, by: Author) -> Result<Arc<Learned>, ApiError> {
    let in_force = figures_in_force(&app.db, scope).await?;
    app.lessons.of(&app.db, scope, &in_force, by.season).await
}

async fn answer(
    tx: &DatabaseTransaction,
    scope: Scope,
    kept: &Kept,
    units: Units,
) -> Result<Done<DigCheck>, ApiError> {
    let dig = DigCheck::of(&kept.row, kept.adjustment_id, units.into())?;
    if !kept.new {
        return Ok(Done::unchanged(Answer::ok(dig)));
    }
    let touched = Touched::new("dig_check", kept.row.id);
    let touched = touched.behind(tx, (scope.practice_id, kept.row.recommendation_id)).await?;
    let touched = match kept.adjustment_id {
        Some(id) => touched.also(ChangeType::AdjustmentProposed, id),
        None => touched,
    };
    Ok(Done::new(touched, Answer::created(format!("/v1/dig-checks/{}", kept.row.id), dig)))
}
