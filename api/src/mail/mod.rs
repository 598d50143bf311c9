//! Mail: the attention list as a digest, a sheet that is ready, links that were asked for.
//!
//! A mail is a job: it is made and sent when its turn comes, from what is there then. Secrets in it
//! are made at that moment too, so that none lies in the queue. Each mail goes to one address. It
//! goes out by the server of `DIBBLE_SMTP_URL`, or into a folder as a file where there is none.

pub mod access_link;
pub mod digest;
mod letter;
mod page;
pub mod password_link;
mod post;
pub mod schedule;
pub mod sheet_ready;
pub mod stop;
pub mod wishes;

pub use letter::Letter;
pub use post::{Post, PostError};
