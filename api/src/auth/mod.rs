//! Who is calling, and what they may do.
//!
//! A handler with a [`Caller<P>`](caller::Caller) argument can only be called with permission `P`.
//! Its [`Scope`] is what every query starts from: the practice, and for a grower only his own.

pub mod accounts;
pub mod caller;
pub mod external;
pub mod keys;
pub mod network;
pub mod no_password;
pub mod password;
pub mod password_links;
pub mod permission;
pub mod role;
pub mod scope;
pub mod secret;
pub mod sessions;
pub mod throttle;
pub mod token;

pub use caller::Caller;
pub use permission::{
    CanAcknowledge, CanAdvise, CanAudit, CanConnect, CanDig, CanKeep, CanManage, CanRead, CanReport,
};
pub use scope::{Scope, Sees};
