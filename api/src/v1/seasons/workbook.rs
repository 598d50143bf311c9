//! `GET /v1/seasons/{season}/workbook`

use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get, web};

use super::query::{ReportQuery, season_in_path};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Query};
use crate::reports::file::{FileBytes, saved_as};
use crate::reports::words::In;
use crate::reports::workbook::{Rows, workbook};
use crate::season::report;

const XLSX: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

/// Get a season as a workbook.
///
/// Office Open XML: sheets for the figures of the season, fields, digs, adjustments, stands, trials,
/// wear and the list for the shed, with units in the heads and typed cells. No cell holds a formula. Of
/// more than 20,000 digs or fields it holds the first; the data package holds all of them.
#[utoipa::path(
    tag = "seasons", operation_id = "get_season_workbook", security(("bearer" = ["read"])),
    params(
        ("season" = i32, Path, minimum = 2000, maximum = 2200, example = 2027,
            description = "The season, named by the year in which it ends."),
        ReportQuery,
    ),
    responses(
        (status = 200, description = "The workbook.", 
            content_type = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", body = inline(FileBytes)),
        GetErrors,
    ),
)]
#[get("/seasons/{season}/workbook")]
pub(super) async fn season_workbook(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    season: Path<String>,
    query: Query<ReportQuery>,
) -> Result<HttpResponse, ApiError> {
    let season = season_in_path(&season)?;
    let (subject, of) = query.0.find(&app, &caller, season).await?;
    let report = report::report(&app, &subject, of).await?;
    let system = In(caller.units(query.0.units).into());
    let rows = Rows::read(&app.db, of, &report).await?;
    let made =
        web::block(move || workbook(&report, &rows, system)).await.map_err(ApiError::internal)?;
    Ok(saved_as(XLSX, &format!("season-{season}.xlsx")).body(made.map_err(ApiError::internal)?))
}
