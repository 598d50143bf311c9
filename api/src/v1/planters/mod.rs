//! `/v1/planters`: the planters of a grower.

mod create;
mod delete;
pub mod dto;
mod get;
mod list;
pub mod makeup;
mod parse;
pub mod store;
mod update;

use utoipa_actix_web::service_config::ServiceConfig;

pub use makeup::{ClosingPair, CoulterMount, Makeup, RowCleaner};

/// The operations of this folder.
pub fn routes(config: &mut ServiceConfig<'_>) {
    config
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(update::update)
        .service(delete::delete);
}
