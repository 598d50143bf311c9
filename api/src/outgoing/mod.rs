//! Requests to addresses that users of the service name: notices that go out, records that are fetched.
//!
//! Whoever names an address must not be able to make the service speak with what only the service can
//! reach. So [`Outgoing`]
//! - speaks `https` only; plain `http` goes to networks that the operator allows (`DIBBLE_OUTGOING_ALLOW`);
//! - resolves a name itself and checks **every** address it has; the connection goes to one of those, since the
//!   check is the resolver of the client and there is no second look-up;
//! - refuses what is not on the public internet (`addresses`), unless the operator allows it;
//! - trusts the authorities that this computer trusts, and those that the operator adds (`DIBBLE_OUTGOING_CA`);
//! - goes through no proxy, and follows redirects by itself, each checked like the first address;
//! - sends nothing that the caller put in, but a few harmless headers, to another origin than the one asked;
//! - bounds time and bytes: bytes also after they were decompressed, counted as they come in.

mod addresses;
mod answer;
mod authorities;
mod client;
mod error;
mod handshake;
mod names;
mod redirect;
mod request;

pub use addresses::Networks;
pub use answer::OutgoingAnswer;
pub use authorities::{Authorities, AuthoritiesError};
pub use client::Outgoing;
pub use error::OutgoingError;
pub use names::{Names, SystemNames};
pub use request::OutgoingRequest;

#[cfg(test)]
mod tests;
