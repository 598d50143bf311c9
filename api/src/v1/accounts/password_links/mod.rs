//! `/v1/accounts/{id}/password-links` and `/v1/password-links`: links that set a password.

mod create;
pub mod dto;
mod redeem;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(create::create).service(redeem::redeem);
}
