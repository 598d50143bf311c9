//! Work that follows a change: a row in the transaction of the change, drained by workers.
//!
//! [`enqueue`] stores a job with whatever else the transaction does: both are there afterwards, or
//! neither. A [worker](Jobs) takes a lease on a job, lets the handler of its [kind](Task) work,
//! and marks it done. A worker that dies leaves its lease behind; when that ends, the job is taken up
//! again. So each job is done **at least once**, and a handler must be safe to repeat.
//!
//! - No two workers hold a lease on one job: PostgreSQL locks the rows and skips locked ones, SQLite
//!   has one writer.
//! - A handler has less time than its lease, so that it never goes on beside the next one.
//! - What fails is tried again after a while that doubles, with some randomness, [`MOST_ATTEMPTS`]
//!   times. Then, or at once where trying again is no use, it is dead: it stays, the lead sees it in
//!   the attention list and under `/v1/jobs`, and can have it tried again.
//! - Each process works at [`PLACES`] jobs at a time; one that fails or is slow holds up no other.
//! - A payload holds ids, never what they stand for: no names, addresses or secrets.

mod backoff;
mod finish;
mod lease;
mod queue;
mod task;
mod work;
mod worker;

pub use finish::{fail, finish};
pub use lease::{LEASE, Leased, MOST_ATTEMPTS, any_due, lease};
pub use queue::{NewJob, enqueue};
pub use task::Task;
pub use work::{Failure, carry_out};
pub use worker::{Jobs, PLACES, attend};
