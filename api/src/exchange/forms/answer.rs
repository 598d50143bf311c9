//! Answers that are one whole form: a name, a strong tag of the content, `304` for who has it.

use actix_web::http::header::{
    CACHE_CONTROL, CONTENT_DISPOSITION, CONTENT_ENCODING, ETAG, EntityTag, Header, IF_NONE_MATCH,
    IfNoneMatch,
};
use actix_web::{HttpRequest, HttpResponse};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use sha2::{Digest, Sha256};

/// What a form is answered as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Media {
    /// The media type.
    pub name: &'static str,
    /// Whether it is compressed in itself.
    pub packed: bool,
}

/// An ADAPT data set.
pub const ADAPT: Media = Media { name: "application/json", packed: false };
/// GeoJSON.
pub const GEOJSON: Media = Media { name: "application/geo+json", packed: false };
/// A zip.
pub const ZIP: Media = Media { name: "application/zip", packed: true };

/// A form that is made at once. The file name is made of our ids and words only, so it needs no quoting.
pub fn whole(request: &HttpRequest, media: Media, name: &str, content: Vec<u8>) -> HttpResponse {
    let tag = EntityTag::new_strong(URL_SAFE_NO_PAD.encode(Sha256::digest(&content)));
    let known = request.headers().contains_key(IF_NONE_MATCH)
        && match IfNoneMatch::parse(request) {
            Ok(IfNoneMatch::Any) => true,
            Ok(IfNoneMatch::Items(tags)) => tags.iter().any(|it| it.weak_eq(&tag)),
            Err(_) => false,
        };
    let mut answer = if known { HttpResponse::NotModified() } else { HttpResponse::Ok() };
    answer.insert_header((ETAG, tag.to_string()));
    // Who keeps it asks again before using it: what it says may change.
    answer.insert_header((CACHE_CONTROL, "private, no-cache"));
    if known {
        return answer.finish();
    }
    if media.packed {
        answer.insert_header((CONTENT_ENCODING, "identity"));
    }
    answer
        .content_type(media.name)
        .insert_header((CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")))
        .body(content)
}

/// A form that is sent while it is read.
pub fn streamed(
    media: Media,
    name: &str,
    content: impl futures_util::Stream<Item = Result<actix_web::web::Bytes, crate::http::ApiError>>
    + 'static,
) -> HttpResponse {
    HttpResponse::Ok()
        .content_type(media.name)
        .insert_header((CACHE_CONTROL, "no-store"))
        .insert_header((CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")))
        .streaming(content)
}
