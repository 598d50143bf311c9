//! `/v1/webhooks/{id}/deliveries`: what was sent to a webhook, and what came of it.

pub mod dto;
mod get;
mod list;
mod replay;
pub(super) mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub(super) fn routes(operations: &mut Operations<'_>) {
    operations.service(list::list).service(get::get).service(replay::replay);
}
