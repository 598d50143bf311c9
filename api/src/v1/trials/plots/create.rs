//! `POST /v1/trials/{id}/plots`

use actix_web::post;
use actix_web::web::Data;

use super::dto::{PlotIn, TrialPlot};
use super::state::Found;
use super::{links, store};
use crate::app::AppState;
use crate::auth::{Caller, CanReport};
use crate::entities::trials::Status;
use crate::http::responses::RecordErrors;
use crate::http::{Answer, ApiError, Body, Id};
use crate::v1::author::Author;
use crate::v1::coefficients::figures_in_force;
use crate::v1::trials::store as trials;
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Note what was found on a plot.
///
/// Readings of one or more responses, what was weighed, which treatment it really got, or that it is
/// lost. Values of one plot are averaged: digs and counts are no replications. Each response is noted
/// once for a plot: what comes again and says the same is answered 200, what says something else is
/// refused with what is there, unless it is marked as a correction. Only while the trial runs.
#[utoipa::path(
    tag = "trials", operation_id = "create_trial_plot", security(("bearer" = ["report"])),
    params(("id" = Uuid, Path, description = "Id of the trial."), IdempotencyKey),
    request_body(content = PlotIn, description = "What was found on one plot."),
    responses(
        (status = 201, description = "The plot with what was found on it.", body = TrialPlot, headers(
            ("Location" = String, description = "Path of the plots of the trial."),
        )),
        (status = 200, description = "All of it was noted before: the plot as it is.",
            body = TrialPlot),
        RecordErrors,
    ),
)]
#[post("/trials/{id}/plots")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanReport>,
    write: Write,
    id: Id,
    body: Body<PlotIn>,
) -> Result<Written<TrialPlot>, ApiError> {
    let given = body.into_inner();
    let (scope, by) = (caller.scope(), Author::of(&app, &caller));
    write
        .run(&app, &caller, async |tx| {
            let row = trials::hold(tx, scope, id.0).await?;
            if row.status != Status::Running {
                let why = "What was found is noted while it runs.";
                return Err(trials::wrong_state(row.status, why));
            }
            let found = Found::read(tx, row).await?;
            let k = figures_in_force(tx, scope).await?;
            let sent = given.parse(&found, by.now, &k)?;
            links::check(tx, scope, &found, &given).await?;
            let new = store::keep(tx, &app, by, &found, &sent).await?;
            let found = Found::read(tx, found.row).await?;
            let plot = found.layout.plot(sent.plot).ok_or_else(|| ApiError::not_found("plot"))?;
            let told = TrialPlot::of(&found, plot)?;
            if !new {
                return Ok(Done::unchanged(Answer::ok(told)));
            }
            let touched = Touched::new("trial", found.id());
            let touched = touched.in_field(tx, (found.row.practice_id, found.row.field_id)).await?;
            let path = format!("/v1/trials/{}/plots", found.id());
            Ok(Done::new(touched, Answer::created(path, told)))
        })
        .await
}
