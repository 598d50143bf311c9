//! `/v1/fields`: the fields of a farm, with a boundary, an entered area, or both.

mod boundary;
mod create;
mod delete;
pub mod dto;
mod features;
mod geojson;
mod get;
mod list;
mod parse;
pub mod resistance;
pub mod store;
pub mod texture;
mod update;

pub use boundary::{Boundary, MOST_POSITIONS, Position};
pub use texture::TextureClass;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(geojson::geojson)
        .service(features::features)
        .service(resistance::get_resistance)
        .service(update::update)
        .service(delete::delete);
}
