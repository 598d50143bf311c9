//! `/v1/machine-clients`: programs that sign in with a secret of their own.

mod create;
mod create_secret;
mod delete;
mod delete_secret;
pub mod dto;
mod get;
mod list;
mod list_secrets;
pub mod scopes;
pub mod secrets;
pub mod store;
mod update;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(list::list)
        .service(get::get)
        .service(update::update)
        .service(delete::delete)
        .service(create_secret::create_secret)
        .service(list_secrets::list_secrets)
        .service(delete_secret::delete_secret);
}
