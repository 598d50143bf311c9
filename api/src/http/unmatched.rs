//! What no operation took: an unknown path, or a known path with another method.

use actix_web::http::Method;
use actix_web::http::header::{ALLOW, HeaderValue};
use actix_web::web::Data;
use actix_web::{HttpRequest, HttpResponse};
use utoipa::openapi::path::HttpMethod;

use super::error::ApiError;
use super::problem::ProblemCode;
use crate::app::AppState;
use crate::operations::Served;

/// Which methods each path takes, from the one table of routes.
#[derive(Debug, Clone, Default)]
pub struct PathTable(Vec<(Vec<Segment>, Vec<Method>)>);

#[derive(Debug, Clone, PartialEq, Eq)]
enum Segment {
    Fixed(String),
    Any,
}

impl PathTable {
    /// The paths that are served. What answers `GET` answers `HEAD`.
    pub fn of(served: &[Served]) -> Self {
        let mut table: Vec<(Vec<Segment>, Vec<Method>)> = Vec::new();
        for Served { path, methods, operation_id: _ } in served {
            let path = segments(path);
            let methods = methods.iter().flat_map(taken);
            match table.iter_mut().find(|(known, _)| *known == path) {
                Some((_, known)) => known.extend(methods),
                None => table.push((path, methods.collect())),
            }
        }
        for (_, methods) in &mut table {
            methods.sort_by_key(rank);
        }
        let order = [Method::GET, Method::HEAD, Method::POST, Method::PUT, Method::PATCH];
        let place = |method: &Method| order.iter().position(|it| it == method);
        for (_, methods) in &mut table {
            // What is not in the list comes last.
            methods.sort_by_key(|method| place(method).unwrap_or(order.len()));
        }
        Self(table)
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

fn taken(method: &HttpMethod) -> Vec<Method> {
    match method {
        HttpMethod::Get => vec![Method::GET, Method::HEAD],
        HttpMethod::Post => vec![Method::POST],
        HttpMethod::Put => vec![Method::PUT],
        HttpMethod::Patch => vec![Method::PATCH],
        HttpMethod::Delete => vec![Method::DELETE],
        // No operation takes another.
        _ => Vec::new(),
    }
}

/// The order in which methods are listed, whatever the order of the operations.
fn rank(method: &Method) -> usize {
    let order = [Method::GET, Method::HEAD, Method::POST, Method::PUT, Method::PATCH];
    order.iter().position(|known| known == method).unwrap_or(order.len())
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
