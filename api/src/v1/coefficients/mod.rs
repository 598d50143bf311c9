//! `/v1/coefficients`, `/v1/units` and `/v1/bounds`: the numbers in force.

mod bounds;
pub mod dto;
mod list;
mod units;

use utoipa_actix_web::service_config::ServiceConfig;

/// The operations of this folder.
pub fn routes(config: &mut ServiceConfig<'_>) {
    config.service(list::list).service(units::units).service(bounds::bounds);
}
