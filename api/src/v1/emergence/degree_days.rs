//! `GET /v1/plantings/{id}/degree-days`

use actix_web::get;
use actix_web::web::Data;
use chrono::NaiveDate;
use domain::provenance::sources;
use domain::quantity::System;
use domain::stand::heat;

use super::dto::{DegreeDayRequest, PlantingDegreeDays};
use super::gather::{self, later};
use super::say;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, BadMember, Id, Query, Refused};

/// Days after planting that are summed at most.
const MOST_DAYS: u64 = 200;

/// Get the degree days of a planting.
///
/// By the method 86/50, from the day after planting on, by the temperatures of the farm: day by day
/// and summed. Days that nobody entered are named and add nothing; short gaps are filled only where
/// `fill_gaps` asks for it, and are marked.
#[utoipa::path(
    tag = "plantings", operation_id = "get_planting_degree_days", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planting."), DegreeDayRequest),
    responses(
        (status = 200, description = "The degree days.", body = PlantingDegreeDays),
        GetErrors,
    ),
)]
#[get("/plantings/{id}/degree-days")]
pub(super) async fn degree_days(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<DegreeDayRequest>,
) -> Result<Answer<PlantingDegreeDays>, ApiError> {
    let DegreeDayRequest { to, fill_gaps, units } = query.0;
    let fill = gather::fill("?fill_gaps", fill_gaps)?;
    let found = gather::of(&app.db, caller.scope(), id.0).await?;
    let planted_on = found.planting.planted_on;
    let to = last_day(planted_on, to, caller.calendar().today(app.clock.now()))?;
    let system: System = caller.units(units).into();
    let heat = heat(&found.known, (later(planted_on, 1), to), fill);
    Ok(Answer::ok(PlantingDegreeDays {
        planting_id: found.planting.id,
        planted_on,
        to,
        sum: say::degree_days(heat.sum(), system),
        at_most: say::degree_days(heat.most(), system),
        days: heat.days.iter().map(|day| say::day(day, system)).collect(),
        assumed: say::assumed(&heat),
        missing: heat.missing,
        source: sources::DEGREE_DAYS.to_owned(),
    }))
}

fn last_day(
    planted_on: NaiveDate,
    asked: Option<NaiveDate>,
    today: NaiveDate,
) -> Result<NaiveDate, ApiError> {
    let most = later(planted_on, MOST_DAYS);
    let Some(to) = asked else { return Ok(today.clamp(planted_on, most)) };
    let mut refused = Refused::default();
    if !(planted_on..=most).contains(&to) {
        let detail = "The day lies before planting, or more than 200 days after it.";
        let member = BadMember::new("?to", detail).given(to);
        refused.add(member.allowed(format!("{planted_on} to {most}")));
    }
    refused.finish()?;
    Ok(to)
}
