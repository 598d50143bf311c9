//! `/v1/records-links`: connections to records systems whose records are fetched, and the runs that fetch them.

mod create;
mod create_run;
mod delete;
pub mod dto;
mod entered;
mod get;
mod get_run;
mod list;
mod list_runs;
pub mod opened;
pub mod parse;
pub mod store;
mod test;
mod trial;
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
        .service(test::test)
        .service(create_run::create_run)
        .service(list_runs::list_runs)
        .service(get_run::get_run);
}
