//! Support for the black-box tests: a real server on a free port, a database of its own, users.
//!
//! A test starts with `TestApp::start().await` and talks to the service as `app.lead`,
//! `app.advisor`, `app.grower`, `app.read_only`, or `app.stranger` of another practice. With
//! `DIBBLE_TEST_ENGINE=postgres` and `DIBBLE_TEST_POSTGRES_URL=postgres://user@host:port` each app
//! gets a fresh database on that cluster, else a SQLite file.

mod answer;
mod app;
mod database;
mod sample;
pub mod tls;
mod user;

pub use answer::Answer;
pub use app::{NOON, PASSWORD, TestApp};
pub use database::TestDatabase;
pub use sample::{CATALOGUE, Farmstead};
pub use user::User;
