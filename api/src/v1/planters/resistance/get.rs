//! `GET /v1/planters/{id}/resistance`

use actix_web::get;
use actix_web::web::Data;
use tokio::task::spawn_blocking;

use super::dto::{PlanterResistance, ResistanceQuery};
use super::gather::gather;
use super::say;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::learned::season_of;
use crate::v1::coefficients::figures_in_force;
use crate::v1::planters::store;

/// Get what digs taught about a planter.
///
/// How much more or less the soil asks of opener and coulter than the conditions let expect, as a
/// factor with its 90 % range, by soil and cover and by field. Digs are pooled: a field learns most
/// from its own digs, less from other fields of the planter in the same soil and cover, a little from
/// other planters of the practice; old seasons say less than new ones.
#[utoipa::path(
    tag = "planters", operation_id = "get_planter_resistance", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the planter."), ResistanceQuery),
    responses(
        (status = 200, description = "What digs taught.", body = PlanterResistance),
        GetErrors,
    ),
)]
#[get("/planters/{id}/resistance")]
pub(in crate::v1::planters) async fn get_resistance(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<ResistanceQuery>,
) -> Result<Answer<PlanterResistance>, ApiError> {
    let (scope, this) = (caller.scope(), season_of(&caller.calendar(), app.clock.now()));
    let season = say::season(query.0.season, this)?;
    let planter = store::find(&app.db, scope, id.0).await?;
    let figures = figures_in_force(&app.db, scope).await?;
    let learned = app.lessons.of(&app.db, scope, &figures, this).await?;
    let dug = gather(&app.db, scope, planter.id).await?;
    let shown = spawn_blocking(move || dug.shown(&learned, season)).await;
    Ok(Answer::ok(shown.map_err(ApiError::internal)?))
}
