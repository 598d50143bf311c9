//! Work that a process takes up by itself: one loop for jobs, notices and runs.
//!
//! A [`Work`] says where pieces of work come from and how one is carried out. [`Workers`] look for some when they are
//! [woken](Waker), when a place becomes free, and every few seconds, since a process wakes only its own.
//!
//! - Each piece has one of a few places. One that is slow keeps its own place and no other; one that breaks is logged,
//!   and its lease ends by itself.
//! - What fails while they look (the database is away) is logged and tried at the next look; what is under way goes on.
//! - When the service ends, nothing new is begun. What is under way has some time; then it is dropped, and whoever
//!   finds that its lease ended takes it up.

mod lease;
mod look;
mod places;
mod run;
mod waker;
mod work;

pub use lease::new_lease;
pub use places::Places;
pub use run::Workers;
pub use waker::Waker;
pub use work::Work;

#[cfg(test)]
mod tests;
