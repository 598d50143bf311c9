//! What every operation shares: errors, extractors, answers.

pub mod answer;
pub mod body;
pub mod boundary;
pub mod cors;
pub mod csv_body;
pub mod cursor;
pub mod deprecation;
pub mod error;
pub mod etag;
pub mod head;
pub mod id;
pub mod limits;
pub mod member;
pub mod page;
pub mod patch;
pub mod prefix;
pub mod problem;
pub mod quantity;
pub mod query;
pub mod request_id;
pub mod responses;
pub mod strict;
pub mod tagged;
pub mod text;
pub mod trace;
pub mod union_tags;
pub mod unmatched;

pub use answer::Answer;
pub use body::Body;
pub use error::ApiError;
pub use etag::{ETag, IfMatch};
pub use id::Id;
pub use member::{BadMember, Refused};
pub use patch::Patch;
pub use problem::ProblemCode;
pub use query::Query;
