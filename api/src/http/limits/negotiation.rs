//! What the caller can read (RFC 9110, section 12.5.1). Each operation answers in one form, and
//! problems come as `application/problem+json`; who can read neither is told so.

use actix_web::Error;
use actix_web::body::{BoxBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{ACCEPT, Accept, CONTENT_TYPE, Header};
use actix_web::middleware::Next;

use crate::http::error::ApiError;
use crate::http::problem::ProblemCode;

/// Asks before what may change something, and after what only reads: only then is the form known.
pub async fn negotiate<B: MessageBody + 'static>(
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<BoxBody>, Error> {
    let Some(wanted) = Wanted::of(&request) else {
        return next.call(request).await.map(ServiceResponse::map_into_boxed_body);
    };
    let reads = request.method().is_safe();
    if !reads && !wanted.takes("application/json") {
        return Err(not_acceptable("application/json").into());
    }
    let answer = next.call(request).await?.map_into_boxed_body();
    let form = answer.headers().get(CONTENT_TYPE).and_then(|form| form.to_str().ok());
    let form = form.map(|form| form.split(';').next().unwrap_or(form).trim().to_owned());
    match form {
        Some(form) if reads && answer.status().is_success() && !wanted.takes(&form) => {
            Ok(answer.error_response(not_acceptable(&form)))
        }
        _ => Ok(answer),
    }
}

fn not_acceptable(form: &str) -> ApiError {
    let detail = format!("This operation answers {form}, which the header `Accept` does not list.");
    ApiError::new(ProblemCode::NotAcceptable, detail)
}

/// What the header `Accept` lists.
#[derive(Debug)]
struct Wanted(Accept);

impl Wanted {
    /// None without a header, or with one that says nothing readable.
    fn of(request: &ServiceRequest) -> Option<Self> {
        if !request.headers().contains_key(ACCEPT) {
            return None;
        }
        let wanted = Accept::parse(request).ok()?;
        (!wanted.is_empty()).then_some(Self(wanted))
    }

    fn takes(&self, form: &str) -> bool {
        self.lists(form) || self.lists("application/problem+json")
    }

    /// The closest entry counts: that of the form itself, else of its kind, else of any.
    fn lists(&self, form: &str) -> bool {
        let (kind, _) = form.split_once('/').unwrap_or((form, ""));
        let ranges = [form.to_owned(), format!("{kind}/*"), "*/*".to_owned()];
        let entry = ranges.iter().find_map(|range| {
            self.0.iter().find(|entry| entry.item.essence_str().eq_ignore_ascii_case(range))
        });
        entry.is_some_and(|entry| entry.quality > actix_web::http::header::q(0.0))
    }
}

#[cfg(test)]
mod tests {
    use super::Wanted;
    use actix_web::test::TestRequest;

    fn takes(accept: &str, form: &str) -> bool {
        let request = TestRequest::default().insert_header(("accept", accept)).to_srv_request();
        Wanted::of(&request).is_none_or(|wanted| wanted.takes(form))
    }

    #[test]
    fn whoever_can_read_the_answer_or_a_problem_gets_one() {
        for accept in [
            "*/*",
            "application/*",
            "application/json",
            "Application/JSON; charset=utf-8",
            "application/problem+json",
            "text/html, application/json;q=0.1",
            "text/html;q=0.9, */*;q=0.1",
            "",
            "nonsense",
        ] {
            assert!(takes(accept, "application/json"), "{accept}");
        }
        assert!(takes("text/*", "text/html"));
    }

    #[test]
    fn whoever_can_read_neither_does_not() {
        for accept in ["text/html", "application/xml, text/*", "*/*;q=0", "application/*;q=0, */*"]
        {
            assert!(!takes(accept, "application/json"), "{accept}");
        }
        assert!(!takes("application/json", "text/html"));
    }
}
