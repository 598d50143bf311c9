//! `/v1/accounts/me`: the account that is signed in.

pub mod dto;
mod get_me;
pub mod store;
mod update_me;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(get_me::get_me).service(update_me::update_me);
}
