//! `GET /v1/seasons/{season}/programme-export`

use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get};

use super::query::{ReportQuery, season_in_path};
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::RecomputeErrors;
use crate::http::{ApiError, Query};
use crate::reports::file::{FileBytes, saved_as};
use crate::reports::package::{Anonymized, Pack, packed};
use crate::season::report;

/// Export a season without names.
///
/// A data package for a funder or for research: names and places left out, ids replaced by codes that
/// are made for this export, days made weeks, sizes rounded, and what fewer than five growers share left
/// empty. `README.txt` in it says what was done and what that can't do. A season of fewer than five
/// growers has none.
#[utoipa::path(
    tag = "seasons", operation_id = "export_season_without_names", security(("bearer" = ["manage"])),
    params(
        ("season" = i32, Path, minimum = 2000, maximum = 2200, example = 2027,
            description = "The season, named by the year in which it ends."),
        ReportQuery,
    ),
    responses(
        (status = 200, description = "The package.", content_type = "application/zip", body = inline(FileBytes)),
        RecomputeErrors,
    ),
)]
#[get("/seasons/{season}/programme-export")]
pub(super) async fn programme_export(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    season: Path<String>,
    query: Query<ReportQuery>,
) -> Result<HttpResponse, ApiError> {
    let season = season_in_path(&season)?;
    let (subject, of) = query.0.find(&app, &caller, season).await?;
    let report = report::report(&app, &subject, of).await?;
    let without_names = Anonymized::new(&app.db, of, &report).await?;
    let bytes = Box::pin(packed(Pack::new(app, of, report, Some(without_names)))).await?;
    Ok(saved_as("application/zip", &format!("season-{season}-without-names.zip")).streaming(bytes))
}
