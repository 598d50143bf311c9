//! `GET /v1/recommendations/{id}/sheet`: the page in the cab.
//!
//! One printed page, in black and white, legible at arm's length, and readable on a phone. Plain
//! HTML with one inline style: no script, nothing fetched from elsewhere.

mod cover;
mod dig;
mod facts;
mod foot;
mod force;
mod head;
mod in_furrow;
mod page;
mod paper;
mod query;
mod residue;
mod size;
mod table;
mod words;
mod work;

use actix_web::http::header::{CONTENT_SECURITY_POLICY, ContentType};
use actix_web::web::Data;
use actix_web::{HttpResponse, get};
use domain::quantity::System;
use sea_orm::ConnectionTrait;

pub(super) use self::facts::Facts;
pub(super) use self::paper::fitted;
pub use self::query::SheetQuery;
use super::answer::Recommendation;
use super::in_shed::InShed;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::entities::recommendations;
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id, Query};
use crate::v1::units::{Units, UnitsQuery};

/// Get the settings sheet.
///
/// The recommendation as one HTML page to print or to read on a phone: the verdict, what to set,
/// what to check at the first dig, what was assumed, and the cautions. A grower's account does not
/// see the sheet of a draft.
#[utoipa::path(
    tag = "recommendations", operation_id = "get_recommendation_sheet",
    security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), UnitsQuery),
    responses(
        (status = 200, description = "The sheet.", content_type = "text/html", body = String,
            example = "<!DOCTYPE html><html lang=\"en\"><head><title>Settings sheet</title></head></html>"),
        GetErrors,
    ),
)]
#[get("/recommendations/{id}/sheet")]
pub(super) async fn sheet(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<HttpResponse, ApiError> {
    let units = caller.units(query.0.units);
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    respond(&app.db, row, units).await
}

/// The page, for whoever may see it.
///
/// # Errors
/// When the database fails.
pub async fn respond(
    db: &impl ConnectionTrait,
    row: recommendations::Model,
    units: Units,
) -> Result<HttpResponse, ApiError> {
    let facts = Facts::of(db, row, units.into()).await?;
    let nonce = format!("{:032x}", rand::random::<u128>());
    // Only the one style that carries the number of this answer counts.
    let policy = format!(
        "default-src 'none'; style-src 'nonce-{nonce}'; base-uri 'none'; form-action 'none'; \
         frame-ancestors 'none'"
    );
    Ok(HttpResponse::Ok()
        .insert_header((CONTENT_SECURITY_POLICY, policy))
        .insert_header(ContentType::html())
        .body(page::page(&facts, &nonce).into_string()))
}

/// What a sheet says to set, line by line in words, for forms that have no place of their own for it.
///
/// # Errors
/// When what is stored can't be read.
pub fn spoken(row: &recommendations::Model, system: System) -> Result<Vec<String>, ApiError> {
    let inputs = store::inputs_of(row)?;
    let told = Recommendation::of(row, system, InShed::default())?;
    Ok(table::said(&told, &inputs))
}
