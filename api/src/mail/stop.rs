//! `/mail/stop/{key}`: the address in each mail that stops mail of its kind.
//!
//! Reading the page changes nothing, since mail programs and scanners read what stands in a mail. A
//! button sends the form; a mail program sends the same by itself (RFC 8058).

use actix_web::http::header::{CACHE_CONTROL, CONTENT_SECURITY_POLICY, ContentType};
use actix_web::web::{Data, Path};
use actix_web::{HttpResponse, get, post};
use maud::{Markup, html};

use super::page::page;
use super::wishes;
use crate::app::AppState;
use crate::db;
use crate::http::ApiError;

/// Longest key that is worth looking for.
const LONGEST: usize = 64;

/// The address that stops mail.
pub(super) fn address(app: &AppState, stop_key: &str) -> String {
    app.settings.public_url.of(&format!("/mail/stop/{stop_key}"))
}

/// Shows the button.
#[get("/mail/stop/{key}")]
pub(crate) async fn ask() -> HttpResponse {
    let body = html! {
        form method="post" { button type="submit" { "Stop these mails" } }
        p.foot { "Your advisor, or you yourself when signed in, can turn them on again." }
    };
    std::future::ready(show("Stop mails from Dibble?", &body)).await
}

/// Stops the mail. Whether the key was a good one is not said: it stands in nobody's mail any more.
#[post("/mail/stop/{key}")]
pub(crate) async fn stop(app: Data<AppState>, key: Path<String>) -> Result<HttpResponse, ApiError> {
    if key.len() <= LONGEST {
        let tx = db::begin(&app.db).await?;
        wishes::stop(&tx, &key, app.clock.now()).await?;
        tx.commit().await?;
    }
    Ok(show("Done: no more of these mails.", &html! { p { "You can close this page." } }))
}

fn show(title: &str, body: &Markup) -> HttpResponse {
    let policy = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; \
         form-action 'self'; frame-ancestors 'none'";
    HttpResponse::Ok()
        .insert_header((CONTENT_SECURITY_POLICY, policy))
        .insert_header((CACHE_CONTROL, "no-store"))
        .insert_header(ContentType::html())
        .body(page(title, body).into_string())
}
