//! `/v1/fields/{id}/timeline`: what happened in a field in a season, in order.
//!
//! `moments` reads the times alone, so that a page can be cut from a whole season at little cost;
//! `entries` then reads the rows of that page and `summary` puts them in words.

mod cursor;
pub mod dto;
mod entries;
mod get;
mod moments;
mod shed;
mod sheets;
mod stands;
mod summary;
mod trials;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get::get);
}
