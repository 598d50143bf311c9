//! `/oauth/token`: access tokens for machine clients (RFC 6749, section 4.4), and where they are got
//! (RFC 8414).

mod authenticate;
pub mod dto;
mod error;
mod form;
mod metadata;
mod token;

use crate::operations::Operations;

/// The operations of this folder; their paths have no version, as the standards ask.
pub fn routes(operations: &mut Operations<'_>) {
    operations.service(token::issue).service(metadata::get);
}
