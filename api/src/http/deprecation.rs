//! Operations that will go: one table, from which the headers of their answers and the words in the API
//! document both come.
//!
//! A caller sees `Deprecation` (RFC 9745), `Sunset` (RFC 8594) and `Link` in every answer, errors too.

use std::time::{Duration, UNIX_EPOCH};

use actix_web::Error;
use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{HeaderName, HeaderValue, HttpDate, LINK};
use actix_web::middleware::Next;
use actix_web::web::Data;
use utoipa::openapi::header::{Header, HeaderBuilder};
use utoipa::openapi::path::{Operation, PathItem};
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{Deprecated, OpenApi, RefOr};

/// An operation that will go.
#[derive(Debug, Clone, Copy)]
pub struct Going {
    /// Its method.
    pub method: &'static str,
    /// Its path, as in the API document.
    pub path: &'static str,
    /// Since when nothing new should use it, in seconds since 1970.
    pub deprecated: u64,
    /// From when on it may be gone, in seconds since 1970.
    pub sunset: u64,
    /// The path of what to use instead.
    pub successor: Option<&'static str>,
}

/// Every operation that will go. How long a row has to stand here is said in `openapi/VERSIONS.md`.
pub const GOING: &[Going] = &[];

/// The shortest time between `deprecated` and `sunset`: a planting season, and the winter before it.
const NOTICE: u64 = 365 * 24 * 60 * 60;

/// Tells callers of operations that will go. The table is in the data of the app.
pub async fn announce<B: MessageBody>(
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<B>, Error> {
    let mut answer = next.call(request).await?;
    let asked = answer.request();
    let table = asked.app_data::<Data<&[Going]>>().map_or(GOING, |table| table.get_ref());
    let path = asked.match_pattern().unwrap_or_default();
    let found = table.iter().find(|row| row.method == asked.method().as_str() && row.path == path);
    if let Some(going) = found {
        for (name, value) in going.headers() {
            if let Ok(value) = HeaderValue::try_from(value) {
                answer.headers_mut().append(name, value);
            }
        }
    }
    Ok(answer)
}

/// Marks the operations in the document.
pub fn mark(document: &mut OpenApi, table: &[Going]) {
    for going in table {
        if let Some(operation) = operation_of(document, going) {
            going.mark(operation);
        }
    }
}

/// What is wrong with a table: rows that mean no operation, or leave too little time.
pub fn faults(document: &mut OpenApi, table: &[Going]) -> Vec<String> {
    let mut faults = Vec::new();
    for going in table {
        let at = format!("{} {}", going.method, going.path);
        if operation_of(document, going).is_none() {
            faults.push(format!("{at}: there is no such operation"));
        }
        if going.sunset < going.deprecated.saturating_add(NOTICE) {
            faults.push(format!("{at}: less than a year from deprecation to sunset"));
        }
    }
    faults
}

fn operation_of<'a>(document: &'a mut OpenApi, going: &Going) -> Option<&'a mut Operation> {
    let PathItem { get, post, put, patch, delete, .. } =
        document.paths.paths.get_mut(going.path)?;
    match going.method {
        "GET" => get.as_mut(),
        "POST" => post.as_mut(),
        "PUT" => put.as_mut(),
        "PATCH" => patch.as_mut(),
        "DELETE" => delete.as_mut(),
        _ => None,
    }
}

impl Going {
    fn sunset(&self) -> String {
        HttpDate::from(UNIX_EPOCH + Duration::from_secs(self.sunset)).to_string()
    }

    fn headers(&self) -> [(HeaderName, String); 3] {
        let successor = self.successor.map(|path| format!(", <{path}>; rel=\"successor-version\""));
        let words = "</docs/>; rel=\"deprecation\"; type=\"text/html\"";
        [
            (HeaderName::from_static("deprecation"), format!("@{}", self.deprecated)),
            (HeaderName::from_static("sunset"), self.sunset()),
            (LINK, format!("{words}{}", successor.unwrap_or_default())),
        ]
    }

