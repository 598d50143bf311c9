//! `GET /v1/growers/{id}/export`

use actix_web::get;
use actix_web::web::Data;

use super::dto::GrowerExport;
use super::gather::gather;
use crate::app::AppState;
use crate::auth::{Caller, CanManage};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::v1::growers::store;
use crate::v1::units::UnitsQuery;
use crate::writes::{Done, Touched, Write, Written};

/// Export all that is known of a grower.
///
/// One document with everything that belongs to the grower, as the single operations would answer it:
/// to be handed to the grower, or kept before it is erased. The audit trail says who exported it.
#[utoipa::path(
    tag = "growers", operation_id = "export_grower", security(("bearer" = ["manage"])),
    params(("id" = Uuid, Path, description = "Id of the grower."), UnitsQuery),
    responses(
        (status = 200, description = "All that is known of the grower.", body = GrowerExport),
        GetErrors,
    ),
)]
#[get("/growers/{id}/export")]
pub(in crate::v1::growers) async fn get_export(
    app: Data<AppState>,
    caller: Caller<CanManage>,
    write: Write,
    id: Id,
    query: Query<UnitsQuery>,
) -> Result<Written<GrowerExport>, ApiError> {
    let units = caller.units(query.0.units);
    let export = async || {
        let grower = store::find(&app.db, caller.scope(), id.0).await?;
        gather(&app, grower, units).await
    };
    write
        .run_prepared(&app, &caller, export, async |_tx, export| {
            let touched = Touched::new("grower", id.0).of_grower(id.0);
            Ok(Done::new(touched, Answer::ok(export).secret()))
        })
        .await
}
