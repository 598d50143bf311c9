//! The id of the operation that a request is for, from the one table of routes.

use std::collections::HashMap;

use actix_web::HttpRequest;
use actix_web::http::Method;
use utoipa::openapi::path::HttpMethod;

use crate::http::ApiError;
use crate::operations::Served;

/// The ids of the operations that can write or leave a trace, by path and method.
#[derive(Debug, Clone, Default)]
pub struct OperationNames(HashMap<String, Vec<(Method, String)>>);

impl OperationNames {
    /// Of the paths that are served.
    pub fn of(served: &[Served]) -> Self {
        let mut names: HashMap<String, Vec<(Method, String)>> = HashMap::new();
        for Served { path, methods, operation_id } in served {
            for method in methods.iter().filter_map(writing) {
                names.entry(path.clone()).or_default().push((method, operation_id.clone()));
            }
        }
        Self(names)
    }

    /// The operation of a request.
    ///
    /// # Errors
    /// A fault on our side when there is none.
    pub(super) fn find(&self, request: &HttpRequest) -> Result<&str, ApiError> {
        let pattern = request.match_pattern().unwrap_or_default();
        let of_path = self.0.get(&pattern).map(Vec::as_slice).unwrap_or_default();
        let found = of_path.iter().find(|(method, _)| method == request.method());
        found.map(|(_, name)| name.as_str()).ok_or_else(|| {
            ApiError::internal(format!("{} {pattern} is no operation", request.method()))
        })
    }
}

fn writing(method: &HttpMethod) -> Option<Method> {
    match method {
        // Some readings leave a trace too: the export of a grower.
        HttpMethod::Get => Some(Method::GET),
        HttpMethod::Post => Some(Method::POST),
        HttpMethod::Put => Some(Method::PUT),
        HttpMethod::Patch => Some(Method::PATCH),
        HttpMethod::Delete => Some(Method::DELETE),
        _ => None,
    }
}
