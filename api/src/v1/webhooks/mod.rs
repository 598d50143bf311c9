//! `/v1/webhooks`: where notices of changes go. What is sent, and when, stands in [`crate::notices`].

mod create;
mod delete;
pub mod deliveries;
pub mod dto;
mod get;
mod list;
mod pause;
mod replay;
mod replay_dead;
mod resume;
mod rotate;
mod store;
mod test;
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
        .service(rotate::rotate)
        .service(test::test)
        .service(pause::pause)
        .service(resume::resume)
        .service(replay::replay)
        .service(replay_dead::replay_dead);
    deliveries::routes(operations);
}
