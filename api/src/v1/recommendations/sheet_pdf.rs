//! `GET /v1/recommendations/{id}/sheet/pdf`: the page in the cab as a file.

use actix_web::web::Data;
use actix_web::{HttpResponse, get, web};

use super::sheet::{Facts, SheetQuery, fitted};
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id, Query};
use crate::reports::file::{FileBytes, saved_as};

/// Get the settings sheet as PDF.
///
/// The same page as the HTML sheet, on one sheet of paper, with text that can be selected. A grower's
/// account does not see the sheet of a draft.
#[utoipa::path(
    tag = "recommendations", operation_id = "get_recommendation_sheet_pdf",
    security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), SheetQuery),
    responses(
        (status = 200, description = "The sheet.", content_type = "application/pdf", body = inline(FileBytes)),
        GetErrors,
    ),
)]
#[get("/recommendations/{id}/sheet/pdf")]
pub(super) async fn sheet_pdf(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<SheetQuery>,
) -> Result<HttpResponse, ApiError> {
    let units = caller.units(query.0.units);
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let facts = Facts::of(&app.db, row, units.into()).await?;
    let sheet = query.0.paper.unwrap_or_default().sheet().bare();
    let printed = web::block(move || fitted(&facts, sheet)).await.map_err(ApiError::internal)?;
    let printed = printed.map_err(ApiError::internal)?;
    Ok(saved_as("application/pdf", &format!("settings-{}.pdf", id.0)).body(printed.pdf))
}
