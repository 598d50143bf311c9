//! `/v1/sessions`: signing in, staying signed in, signing out.

mod create;
pub mod dto;
mod end;
mod end_present;
mod get;
mod list;
mod refresh;
mod store;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(create::create)
        .service(refresh::refresh)
        .service(list::list)
        .service(end_present::end_present)
        .service(get::get)
        .service(end::end);
}
