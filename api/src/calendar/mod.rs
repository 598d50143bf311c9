//! `/calendar/{secret}.ics`: what is due, for a calendar program (RFC 5545).
//!
//! Calendar programs can't sign in, so the address is the secret. It shows what its account sees at
//! the moment: an account that is shut out, or a feed that was revoked, is not found.

mod events;
mod file;
mod get;
mod kept;

pub(crate) use get::show;
