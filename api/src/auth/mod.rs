//! Who is calling, and what they may do.
//!
//! A handler with a [`Caller<P>`](caller::Caller) argument can only be called with permission `P`.
//! Its [`Scope`] is what every query starts from: the practice, and for a grower only his own.

pub mod accounts;
pub mod caller;
pub mod keys;
pub mod password;
pub mod permission;
pub mod role;
pub mod scope;
pub mod throttle;
pub mod token;

pub use caller::Caller;
pub use permission::{CanAcknowledge, CanAdvise, CanDig, CanRead};
pub use scope::Scope;
