//! `/v1/accounts`: who is in the practice, the account that is signed in, and its password.

mod change_password;
mod create;
pub mod dto;
mod get;
mod get_me;
mod list;
pub mod password_links;
pub mod patch;
pub mod store;
mod update;
mod update_me;

use crate::operations::Operations;

/// The operations of this folder. What is under `me` comes before what is under an id.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(get_me::get_me)
        .service(update_me::update_me)
        .service(change_password::change_password)
        .service(list::list)
        .service(create::create)
        .service(get::get)
        .service(update::update);
    password_links::routes(operations);
}
