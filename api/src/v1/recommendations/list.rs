//! `GET /v1/recommendations`

use std::collections::{BTreeMap, BTreeSet};

use actix_web::web::Data;
use actix_web::{HttpRequest, get};
use uuid::Uuid;

use super::dto::{RecommendationFilter, RecommendationPage, RecommendationSummary};
use super::show::Show;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::PageRequest;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};
use crate::v1::inspections::open;

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
    let filter = asked.parse(&caller.calendar())?;
    let show = Show(caller.units(asked.units).into());
    let page = PageRequest::asked(Walk::of(&request, caller.practice_id()), &asked.into())?;
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let planters: BTreeSet<Uuid> = found.rows.iter().map(|row| row.planter_id).collect();
    let mut open: BTreeMap<Uuid, u16> = BTreeMap::new();
    for it in open::of_planters(&app.db, &caller.scope(), planters).await? {
        *open.entry(it.planter_id).or_default() += 1;
    }
    let shown = found.rows.iter().map(|row| {
        let open = open.get(&row.planter_id).copied().unwrap_or_default();
        RecommendationSummary::of(row, show, open)
    });
    let (items, next) = (shown.collect::<Result<_, _>>()?, found.next_cursor);
    let total = found.total;
    Ok(Answer::page(RecommendationPage { items, next_cursor: next.clone(), total }, next))
}
