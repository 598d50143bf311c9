//! Runs: everything is fetched, planned, and taken in one transaction.
//!
//! A run is a row. Whoever takes a lease on it works at it and keeps the lease while it lives; what a process that
//! died left behind is begun anew when its lease ends. That is safe: nothing is taken before the one transaction
//! that also ends the run, and that transaction holds only while the lease does.
//!
//! - Of a link one run at most is not finished: the database has an index that says so.
//! - A link that is slow holds up no other work: these workers do nothing else. Of a practice one run at a time is
//!   worked at, so it holds up no other practice either.
//! - Links whose time has come get a run; of several processes one makes it.

mod carry_out;
mod lease;
mod outcome;
mod schedule;
pub mod store;
mod worker;

pub use lease::{LEASE, MOST_ATTEMPTS};
pub use worker::{Runner, work_off};
