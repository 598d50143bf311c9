//! What a caller may use up: requests in a time, time for a request, room for its head.
//!
//! The order, from the outside: the head is looked at by [`head`], requests are counted by [`rate`],
//! and what is let through has its time by [`time`]. The room for a body is bounded where it is read
//! ([`crate::http::body`]), what stands in it by [`crate::http::strict::reader`].

mod caller;
mod describe;
pub mod head;
pub mod negotiation;
mod outside;
pub mod rate;
pub mod slow_body;
pub mod time;

pub use caller::SIGN_INS;
pub use describe::describe;
