//! Sessions: somebody who signed in, on one device, until he signs out or time is up.
//!
//! A session has one refresh token at a time. Each use makes its successor and spends it. A token
//! that was spent and comes again was copied by someone, so the whole session ends (RFC 9700,
//! section 4.14). One case must not look like that: the answer with the successor was lost on the
//! way, and the caller asks again. So within [`GRACE`] the same token gets the same successor again,
//! as long as that one was not used. The successor follows from the token and a salt that only
//! the database has, so there is never more than one that works, and none is kept in clear.
//!
//! An access token names its session, and stops with it.

mod end;
mod open;
mod refresh;
mod still_open;
mod sweep;

use chrono::{DateTime, TimeDelta, Utc};
use uuid::Uuid;

pub use crate::entities::sessions::{WayIn, WayOut};
use crate::http::{ApiError, ProblemCode};

pub use end::{end, end_all_of_account, end_all_of_link};
pub use open::{credentials_still_hold, open};
pub use refresh::{Refreshed, owner, refresh};
pub use still_open::still_open;

/// How long the same refresh token gets the same answer again.
pub const GRACE: TimeDelta = TimeDelta::seconds(60);

/// How somebody signed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SignedInBy {
    /// With a password.
    Password,
    /// With an access link.
    AccessLink(Uuid),
    /// With a token of another issuer.
    Outside,
}

/// A session that was opened or refreshed, with what its owner gets.
#[derive(Debug)]
pub struct OpenedSession {
    /// Its id.
    pub id: Uuid,
    /// The access token.
    pub access_token: String,
    /// Seconds until the access token expires.
    pub expires_in: u32,
    /// The refresh token; it works once.
    pub refresh_token: String,
    /// When the session ends unless it is refreshed.
    pub idle_expires_at: DateTime<Utc>,
    /// When the session ends at the latest.
    pub expires_at: DateTime<Utc>,
}

/// Nothing more is said: whether the token never was, was used, or has expired.
fn ended() -> ApiError {
    ApiError::new(ProblemCode::SessionEnded, ProblemCode::SessionEnded.meaning())
}
