//! Notices of changes, sent to the addresses that webhooks name (Standard Webhooks 1.0.0).
//!
//! A commit wakes the [`Dispatcher`] of its process. It takes a lease on each webhook that has something to do and
//! works at it in a `round` of its own, so that a receiver that is slow or down costs the others nothing:
//!
//! 1. what changed after `read_to` becomes rows of `deliveries`, in the transaction that moves `read_to` on: each change
//!    once, none left out;
//! 2. what is due is sent, [`PARALLEL`] at a time, or one after the other where the webhook is ordered;
//! 3. what came of it is stored for many at once.
//!
//! - One process works at a webhook. One that dies leaves its lease behind; when that ends, another goes on. So each
//!   notice arrives **at least once**, under the same `webhook-id`.
//! - What fails is tried again by [`schedule`], then it is dead; it stays, and can be sent again.
//! - When a whole round fails, the webhook is held for a while, and what was not tried loses no try.
//! - A notice holds ids, never what they stand for: whoever is told reads the object by its own token.

mod dispatcher;
mod due;
mod fan_out;
mod lease;
mod message;
mod outcome;
mod record;
mod round;
pub mod schedule;
mod send;
pub mod signature;
mod sweep;

pub use dispatcher::Dispatcher;
pub use lease::LEASE;
pub use message::message_id;
pub use round::{PARALLEL, deliver_all_due};
