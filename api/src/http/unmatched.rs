//! What no operation took: an unknown path, or a known path with another method.

use actix_web::http::Method;
use actix_web::http::header::{ALLOW, HeaderValue};
use actix_web::web::Data;
use actix_web::{HttpRequest, HttpResponse};
use utoipa::openapi::OpenApi;
use utoipa::openapi::path::PathItem;

use super::error::ApiError;
use super::problem::ProblemCode;
use crate::app::AppState;

/// Which methods each path takes, read from the API document, so that it can't differ from it.
#[derive(Debug, Clone, Default)]
pub struct PathTable(Vec<(Vec<Segment>, Vec<Method>)>);

#[derive(Debug, Clone, PartialEq, Eq)]
enum Segment {
    Fixed(String),
    Any,
}

impl PathTable {
    /// The paths of `document`, and `more` that take `GET` only.
    pub fn of(document: &OpenApi, more: &[&str]) -> Self {
        let documented =
            document.paths.paths.iter().map(|(path, item)| (segments(path), methods(item)));
        let others = more.iter().map(|path| (segments(path), vec![Method::GET, Method::HEAD]));
        Self(documented.chain(others).collect())
    }

    /// The methods that `path` takes; `None` when there is no such path.
    pub fn allowed(&self, path: &str) -> Option<&[Method]> {
        let asked: Vec<&str> = path.trim_start_matches('/').split('/').collect();
        self.0
            .iter()
            .find(|(known, _)| {
                known.len() == asked.len()
                    && known.iter().zip(&asked).all(|(segment, asked)| match segment {
                        Segment::Fixed(name) => name == asked,
                        Segment::Any => !asked.is_empty(),
                    })
            })
            .map(|(_, methods)| methods.as_slice())
    }
}

fn segments(path: &str) -> Vec<Segment> {
    path.trim_start_matches('/')
        .split('/')
        .map(
            |part| {
                if part.starts_with('{') { Segment::Any } else { Segment::Fixed(part.to_owned()) }
            },
        )
        .collect()
}

fn methods(item: &PathItem) -> Vec<Method> {
    let mut methods = Vec::new();
    let mut note = |there: bool, method: Method| {
        if there {
            methods.push(method);
        }
    };
    note(item.get.is_some(), Method::GET);
    note(item.get.is_some(), Method::HEAD);
    note(item.post.is_some(), Method::POST);
    note(item.put.is_some(), Method::PUT);
    note(item.patch.is_some(), Method::PATCH);
    note(item.delete.is_some(), Method::DELETE);
    methods
}

/// Answers what nobody took.
pub async fn unmatched(request: HttpRequest) -> Result<HttpResponse, ApiError> {
    std::future::ready(answer(&request)).await
}

fn answer(request: &HttpRequest) -> Result<HttpResponse, ApiError> {
    let path = request.path();
    let allowed = request.app_data::<Data<AppState>>().and_then(|state| state.paths.allowed(path));
    let Some(methods) = allowed else {
        return Err(ApiError::new(
            ProblemCode::UnknownPath,
            format!("There is nothing at {path}."),
        ));
    };
    let list = methods.iter().map(Method::as_str).collect::<Vec<_>>().join(", ");
    let detail = format!("{path} does not take {}; it takes {list}.", request.method());
    let error = ApiError::new(ProblemCode::MethodNotAllowed, detail);
    Err(match HeaderValue::from_str(&list) {
        Ok(value) => error.with_header(ALLOW, value),
        Err(_) => error,
    })
}

#[cfg(test)]
mod tests {
    use super::{PathTable, Segment, segments};
    use actix_web::http::Method;

    #[test]
    fn a_path_is_found_by_its_segments() {
        let table = PathTable(vec![
            (segments("/v1/growers"), vec![Method::GET, Method::POST]),
            (segments("/v1/growers/{id}"), vec![Method::GET]),
        ]);
        assert_eq!(segments("/v1/{id}"), [Segment::Fixed("v1".into()), Segment::Any]);
        assert_eq!(table.allowed("/v1/growers").map(<[_]>::len), Some(2));
        assert_eq!(table.allowed("/v1/growers/7").map(<[_]>::len), Some(1));
        assert_eq!(table.allowed("/v1/growers/"), None);
        assert_eq!(table.allowed("/v1/growers/7/farms"), None);
        assert_eq!(table.allowed("/"), None);
    }
}
