//! The `{name}` of a path.

use actix_web::web::Path;
use domain::provenance::{Coefficient, Coefficients};

use crate::http::ApiError;

/// The coefficient that ships under the name of the path.
///
/// # Errors
/// 404 when there is none.
pub(super) fn named(set: &Coefficients, name: &Path<String>) -> Result<Coefficient, ApiError> {
    let found = set.find(name.as_str()).cloned();
    found.ok_or_else(|| ApiError::not_found("coefficient"))
}
