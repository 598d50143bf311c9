//! `/v1/sessions`: signing in.

mod create;
pub mod dto;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(create::create);
}
