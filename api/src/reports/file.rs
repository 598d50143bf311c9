//! Answers that are files.

use actix_web::http::header::{
    CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_ENCODING, CONTENT_SECURITY_POLICY,
};
use actix_web::{HttpResponse, HttpResponseBuilder};
use utoipa::ToSchema;

use super::paper::Sheet;
use serde::{Deserialize, Serialize};

/// A file, byte by byte.
#[derive(Debug, ToSchema)]
#[schema(value_type = String, format = Binary, examples("%PDF-1.7"))]
pub struct FileBytes(#[expect(dead_code, reason = "it only describes what is answered")] Vec<u8>);

/// The paper that is printed on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(example = "letter")]
pub enum PaperSize {
    /// US Letter.
    #[default]
    Letter,
    /// ISO A4.
    A4,
}

impl PaperSize {
    /// The sheet.
    pub fn sheet(self) -> Sheet {
        match self {
            Self::Letter => Sheet::LETTER,
            Self::A4 => Sheet::A4,
        }
    }
}

/// An answer that is saved under a name, and kept by nobody on the way.
pub fn saved_as(media_type: &str, name: &str) -> HttpResponseBuilder {
    let mut answer = HttpResponse::Ok();
    answer
        .content_type(media_type)
        .insert_header((CACHE_CONTROL, "no-store"))
        // It is compressed already.
        .insert_header((CONTENT_ENCODING, "identity"))
        .insert_header((CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")));
    answer
}

/// A page with its one style and nothing from elsewhere. `made` is given the number of the style.
pub fn shown(made: impl FnOnce(&str) -> String) -> HttpResponse {
    let nonce = format!("{:032x}", rand::random::<u128>());
    let policy = format!(
        "default-src 'none'; style-src 'nonce-{nonce}'; base-uri 'none'; form-action 'none'; \
         frame-ancestors 'none'"
    );
    HttpResponse::Ok()
        .insert_header((CONTENT_SECURITY_POLICY, policy))
        .insert_header((CACHE_CONTROL, "no-store"))
        .content_type("text/html; charset=utf-8")
        .body(made(&nonce))
}
