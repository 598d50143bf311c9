//! `GET /v1/recommendations`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{RecommendationFilter, RecommendationPage, RecommendationSummary};
use super::show::Show;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List recommendations.
///
/// Oldest first, in pages. A grower's account sees its own, and no drafts.
#[utoipa::path(
    tag = "recommendations", operation_id = "list_recommendations", security(("bearer" = ["read"])),
    params(RecommendationFilter),
    responses(
        (status = 200, description = "A page of recommendations.", body = RecommendationPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/recommendations")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<RecommendationFilter>,
    request: HttpRequest,
) -> Result<Answer<RecommendationPage>, ApiError> {
    let asked = query.0;
    let filter = asked.parse()?;
    let show = Show(caller.units(asked.units).into());
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked.into())?;
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let shown = found.rows.iter().map(|row| RecommendationSummary::of(row, show));
    let (items, next) = (shown.collect::<Result<_, _>>()?, found.next_cursor);
    let total = found.total;
    Ok(Answer::page(RecommendationPage { items, next_cursor: next.clone(), total }, next))
}
