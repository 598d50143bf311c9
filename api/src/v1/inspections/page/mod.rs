//! `GET /v1/planters/{id}/inspection-page`: the checklist on paper, for the shed.
//!
//! One printed page where rows leave room for it: ink on paper, boxes to tick, what counts as worn
//! beside each item. Plain HTML with one inline style: no script, nothing fetched from elsewhere.

mod paper;

use actix_web::http::header::{CONTENT_SECURITY_POLICY, ContentType};
use actix_web::web::Data;
use actix_web::{HttpResponse, get};

use self::paper::Facts;
use super::open;
use super::shed::Shed;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id, Query};
use crate::v1::units::UnitsQuery;
use crate::v1::{growers, planters};

/// Get the checklist on paper.
///
/// The checklist for this planter as an HTML page to print: what to look at, what counts as worn by the
/// limits in force, a box for each row, what is open from before, and what can hurt somebody.
#[utoipa::path(
    tag = "inspections", operation_id = "get_inspection_page", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), UnitsQuery),
    responses(
        (status = 200, description = "The page.", content_type = "text/html", body = String,
            example = "<!DOCTYPE html><html lang=\"en\"><head><title>Shed checklist</title></head></html>"),
        GetErrors,
    ),
)]
#[get("/planters/{id}/inspection-page")]
pub(super) async fn page(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<HttpResponse, ApiError> {
    let planter = planters::store::find(&app.db, caller.scope(), id.0).await?;
    let grower = growers::store::find(&app.db, caller.scope(), planter.grower_id).await?;
    let shed = Shed::load(&app.db, &planter).await?;
    let open = open::of_planters(&app.db, &caller.scope(), [planter.id]).await?;
    let facts = Facts {
        grower: grower.name,
        planter: planter.name,
        shed,
        open,
        system: caller.units(query.0.units).into(),
    };
    let nonce = format!("{:032x}", rand::random::<u128>());
    // Only the one style that carries the number of this answer counts.
    let policy = format!(
        "default-src 'none'; style-src 'nonce-{nonce}'; base-uri 'none'; form-action 'none'; \
         frame-ancestors 'none'"
    );
    Ok(HttpResponse::Ok()
        .insert_header((CONTENT_SECURITY_POLICY, policy))
        .insert_header(ContentType::html())
        .body(paper::paper(&facts, &nonce).into_string()))
}
