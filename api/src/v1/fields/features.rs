//! `GET /v1/field-features`

use actix_web::web::Data;
use actix_web::{HttpResponse, get};

use super::dto::FeatureFilter;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::forms::answer::{GEOJSON, streamed};
use crate::exchange::forms::geojson::{FeaturesOfFields, Which, collection};
use crate::http::responses::ListErrors;
use crate::http::{ApiError, Query};

/// Get fields as GeoJSON.
///
/// All the fields asked for as one feature collection (RFC 7946), sent while it is read, however many there
/// are. What is not seen is left out, as in any list.
#[utoipa::path(
    tag = "fields", operation_id = "list_field_features", security(("bearer" = ["read"])),
    params(FeatureFilter),
    responses(
        (status = 200, description = "The features.", content_type = "application/geo+json",
            body = FeaturesOfFields),
        ListErrors,
    ),
)]
#[get("/field-features")]
pub(super) async fn features(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<FeatureFilter>,
) -> Result<HttpResponse, ApiError> {
    let FeatureFilter { grower_id, farm_id, units } = query.0;
    let units = caller.units(units);
    let which = Which { scope: caller.scope(), farm_id, grower_id, units };
    Ok(streamed(GEOJSON, "fields.geojson", collection(app, which).await?))
}
