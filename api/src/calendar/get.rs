//! `GET /calendar/{secret}.ics`

use actix_web::http::header::{
    CACHE_CONTROL, CONTENT_TYPE, ETAG, EntityTag, Header, HeaderValue, IF_NONE_MATCH, IfNoneMatch,
};
use actix_web::web::{Data, Path};
use actix_web::{HttpRequest, HttpResponse, get};
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};

use super::{events, file, kept};
use crate::app::AppState;
use crate::auth::{Scope, secret};
use crate::entities::{accounts, calendar_feeds, growers, practices};
use crate::http::ApiError;

/// The calendar of a feed, or 304 when the program has it as it is.
#[get("/calendar/{file}")]
pub(crate) async fn show(
    app: Data<AppState>,
    file: Path<String>,
    request: HttpRequest,
) -> Result<HttpResponse, ApiError> {
    let found = find(&app, &file).await?;
    let (feed, practice, scope) = found.ok_or_else(|| ApiError::not_found("calendar"))?;
    let due = events::due(&app, scope, &feed, &practice).await?;
    let listed = kept::catch_up(&app, &feed, due).await?;
    let text = file::write(&practice, &listed)?;
    let tag = EntityTag::new_strong(secret::hash(&text));
    let known = request.headers().contains_key(IF_NONE_MATCH)
        && match IfNoneMatch::parse(&request) {
            Ok(IfNoneMatch::Any) => true,
            Ok(IfNoneMatch::Items(tags)) => tags.iter().any(|it| it.weak_eq(&tag)),
            Err(_) => false,
        };
    let mut answer = if known { HttpResponse::NotModified() } else { HttpResponse::Ok() };
    answer
        .insert_header((ETAG, tag.to_string()))
        .insert_header((CACHE_CONTROL, "private, no-cache"));
    if known {
        return Ok(answer.finish());
    }
    let form = HeaderValue::from_static("text/calendar; charset=utf-8");
    Ok(answer.insert_header((CONTENT_TYPE, form)).body(text))
}

/// The feed of a file name and what it shows now.
async fn find(
    app: &AppState,
    file: &str,
) -> Result<Option<(calendar_feeds::Model, practices::Model, Scope)>, ApiError> {
    let Some(given) = file.strip_suffix(".ics") else {
        return Ok(None);
    };
    let feed = calendar_feeds::Entity::find()
        .filter(calendar_feeds::Column::SecretHash.eq(secret::hash(given)))
        .filter(calendar_feeds::Column::RevokedAt.is_null())
        .one(&app.db)
        .await?;
    let Some(feed) = feed else {
        return Ok(None);
    };
    let account = accounts::Entity::find_by_id((feed.practice_id, feed.account_id))
        .filter(accounts::Column::DisabledAt.is_null())
        .one(&app.db)
        .await?;
    let practice = practices::Entity::find_by_id(feed.practice_id).one(&app.db).await?;
    let (Some(account), Some(practice)) = (account, practice) else {
        return Ok(None);
    };
    let scope = Scope::of_account(&account, practice.advisors_see);
    if let Some(grower) = feed.grower_id {
        let seen = scope.growers().filter(growers::Column::Id.eq(grower)).one(&app.db).await?;
        if seen.is_none() {
            return Ok(None);
        }
    }
    Ok(Some((feed, practice, scope)))
}
