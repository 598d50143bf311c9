//! `GET /v1/changes`

use actix_web::get;
use actix_web::web::Data;

use super::cursor::{self, After};
use super::dto::{Change, ChangeFilter, ChangePage, types};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::changes;
use crate::http::page::limit_of;
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError, Query, Refused};

/// Follow what changes.
///
/// Every change of the practice's records after a place, in order, each once, also while others
/// write: read the page, do your work, keep `next_after`, and ask again with it, at once while `more`
/// is true and else after a while. Who keeps the place only after the work is done misses nothing;
/// who asks again with the same place gets the same again. What is told is which object changed, not
/// how: read it at `href`; it may have changed further or be gone (404), of which a later change
/// tells. A grower's account learns of its own objects and of no draft, an advisor who sees only
/// assigned growers of theirs; who is given a grower later reads what was before in the lists.
/// Who may sign in, secrets, mail and what people put off is told to nobody.
#[utoipa::path(
    tag = "changes", operation_id = "list_changes", security(("bearer" = ["read"])),
    params(ChangeFilter),
    responses(
        (status = 200, description = "A page of changes.", body = ChangePage, headers(
            ("Link" = String, description = "Address of the next page, with `rel=\"next\"`, while \
                `more` is true."),
            ("ETag" = String, description = "Weak tag of the page: with it as `If-None-Match` an end \
                where nothing came is 304."),
        )),
        ListErrors,
    ),
)]
#[get("/changes")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<ChangeFilter>,
) -> Result<Answer<ChangePage>, ApiError> {
    let ChangeFilter { after, types: names, limit } = query.0;
    let (scope, practice_id) = (caller.scope(), caller.practice_id());
    let mut refused = Refused::default();
    let place = refused.take(cursor::open(practice_id, "?after", after.as_deref()));
    let types = refused.take(types("?types", names.as_deref()));
    let limit = refused.take(limit_of(limit));
    let (Some(place), Some(types), Some(limit)) = (place, types, limit) else {
        return Err(refused.into());
    };
    let last = changes::last_position(&app.db, practice_id).await?;
    let position = match place {
        After::Now => last,
        After::Position(position) if position <= last => position,
        // A place that was given out before the database was put back to an earlier state.
        After::Position(_) => {
            return Err(cursor::refused("?after", after.as_deref().unwrap_or_default()).into());
        }
    };
    let page = changes::page(&app.db, &scope, position, &types, limit).await?;
    let next_after = cursor::seal(practice_id, page.next);
    let items = page.changes.into_iter().map(Change::from).collect();
    let link = page.more.then(|| next_after.clone());
    Ok(Answer::feed(ChangePage { items, next_after, more: page.more }, link))
}
