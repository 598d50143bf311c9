//! `GET /v1/trials`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{Trial, TrialFilter, TrialPage};
use super::store::{self, Filter};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::page::{Asked, PageRequest};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List trials.
///
/// Oldest first, in pages. A grower's account sees its own, and no drafts.
#[utoipa::path(
    tag = "trials", operation_id = "list_trials", security(("bearer" = ["read"])),
    params(TrialFilter),
    responses(
        (status = 200, description = "A page of trials.", body = TrialPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/trials")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<TrialFilter>,
    request: HttpRequest,
) -> Result<Answer<TrialPage>, ApiError> {
    let asked = query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageRequest::asked(walk, &Asked::from(&asked))?;
    let filter = Filter {
        grower_id: asked.grower_id,
        field_id: asked.field_id,
        planter_id: asked.planter_id,
        status: asked.status.map(Into::into),
    };
    let found = store::page(&app.db, caller.scope(), filter, &page).await?;
    let items = found.rows.into_iter().map(Trial::of).collect::<Result<_, _>>()?;
    let (next, total) = (found.next_cursor, found.total);
    Ok(Answer::page(TrialPage { items, next_cursor: next.clone(), total }, next))
}
