//! `GET /v1/seasons/{season}/adapt`

use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get};

use super::query::{ReportQuery, season_in_path};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::forms::adapt::{AdaptDataSet, DataSet, Selection};
use crate::exchange::forms::answer::{ADAPT, streamed};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Query};

/// Export a season as an ADAPT data set.
///
/// One `adapt.json` of the ADAPT Standard 2.0.2: growers, farms, fields and planters in scope; the settings
/// sheets of the season as `Recommendation`s; plantings, digs and stands as `WorkRecord`s. It is sent while
/// it is read, however long it is; what comes in meanwhile is not in it. `units` is that of the notes.
#[utoipa::path(
    tag = "seasons", operation_id = "export_season_adapt", security(("bearer" = ["read"])),
    params(
        ("season" = i32, Path, minimum = 2000, maximum = 2200, example = 2027,
            description = "The season, named by the year in which it ends."),
        ReportQuery,
    ),
    responses(
        (status = 200, description = "The data set.", body = AdaptDataSet),
        GetErrors,
    ),
)]
#[get("/seasons/{season}/adapt")]
pub(super) async fn adapt(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    season: Path<String>,
    query: Query<ReportQuery>,
) -> Result<HttpResponse, ApiError> {
    let season = season_in_path(&season)?;
    let (_, of) = query.0.find(&app, &caller, season).await?;
    let what = Selection::season(of, caller.units(query.0.units));
    let content = Box::pin(DataSet::new(app, what).stream()).await?;
    Ok(streamed(ADAPT, &format!("adapt-season-{season}.json"), content))
}
