//! `GET /v1/coefficients`

use std::future::ready;

use actix_web::get;
use domain::provenance::Coefficients;

use super::dto::{Coefficient, CoefficientFilter, CoefficientList};
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List coefficients.
///
/// Every number that the calculations start from, in one answer: its figure, its range, how it is
/// known and where it stands. A figure marked `assumption` or `from_memory` is a start, not a fact:
/// it is shown as such wherever it is used, and digs or a scale correct it.
#[utoipa::path(
    tag = "coefficients", operation_id = "list_coefficients", security(("bearer" = ["read"])),
    params(CoefficientFilter),
    responses(
        (status = 200, description = "The coefficients in force.", body = CoefficientList),
        ListErrors,
    ),
)]
#[get("/coefficients")]
pub(super) async fn list(
    _caller: Caller<CanRead>,
    query: Query<CoefficientFilter>,
) -> Result<Answer<CoefficientList>, ApiError> {
    let CoefficientFilter { mark } = query.0;
    let items = Coefficients::STANDARD
        .all()
        .into_iter()
        .filter(|k| mark.is_none_or(|wanted| wanted == k.mark.into()))
        .map(Coefficient::from)
        .collect();
    ready(Ok(Answer::ok(CoefficientList { items }))).await
}
