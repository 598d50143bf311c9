//! What is mailed to whom: the digest of an account, sheets for a grower, links that are asked for.

pub mod dto;
mod get_grower;
mod get_own;
mod send_access_link;
mod send_password_link;
mod set_grower;
mod set_own;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(get_own::get_own)
        .service(set_own::set_own)
        .service(get_grower::get_grower)
        .service(set_grower::set_grower)
        .service(send_password_link::send_password_link)
        .service(send_access_link::send_access_link);
}
