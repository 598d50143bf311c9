//! `GET /v1/bounds`

use std::future::ready;

use actix_web::get;
use domain::quantity::bounds::table;

use super::dto::{BoundList, QuantityBound};
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError};

/// List bounds.
///
/// What each quantity may be, in both systems of units, and why. A range says what is physically
/// possible or sensible to enter; it is not advice. A value outside is refused with this range and
/// this reason.
#[utoipa::path(
    tag = "coefficients", operation_id = "list_bounds", security(("bearer" = ["read"])),
    responses(
        (status = 200, description = "The bounds of all quantities.", body = BoundList),
        ListErrors,
    ),
)]
#[get("/bounds")]
pub(super) async fn bounds(_caller: Caller<CanRead>) -> Result<Answer<BoundList>, ApiError> {
    let items = table().into_iter().map(QuantityBound::from).collect();
    ready(Ok(Answer::ok(BoundList { items }))).await
}
