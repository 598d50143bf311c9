//! `GET /v1/seasons/{season}/report/pdf`

use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get, web};
use chrono::Datelike;
use domain::season::report::SeasonReport;

use super::print::PrintQuery;
use super::query::season_in_path;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Query};
use crate::reports::file::{FileBytes, saved_as};
use crate::reports::page::{body, title};
use crate::reports::paper::{About, PaperError, Printed, Sheet, Style, print};
use crate::reports::words::In;
use crate::season::report;

/// Running text.
const STYLE: Style = Style { size: 9.6, close: false };

/// Get the report of a season as PDF.
///
/// The same as the page, printed on US Letter or A4: numbered pages, an outline, tags for screen
/// readers, text that can be selected.
#[utoipa::path(
    tag = "seasons", operation_id = "get_season_report_pdf", security(("bearer" = ["read"])),
    params(
        ("season" = i32, Path, minimum = 2000, maximum = 2200, example = 2027,
            description = "The season, named by the year in which it ends."),
        PrintQuery,
    ),
    responses(
        (status = 200, description = "The document.", content_type = "application/pdf", body = inline(FileBytes)),
        GetErrors,
    ),
)]
#[get("/seasons/{season}/report/pdf")]
pub(super) async fn report_pdf(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    season: Path<String>,
    query: Query<PrintQuery>,
) -> Result<HttpResponse, ApiError> {
    let season = season_in_path(&season)?;
    let asked = query.0.report();
    let (subject, of) = asked.find(&app, &caller, season).await?;
    let report = report::report(&app, &subject, of).await?;
    let (system, sheet) =
        (In(caller.units(asked.units).into()), query.0.paper.unwrap_or_default().sheet());
    let printed =
        web::block(move || printed(&report, system, sheet)).await.map_err(ApiError::internal)?;
    let pdf = printed.map_err(ApiError::internal)?.pdf;
    Ok(saved_as("application/pdf", &format!("season-{season}.pdf")).body(pdf))
}

fn printed(report: &SeasonReport, system: In, sheet: Sheet) -> Result<Printed, PaperError> {
    let day = report.about.as_of.date_naive();
    let part = |number: u32| u8::try_from(number).unwrap_or(1);
    let about = About {
        title: title(report),
        author: report.about.practice.clone(),
        foot: title(report),
        made_on: u16::try_from(day.year())
            .ok()
            .map(|year| (year, part(day.month()), part(day.day()))),
    };
    print(&body(report, system).into_string(), STYLE, sheet, &about)
}
