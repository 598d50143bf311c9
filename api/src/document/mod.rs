//! What is done to the API document once every operation is in it.

pub mod access;
mod links;
mod security;

use utoipa::openapi::OpenApi;
use utoipa::openapi::path::{Operation, PathItem};

pub use links::link;
pub use security::open_to_all;

/// The operations of a path.
fn operations(item: &PathItem) -> impl Iterator<Item = &Operation> {
    let PathItem { get, post, put, patch, delete, .. } = item;
    [get, post, put, patch, delete].into_iter().flatten()
}

/// Every operation of the document.
pub fn operations_mut(document: &mut OpenApi) -> impl Iterator<Item = &mut Operation> {
    document.paths.paths.values_mut().flat_map(|item| {
        let PathItem { get, post, put, patch, delete, .. } = item;
        [get, post, put, patch, delete].into_iter().flatten()
    })
}
