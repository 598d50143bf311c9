//! `/v1/fields/{id}/timeline`: what happened in a field in a season, in order.
//!
//! `moments` reads the times alone, so that a page can be cut from a whole season at little cost;
//! `entries` then reads the rows of that page and `summary` puts them in words.

mod cursor;
pub mod dto;
mod entries;
mod get;
mod moments;
mod sheets;
mod summary;

use utoipa_actix_web::service_config::ServiceConfig;

/// The operations of this folder.
pub fn routes(config: &mut ServiceConfig<'_>) {
    config.service(get::get);
}
