//! `GET /v1/seasons/{season}/report/page`

use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get};

use super::query::{ReportQuery, season_in_path};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Query};
use crate::reports::file::shown;
use crate::reports::page::page;
use crate::reports::words::In;
use crate::season::report;

/// Get the report of a season as a page.
///
/// The report as one HTML page to read or to print: what went well and what to mend in a paragraph,
/// then figures, charts and tables, and what can't be concluded. Of a grower, a planter, an advisor, or
/// of all that the caller sees, each with what matters to him first. No script, nothing fetched from
/// elsewhere.
#[utoipa::path(
    tag = "seasons", operation_id = "get_season_report_page", security(("bearer" = ["read"])),
    params(
        ("season" = i32, Path, minimum = 2000, maximum = 2200, example = 2027,
            description = "The season, named by the year in which it ends."),
        ReportQuery,
    ),
    responses(
        (status = 200, description = "The page.", content_type = "text/html", body = String,
            example = "<!DOCTYPE html><html lang=\"en\"><head><title>Season 2027</title></head></html>"),
        GetErrors,
    ),
)]
#[get("/seasons/{season}/report/page")]
pub(super) async fn report_page(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    season: Path<String>,
    query: Query<ReportQuery>,
) -> Result<HttpResponse, ApiError> {
    let season = season_in_path(&season)?;
    let (subject, of) = query.0.find(&app, &caller, season).await?;
    let report = report::report(&app, &subject, of).await?;
    let system = In(caller.units(query.0.units).into());
    Ok(shown(|nonce| page(&report, system, nonce).into_string()))
}
