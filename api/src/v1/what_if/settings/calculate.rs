//! The whole sheet of settings, nothing stored.

use actix_web::post;
use actix_web::web::Data;
use chrono::{DateTime, Utc};
use domain::provenance::Coefficients;
use domain::quantity::System;
use domain::settings::recommend;

use super::dto::SettingsIn;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::coefficients::figures_in_force;
use crate::v1::recommendations::answer::SheetOfSettings;
use crate::v1::recommendations::show::Show;
use crate::v1::units::UnitsQuery;

/// A whole sheet of settings.
///
/// What a recommendation says, from a planter, a conditions report and goals in the body, with the
/// coefficients in force for the practice. Nothing is stored, and no grower sees it: change one
/// thing and look what it does. Depth, coulter, row cleaner, closing wheels with their ranking,
/// speed, seeding, forces and the sidewall each stand under `settings` with their reasons.
///
/// Worked example (University of Nebraska, 2013, No-till planting tips for a dry year; rules read,
/// case ours): corn in a dry year goes at least 2 in deep, down to 3 in with dry soil and little
/// residue, and in a rotation on the old row. Dry silt loam with 20 % of soybean residue: safe from
/// 2 to 3 in, start at 2.5 in, on the old row. The discs have lost 1/4 in of diameter, so the lever
/// asks for 1/8 in more.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_settings", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SettingsIn, description = "Planter, field, goals."),
    responses(
        (status = 200, description = "The sheet of settings.", body = SheetOfSettings),
        ComputeErrors,
    ),
)]
#[post("/what-if/settings")]
pub(in crate::v1::what_if) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SettingsIn>,
) -> Result<Answer<SheetOfSettings>, ApiError> {
    let figures = figures_in_force(&app.db, caller.scope()).await?;
    let system = caller.units(query.0.units).into();
    work_out(&body.into_inner(), app.clock.now(), system, &figures).map(Answer::ok)
}

/// Parses, works out, shows.
pub(super) fn work_out(
    given: &SettingsIn,
    now: DateTime<Utc>,
    system: System,
    figures: &Coefficients,
) -> Result<SheetOfSettings, ApiError> {
    let inputs = given.parse(now)?;
    let worked = recommend(&inputs, figures);
    Ok(SheetOfSettings::of(worked, &inputs, Show(system)))
}
