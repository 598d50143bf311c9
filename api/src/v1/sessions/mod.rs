//! `/v1/sessions`: signing in.

mod create;
pub mod dto;

use utoipa_actix_web::service_config::ServiceConfig;

/// The operations of this folder.
pub fn routes(config: &mut ServiceConfig<'_>) {
    config.service(create::create);
}
