//! `GET /v1/planters/{id}/wear`

use actix_web::get;
use actix_web::web::Data;

use super::acres::Acres;
use super::dto::WearReport;
use super::history::Wearing;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::inspections::shed::Shed;
use crate::v1::planters;
use crate::v1::units::UnitsQuery;

/// Get the wear of a planter.
///
/// Wear for each thousand acres (hundred hectares) from two inspections of the same part, and the area
/// and the day at which each row reaches its limit, with a range: readings in the shed scatter, and the
/// range follows from that scatter. Acres come from the planter's counter where two inspections read it,
/// else from the plantings that were reported. A row with one reading is reckoned with the rate of the
/// other rows. A day is given within the plan that was entered with an inspection, at an even pace; what
/// lies beyond has none.
#[utoipa::path(
    tag = "inspections", operation_id = "get_wear", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), UnitsQuery),
    responses(
        (status = 200, description = "How its parts wear.", body = WearReport),
        GetErrors,
    ),
)]
#[get("/planters/{id}/wear")]
pub(super) async fn get(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Answer<WearReport>, ApiError> {
    let planter = planters::store::find(&app.db, caller.scope(), id.0).await?;
    let shed = Shed::load(&app.db, &planter).await?;
    let acres = Acres::load(&app.db, caller.scope(), planter.id, &shed.visits).await?;
    let calendar = caller.calendar();
    let today = calendar.today(app.clock.now());
    let (from, until) = calendar.days(calendar.season_of_day(today));
    let this_season = acres.planted(from, until);
    let wearing = Wearing { shed: &shed, acres: &acres, today };
    let system = caller.units(query.0.units).into();
    Ok(Answer::ok(WearReport::of(planter.id, &wearing, this_season, system)))
}
