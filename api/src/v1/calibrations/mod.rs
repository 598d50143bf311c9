//! `/v1/planters/{id}/calibrations`: down force against pressure, as measured on a planter.

mod create;
pub mod dto;
mod get_newest;
mod list;
pub mod store;

use utoipa_actix_web::service_config::ServiceConfig;

/// The operations of this folder.
pub fn routes(config: &mut ServiceConfig<'_>) {
    config.service(create::create).service(list::list).service(get_newest::get_newest);
}
