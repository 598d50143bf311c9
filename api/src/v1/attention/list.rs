//! `GET /v1/attention`

use actix_web::web::Data;
use actix_web::{HttpRequest, get};

use super::dto::{AttentionCounts, AttentionEntry, AttentionFilter, AttentionPage};
use super::find::Wanted;
use super::gather::{Which, gather};
use super::names::Names;
use super::page::PageAsked;
use super::tends::Tends;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::cursor::Walk;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query};

/// List what needs somebody.
///
/// Worked out from what is there, the most urgent first, each with the reason in a sentence and
/// what to do next: digs that failed or did not come in, sheets that nobody saw, old conditions,
/// stands to count, calibrations and inspections that are missing, parts to be replaced, growers
/// left out. Whoever keeps growers and fields also sees what of a records system waits for a
/// person: what both sides changed, what looks like something that is here, what is no longer
/// listed there. The lead also sees mail that could not be sent, links that fetch nothing any more,
/// webhooks that tell nobody; a records system sees the links and webhooks that it made. Since when
/// something counts stands under `/v1/attention-limits`. What is put off comes back on its day, or
/// when something new happens to it. A grower's account sees what is his own to do, in his words;
/// what an advisor has put off is not put off for him.
#[utoipa::path(
    tag = "attention", operation_id = "list_attention", security(("bearer" = ["read"])),
    params(AttentionFilter),
    responses(
        (status = 200, description = "A page of the list.", body = AttentionPage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`."),
        )),
        ListErrors,
    ),
)]
#[get("/attention")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<AttentionFilter>,
    request: HttpRequest,
) -> Result<Answer<AttentionPage>, ApiError> {
    let AttentionFilter { advisor_id, grower_id, kind, mine, include_snoozed, limit, cursor } =
        query.0;
    let walk = Walk::of(&request, caller.practice_id());
    let page = PageAsked::parse(walk, limit, cursor.as_deref())?;
    let which = Which {
        wanted: Wanted { grower_id, advisor_id, kind },
        mine: mine.unwrap_or(false).then(|| caller.account_id()),
        snoozed: include_snoozed.unwrap_or(false),
        tends: Tends::of(caller.role(), caller.account_id()),
        ahead: None,
    };
    let list = gather(&app, caller.scope(), which).await?;
    let counts = AttentionCounts::of(&list);
    let (entries, next_cursor) = page.cut(list);
    let names = Names::of(&app.db, caller.practice_id(), &entries).await?;
    let items = entries.into_iter().map(|entry| AttentionEntry::of(entry, &names)).collect();
    Ok(Answer::page(AttentionPage { items, counts, next_cursor: next_cursor.clone() }, next_cursor))
}
