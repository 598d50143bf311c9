//! `POST /v1/recommendations`

use actix_web::post;
use actix_web::web::Data;
use domain::learning::Learned;
use domain::provenance::Coefficients;
use domain::settings::Goals;
use sea_orm::DatabaseTransaction;

use super::answer::Recommendation;
use super::compute::{self, Sources, Wanted};
use super::dto::RecommendationIn;
use super::goals::GoalsIn;
use super::in_shed::as_read;
use super::store::{self, NewRevision, Place};
use crate::app::AppState;
use crate::auth::{Caller, CanAdvise, Scope};
use crate::entities::recommendations;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::author::Author;
use crate::v1::coefficients::figures_in_force;
use crate::v1::units::{Units, UnitsQuery};
use crate::writes::{Done, IdempotencyKey, Touched, Write, Written};

/// Recommend settings for a planter in a field.
///
/// Works out the settings from what is known of the planter and the newest conditions of the
/// field, and stores them as a draft. What nobody measured is assumed, said so under `assumed`,
/// and widens the ranges. Where the planter can't do what the field asks, `reach` says so and
/// `remedies` says what would help. Only `…/issue` shows it to the grower.
#[utoipa::path(
    tag = "recommendations", operation_id = "create_recommendation",
    security(("bearer" = ["advise"])),
    params(UnitsQuery, IdempotencyKey),
    request_body(content = RecommendationIn, description = "Which planter, which field, what is wanted."),
    responses(
        (status = 201, description = "The recommendation, a draft.", body = Recommendation, headers(
            ("Location" = String, description = "Path of the recommendation."),
            ("ETag" = String, description = "Version of the recommendation."),
        )),
        ComputeErrors,
    ),
)]
#[post("/recommendations")]
pub(super) async fn create(
    app: Data<AppState>,
    caller: Caller<CanAdvise>,
    write: Write,
    query: Query<UnitsQuery>,
    body: Body<RecommendationIn>,
) -> Result<Written<Recommendation>, ApiError> {
    let (wanted, goals) = body.into_inner().split();
    let by = Author::of(&app, &caller);
    let units = caller.units(query.0.units);
    write
        .run_prepared(
            &app,
            &caller,
            async || draft(&app, caller.scope(), by, wanted, Place::First, goals).await,
            async |tx, new| made(tx, caller.scope(), by, &new, units).await,
        )
        .await
}

/// Works out a draft.
pub(super) async fn draft(
    app: &AppState,
    scope: Scope,
    by: Author,
    wanted: Wanted,
    place: Place,
    goals: GoalsIn,
) -> Result<Box<NewRevision>, ApiError> {
    let wishes = Box::new(goals.parse("/goals")?);
    let sources = compute::sources(&app.db, scope, wanted).await?;
    let figures = figures_in_force(&app.db, scope).await?;
    let learned = app.lessons.of(&app.db, scope, &figures, by.season).await?;
    worked_out(sources, *wishes, figures, (place, goals), &learned)
}

/// On the heap: a revision is too large to be carried through a handler by value.
fn worked_out(
    sources: Sources,
    wishes: Goals,
    figures: Box<Coefficients>,
    (place, goals): (Place, GoalsIn),
    learned: &Learned,
) -> Result<Box<NewRevision>, ApiError> {
    let inputs = compute::inputs(&sources, wishes, learned)?;
    let result = compute::result(&inputs, &figures);
    Ok(Box::new(NewRevision {
        field_id: sources.field.id,
        planter_id: sources.planter.id,
        conditions_id: sources.conditions.id,
        calibration_id: sources.calibration.map(|row| row.id),
        place,
        goals,
        inputs,
        figures,
        result,
    }))
}

/// Stores a draft, and answers with it.
pub(super) async fn made(
    tx: &DatabaseTransaction,
    scope: Scope,
    by: Author,
    new: &NewRevision,
    units: Units,
) -> Result<Done<Recommendation>, ApiError> {
    let row = store::insert_revision(tx, scope, by, new).await?;
    let location = format!("/v1/recommendations/{}", row.id);
    let (told, etag) = as_read(tx, &row, units).await?;
    Ok(Done::new(touched(tx, &row).await?, Answer::created(location, told).tagged(&etag)))
}

/// A recommendation, for the audit trail.
pub(super) async fn touched(
    tx: &DatabaseTransaction,
    row: &recommendations::Model,
) -> Result<Touched, ApiError> {
    let touched = Touched::new("recommendation", row.id).in_version(row.version);
    touched.in_field(tx, (row.practice_id, row.field_id)).await
}
