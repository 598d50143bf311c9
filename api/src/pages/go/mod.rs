//! `/go`: where the link leads that lets a grower in.
//!
//! The secret stands behind the `#` of the address, which no program sends on and no log holds. It is
//! used when the button is pressed, not when the page opens: what looks into mails opens pages too.

use actix_web::http::header::{CACHE_CONTROL, CONTENT_SECURITY_POLICY, ContentType};
use actix_web::web::ServiceConfig;
use actix_web::{HttpResponse, get};

const PAGE: &str = include_str!("page.html");
const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("script.js");

/// Scripts of our own alone. A sheet brings its style with it, so styles may stand in the page.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; \
     connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// Everything of the page.
pub(crate) fn routes(config: &mut ServiceConfig) {
    config.service(page).service(style).service(script);
}

#[get("/go")]
async fn page() -> HttpResponse {
    let answer = HttpResponse::Ok()
        .insert_header((CONTENT_SECURITY_POLICY, POLICY))
        .insert_header((CACHE_CONTROL, "no-store"))
        .insert_header(ContentType::html())
        .body(PAGE);
    std::future::ready(answer).await
}

#[get("/go/style.css")]
async fn style() -> HttpResponse {
    std::future::ready(part("text/css; charset=utf-8", STYLE)).await
}

#[get("/go/script.js")]
async fn script() -> HttpResponse {
    std::future::ready(part("text/javascript; charset=utf-8", SCRIPT)).await
}

fn part(kind: &'static str, text: &'static str) -> HttpResponse {
    HttpResponse::Ok()
        .insert_header((CACHE_CONTROL, "public, max-age=300"))
        .content_type(kind)
        .body(text)
}
