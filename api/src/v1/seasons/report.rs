//! `GET /v1/seasons/{season}/report`

use actix_web::get;
use actix_web::web::{Data, Path};

use super::dto::SeasonReport;
use super::query::{ReportQuery, season_in_path};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Query};
use crate::season::report as made;
use crate::v1::recommendations::show::Show;

/// Get the report of a season.
///
/// What was advised, seen, applied and dug; how many fields had load and depth in the window at the
/// first dig and at the last; what was changed and why; what digs taught; wear, stands, trials; land
/// and hours; the list for the shed; the season week by week. Of a grower, a planter, an advisor, or
/// of all that the caller sees.
///
/// - **Units of count.** A recommendation counts once, whatever its revisions. A share of fields
///   counts a field behind a planter once, with Wilson's 95 % interval: digs of one field resemble
///   each other.
/// - **Applied** is a recommendation with a planting that was reported, or with a dig: nobody digs
///   behind settings that were not tried.
/// - **In the window** is a dig with the mean depth within tolerance of the depth that was wanted,
///   and the load in the window of the sheet: the logged load, or else most gauge wheels turning with
///   effort. A dig that does not tell both, and is out in neither, counts neither way. Digs from
///   before their settings were issued, of doubtful units, or sent twice say nothing here.
/// - **Few growers.** Nobody is ranked. An advisor with fewer than five growers is not set beside
///   others, and a grower is set beside the others only where these are five or more, together and
///   without a name.
/// - **Who left** counts without a name. **Half a season** says how far it is.
#[utoipa::path(
    tag = "seasons", operation_id = "get_season_report", security(("bearer" = ["read"])),
    params(
        ("season" = i32, Path, minimum = 2000, maximum = 2200, example = 2027,
            description = "The season, named by the year in which it ends."),
        ReportQuery,
    ),
    responses(
        (status = 200, description = "The report.", body = SeasonReport),
        GetErrors,
    ),
)]
#[get("/seasons/{season}/report")]
pub(super) async fn report(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    season: Path<String>,
    query: Query<ReportQuery>,
) -> Result<Answer<SeasonReport>, ApiError> {
    let season = season_in_path(&season)?;
    let (subject, of) = query.0.find(&app, &caller, season).await?;
    let report = made::report(&app, &subject, of).await?;
    let show = Show(caller.units(query.0.units).into());
    Ok(Answer::ok(SeasonReport::of(report, show)))
}
