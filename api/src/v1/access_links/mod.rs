//! `/v1/access-links`: links that let a grower in without a password.

mod create;
mod delete;
pub mod dto;
mod get;
mod list;
mod redeem;
pub mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(redeem::redeem)
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(delete::delete);
}
