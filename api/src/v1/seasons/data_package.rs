//! `GET /v1/seasons/{season}/data-package`

use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get};

use super::query::{ReportQuery, season_in_path};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Query};
use crate::reports::file::{FileBytes, saved_as};
use crate::reports::package::{Pack, packed};
use crate::season::report;

/// Export a season as a data package.
///
/// A zip of CSV files with `datapackage.json` (Data Package 2.0): growers, planters, fields, sheets,
/// digs, adjustments, plantings, stands, effects of trials and wear, with the type and the UCUM unit of
/// each column and what refers to what. SI throughout; `units` changes nothing. It is sent while it is
/// read, however long it is; what comes in meanwhile is not in it.
#[utoipa::path(
    tag = "seasons", operation_id = "export_season_data_package", security(("bearer" = ["read"])),
    params(
        ("season" = i32, Path, minimum = 2000, maximum = 2200, example = 2027,
            description = "The season, named by the year in which it ends."),
        ReportQuery,
    ),
    responses(
        (status = 200, description = "The package.", content_type = "application/zip", body = inline(FileBytes)),
        GetErrors,
    ),
)]
#[get("/seasons/{season}/data-package")]
pub(super) async fn data_package(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    season: Path<String>,
    query: Query<ReportQuery>,
) -> Result<HttpResponse, ApiError> {
    let season = season_in_path(&season)?;
    let (subject, of) = query.0.find(&app, &caller, season).await?;
    let report = report::report(&app, &subject, of).await?;
    let bytes = Box::pin(packed(Pack::new(app, of, report, None))).await?;
    Ok(saved_as("application/zip", &format!("season-{season}.zip")).streaming(bytes))
}
