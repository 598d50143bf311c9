//! The form that a token request is (RFC 6749, sections 3.2 and 4.4.2).

use actix_web::HttpMessage;

use super::dto::TokenRequest;
use super::error::Refusal;

/// Longest form that is worth reading.
pub(super) const LONGEST: usize = 8192;

const TYPE: &str = "application/x-www-form-urlencoded";

/// Reads the form. Each name at most once; a name without a value counts as absent.
pub(super) fn read(request: &impl HttpMessage, body: &[u8]) -> Result<TokenRequest, Refusal> {
    if !request.content_type().eq_ignore_ascii_case(TYPE) {
        return Err(Refusal::InvalidRequest(
            "The body must be a form: application/x-www-form-urlencoded.",
        ));
    }
    if body.len() > LONGEST {
        return Err(Refusal::InvalidRequest("The form is too long."));
    }
    let mut form = Fields::default();
    for (name, value) in form_urlencoded::parse(body) {
        form.take(&name, &value)?;
    }
    let grant_type =
        form.grant_type.ok_or(Refusal::InvalidRequest("The form has no grant_type."))?;
    Ok(TokenRequest {
        grant_type,
        scope: form.scope,
        client_id: form.client_id,
        client_secret: form.client_secret,
    })
}

#[derive(Default)]
struct Fields {
    seen: Vec<String>,
    grant_type: Option<String>,
    scope: Option<String>,
    client_id: Option<String>,
    client_secret: Option<String>,
}

impl Fields {
    fn take(&mut self, name: &str, value: &str) -> Result<(), Refusal> {
        if self.seen.iter().any(|seen| seen == name) {
            return Err(Refusal::InvalidRequest("The form has a name twice."));
        }
        self.seen.push(name.to_owned());
        let place = match name {
            "grant_type" => &mut self.grant_type,
            "scope" => &mut self.scope,
            "client_id" => &mut self.client_id,
            "client_secret" => &mut self.client_secret,
            _ => return Ok(()),
        };
        *place = (!value.is_empty()).then(|| value.to_owned());
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::{TokenRequest, read};
    use actix_web::test::TestRequest;

    fn form(kind: &str, body: &str) -> Option<TokenRequest> {
        let request =
            TestRequest::default().insert_header(("content-type", kind)).to_http_request();
        read(&request, body.as_bytes()).ok()
    }

    #[test]
    fn a_form_is_read_as_the_standard_says() {
        let kind = "application/x-www-form-urlencoded; charset=UTF-8";
        let read = form(kind, "grant_type=client_credentials&scope=read+keep&client_id=&more=1");
        let read = read.expect("valid");
        assert_eq!(read.grant_type, "client_credentials");
        assert_eq!(read.scope.as_deref(), Some("read keep"));
        assert_eq!(read.client_id, None, "a name without a value counts as absent");
    }

    #[test]
    fn a_name_twice_no_grant_type_or_another_type_is_refused() {
        let kind = "application/x-www-form-urlencoded";
        assert!(form(kind, "grant_type=a&grant_type=a").is_none());
        assert!(form(kind, "grant_type=a&more=1&more=2").is_none());
        assert!(form(kind, "scope=read").is_none());
        assert!(form(kind, "grant_type=").is_none());
        assert!(form("application/json", "grant_type=a").is_none());
        assert!(form(kind, &format!("grant_type=a&x={}", "x".repeat(9000))).is_none());
    }
}
