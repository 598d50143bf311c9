//! `GET /v1/recommendations/{id}/adapt`

use actix_web::web::Data;
use actix_web::{HttpRequest, HttpResponse, get};

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::forms::adapt::{AdaptDataSet, DataSet, Selection};
use crate::exchange::forms::answer::{ADAPT, whole};
use crate::exchange::forms::facts::SheetFacts;
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id, Query};
use crate::season::gather::Of;
use crate::v1::units::UnitsQuery;

/// Get a recommendation as an ADAPT data set.
///
/// The sheet as a `Recommendation` of the ADAPT Standard 2.0.2, with the catalog that it refers to, and
/// with what came of it: plantings by it, digs behind it and stands that were counted, as `WorkRecord`s.
/// Figures are in the unit that the standard fixes; `units` is that of the notes. What the standard has no
/// code for has one that begins with `DIBBLE_`, or stands in the notes. A grower's account does not see
/// drafts.
#[utoipa::path(
    tag = "recommendations", operation_id = "get_recommendation_adapt", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), UnitsQuery),
    responses(
        (status = 200, description = "The data set.", body = AdaptDataSet, headers(
            ("ETag" = String, description = "Tag of the content."),
        )),
        GetErrors,
    ),
)]
#[get("/recommendations/{id}/adapt")]
pub(super) async fn adapt(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
    request: HttpRequest,
) -> Result<HttpResponse, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let facts = SheetFacts::of(&app.db, row).await?;
    let (calendar, now) = (caller.calendar(), app.clock.now());
    let season = calendar.season_of(facts.row.issued_at.unwrap_or(facts.row.created_at));
    let of = Of { scope: caller.scope(), planter_id: None, sheet_id: None, season, calendar, now };
    let what = Selection::sheet(&facts, of, caller.units(query.0.units));
    let content = DataSet::new(app, what).whole().await?;
    Ok(whole(&request, ADAPT, &format!("adapt-{}.json", id.0), content))
}
