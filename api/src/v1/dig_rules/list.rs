//! `GET /v1/dig-rules`

use std::future::ready;

use actix_web::get;
use domain::dig::RULES;

use super::dto::{DigRule, DigRuleList};
use crate::auth::{Caller, CanRead};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError};

/// List dig rules.
///
/// Every rule by which a dig is judged, in the order in which causes are dealt with: soil first,
/// then iron, settings, single rows, closing, seed. Within a class the findings that the readings
/// carry best come first, and this order decides between equals. A cause that shows on some rows only
/// is a matter of those rows, whatever its class. A dig on which no rule speaks, with the depth surely
/// within tolerance, asks for nothing: keep it as it is. One thing is changed at a time, then dig
/// again.
#[utoipa::path(
    tag = "dig-checks", operation_id = "list_dig_rules", security(("bearer" = ["read"])),
    responses(
        (status = 200, description = "The rules, in their order.", body = DigRuleList),
        ListErrors,
    ),
)]
#[get("/dig-rules")]
pub(super) async fn list(_caller: Caller<CanRead>) -> Result<Answer<DigRuleList>, ApiError> {
    let items = RULES.iter().map(DigRule::from).collect();
    ready(Ok(Answer::ok(DigRuleList { items }))).await
}
