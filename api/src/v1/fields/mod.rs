//! `/v1/fields`: the fields of a farm, with a boundary, an entered area, or both.

mod boundary;
mod create;
mod delete;
pub mod dto;
mod get;
mod list;
pub mod store;
pub mod texture;
mod update;

use utoipa_actix_web::service_config::ServiceConfig;

pub use boundary::{Boundary, Position};
pub use texture::TextureClass;

/// The operations of this folder.
pub fn routes(config: &mut ServiceConfig<'_>) {
    config
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(update::update)
        .service(delete::delete);
}