    fn mark(&self, operation: &mut Operation) {
        operation.deprecated = Some(Deprecated::True);
        let instead = self.successor.map(|path| format!(" Use `{path}` instead."));
        let (sunset, instead) = (self.sunset(), instead.unwrap_or_default());
        let before = operation.description.take().unwrap_or_default();
        let words = format!("{before}\n\nDeprecated; may be gone from {sunset} on.{instead}");
        operation.description = Some(words);
        for response in operation.responses.responses.values_mut() {
            let RefOr::T(response) = response else { continue };
            for (name, said) in [
                ("Deprecation", "Since when nothing new should use this operation (RFC 9745)."),
                ("Sunset", "From when on this operation may be gone (RFC 8594)."),
            ] {
                response.headers.insert(name.to_owned(), RefOr::T(header(said)));
            }
        }
    }
}

fn header(said: &str) -> Header {
    let text = ObjectBuilder::new().schema_type(Type::String);
    HeaderBuilder::new().schema(Some(text)).description(Some(said)).build()
}

#[cfg(test)]
mod tests {
    use actix_web::middleware::from_fn;
    use actix_web::test::{TestRequest, call_service, init_service};
    use actix_web::web::{self, Data};
    use actix_web::{App, HttpResponse};

    use super::{GOING, Going, announce, faults, mark};
    use crate::routes;

    /// The dates are those of the example in RFC 9745, section 4.
    const MADE_UP: &[Going] = &[Going {
        method: "GET",
        path: "/v1/growers/{id}",
        deprecated: 1_688_169_599,
        sunset: 1_719_791_999,
        successor: Some("/v2/growers/{id}"),
    }];

    #[actix_web::test]
    async fn who_calls_what_will_go_is_told_and_nobody_else() {
        let ok = || web::to(async || HttpResponse::Ok().finish());
        let app = init_service(
            App::new()
                .app_data(Data::new(MADE_UP))
                .service(web::scope("/v1").route("/growers/{id}", ok()).route("/farms/{id}", ok()))
                .wrap(from_fn(announce)),
        )
        .await;
        let ask = async |request: TestRequest| {
            let answer = call_service(&app, request.to_request()).await;
            let header = |name: &str| {
                answer.headers().get(name).map(|it| it.to_str().expect("text").to_owned())
            };
            ["deprecation", "sunset", "link"].map(header)
        };
        let told = ask(TestRequest::get().uri("/v1/growers/7")).await;
        let link = "</docs/>; rel=\"deprecation\"; type=\"text/html\", \
                    </v2/growers/{id}>; rel=\"successor-version\"";
        let expected = ["@1688169599", "Sun, 30 Jun 2024 23:59:59 GMT", link];
        assert_eq!(told, expected.map(|it| Some(it.to_owned())));
        for other in [
            TestRequest::get().uri("/v1/farms/7"),
            TestRequest::delete().uri("/v1/growers/7"),
            TestRequest::get().uri("/v1/unknown"),
        ] {
            assert_eq!(ask(other).await, [None, None, None]);
        }
    }

    #[test]
    fn the_document_says_so_too() {
        let mut document = routes::document();
        mark(&mut document, MADE_UP);
        let document = serde_json::to_value(document).expect("JSON");
        let operations = &document["paths"]["/v1/growers/{id}"];
        assert_eq!(operations["get"]["deprecated"], true);
        let words = operations["get"]["description"].as_str().expect("text");
        assert!(
            words.ends_with("2024 23:59:59 GMT on. Use `/v2/growers/{id}` instead."),
            "{words}"
        );
        for status in ["200", "404"] {
            let headers = &operations["get"]["responses"][status]["headers"];
            assert!(
                headers["Deprecation"].is_object() && headers["Sunset"].is_object(),
                "{status}"
            );
        }
        assert!(operations["patch"].get("deprecated").is_none());
    }

    #[test]
    fn a_row_means_an_operation_and_leaves_a_year() {
        let mut document = routes::document();
        let wrong =
            Going { path: "/v1/growers", method: "DELETE", sunset: 1_700_000_000, ..MADE_UP[0] };
        assert_eq!(faults(&mut document, &[wrong]).len(), 2);
        assert_eq!(faults(&mut document, MADE_UP), Vec::<String>::new());
        assert_eq!(faults(&mut document, GOING), Vec::<String>::new());
    }
}
