//! `GET /v1/trials/{id}/map`: the page that hangs in the cab.
//!
//! One printed page, in black and white. Plain HTML with one inline style and drawings inside: no
//! script, nothing fetched from elsewhere.

mod bar;
mod facts;
mod field;
mod ink;
mod page;
mod table;
mod words;

use actix_web::http::header::{CONTENT_SECURITY_POLICY, ContentType};
use actix_web::web::Data;
use actix_web::{HttpResponse, get};
use maud::Markup;

pub(super) use self::facts::Facts;
pub(super) use self::page::head;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id};

/// The look of the printed pages of a trial: ink on paper, no colours, the system's own letters.
pub(super) const STYLE: &str = include_str!("style.css");

/// Get the map of a trial.
///
/// One HTML page to print: what lies where, which rows of the planter carry what, which way each pass
/// is driven, what to write down at each plot, and the cautions for work on the planter. A grower's
/// account does not see the map of a draft.
#[utoipa::path(
    tag = "trials", operation_id = "get_trial_map", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the trial.")),
    responses(
        (status = 200, description = "The map.", content_type = "text/html", body = String,
            example = "<!DOCTYPE html><html lang=\"en\"><head><title>Trial map</title></head></html>"),
        GetErrors,
    ),
)]
#[get("/trials/{id}/map")]
pub(super) async fn map(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<HttpResponse, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let facts = Facts::of(&app.db, row).await?;
    Ok(printed(|nonce| page::page(&facts, nonce)))
}

/// A page with its policy: only the one style that carries the number of this answer counts.
pub(super) fn printed(page: impl FnOnce(&str) -> Markup) -> HttpResponse {
    let nonce = format!("{:032x}", rand::random::<u128>());
    let policy = format!(
        "default-src 'none'; style-src 'nonce-{nonce}'; base-uri 'none'; form-action 'none'; \
         frame-ancestors 'none'"
    );
    HttpResponse::Ok()
        .insert_header((CONTENT_SECURITY_POLICY, policy))
        .insert_header(ContentType::html())
        .body(page(&nonce).into_string())
}
