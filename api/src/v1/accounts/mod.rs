//! `/v1/accounts/me`: the account that is signed in.

pub mod dto;
mod get_me;
pub mod store;
mod update_me;

use utoipa_actix_web::service_config::ServiceConfig;

/// The operations of this folder.
pub fn routes(config: &mut ServiceConfig<'_>) {
    config.service(get_me::get_me).service(update_me::update_me);
}
