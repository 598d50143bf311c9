//! `GET /v1/recommendations/{id}/data-package`

use actix_web::web::Data;
use actix_web::{HttpResponse, get};

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::forms::facts::SheetFacts;
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id};
use crate::reports::file::{FileBytes, saved_as};
use crate::reports::package::{Pack, packed};
use crate::season::gather::Of;
use crate::season::report::{self, Asked};

/// Get a recommendation as a data package.
///
/// A zip of CSV files with `datapackage.json` (Data Package 2.0): the sheet, its planter and field, the digs
/// behind it, what they proposed, and plantings by it. SI throughout, units in the names of the columns and
/// as UCUM codes in the description. A grower's account does not see drafts.
#[utoipa::path(
    tag = "recommendations", operation_id = "get_recommendation_data_package",
    security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation.")),
    responses(
        (status = 200, description = "The package.", content_type = "application/zip", body = inline(FileBytes)),
        GetErrors,
    ),
)]
#[get("/recommendations/{id}/data-package")]
pub(super) async fn data_package(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
) -> Result<HttpResponse, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    app.counting.check(caller.practice_id())?;
    let facts = SheetFacts::of(&app.db, row).await?;
    let asked = Asked { grower_id: Some(facts.grower.id), ..Asked::default() };
    let subject = asked.find(&app.db, caller.scope()).await?;
    let (calendar, now) = (caller.calendar(), app.clock.now());
    let season = calendar.season_of(facts.row.issued_at.unwrap_or(facts.row.created_at));
    let sheet_id = Some(facts.row.id);
    let of = Of { scope: subject.scope, planter_id: None, sheet_id, season, calendar, now };
    let report = report::report(&app, &subject, of).await?;
    let bytes = Box::pin(packed(Pack::new(app, of, report, None))).await?;
    Ok(saved_as("application/zip", &format!("sheet-{}.zip", id.0)).streaming(bytes))
}
