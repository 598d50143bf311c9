//! `GET /v1/fields/{id}/geojson`

use actix_web::web::Data;
use actix_web::{HttpRequest, HttpResponse, get};

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::forms::answer::{GEOJSON, whole};
use crate::exchange::forms::geojson::{FeatureOfField, Which};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id, Query};
use crate::v1::units::UnitsQuery;

/// Get a field as GeoJSON.
///
/// A feature (RFC 7946) with the boundary, outer rings against the clock; `geometry` is null where nobody
/// drew one. The properties name farm and grower, and what records systems call the field.
#[utoipa::path(
    tag = "fields", operation_id = "get_field_geojson", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field."), UnitsQuery),
    responses(
        (status = 200, description = "The feature.", content_type = "application/geo+json", body = FeatureOfField,
            headers(("ETag" = String, description = "Tag of the content."))),
        GetErrors,
    ),
)]
#[get("/fields/{id}/geojson")]
pub(super) async fn geojson(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<UnitsQuery>,
    request: HttpRequest,
) -> Result<HttpResponse, ApiError> {
    let units = caller.units(query.0.units);
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let which = Which { scope: caller.scope(), farm_id: None, grower_id: None, units };
    let features = which.features(&app.db, vec![row]).await?;
    let feature = features.into_iter().next().ok_or_else(|| ApiError::not_found("field"))?;
    let content = serde_json::to_vec(&feature).map_err(ApiError::internal)?;
    Ok(whole(&request, GEOJSON, &format!("field-{}.geojson", id.0), content))
}
