//! Why nothing more was fetched: in words, and in a word for programs.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::outgoing::OutgoingError;

/// Why nothing more was fetched. More words may come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = RecordsStopCode, example = "page_repeats")]
pub enum StopCode {
    /// Nobody answered, or not in whole.
    Unreachable,
    /// The address leads to where the service does not go.
    AddressRefused,
    /// We are not let in.
    SignInRefused,
    /// We were told to wait, too long or too often.
    Busy,
    /// The answer has a status that says something went wrong there.
    Status,
    /// The answer is no JSON that can be read.
    NotJson,
    /// The answers are too large, or too many.
    TooLarge,
    /// A page came twice.
    PageRepeats,
    /// The next page is on another host.
    OtherOrigin,
    /// What leads to the next page can't be read.
    Paging,
    /// It took too long.
    TooLong,
    /// The link or its account can't be used any more.
    LinkChanged,
    /// A fault on our side.
    Fault,
}

/// Why nothing more was fetched.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stop {
    /// In a word.
    pub code: StopCode,
    /// In words for people; no secret is in them.
    pub detail: String,
}

impl Stop {
    /// For this reason.
    pub fn new(code: StopCode, detail: impl Into<String>) -> Self {
        Self { code, detail: detail.into() }
    }
}

impl From<OutgoingError> for Stop {
    fn from(error: OutgoingError) -> Self {
        Self::new(code_of(&error), error.to_string())
    }
}

fn code_of(error: &OutgoingError) -> StopCode {
    match error {
        OutgoingError::Address(_)
        | OutgoingError::Plain
        | OutgoingError::Downgrade
        | OutgoingError::NotPublic { .. } => StopCode::AddressRefused,
        OutgoingError::TooLong { .. } => StopCode::TooLarge,
        OutgoingError::Compressed => StopCode::NotJson,
        // An address that is down is down, also behind a redirect.
        OutgoingError::Redirected(error) => code_of(error),
        OutgoingError::UnknownName
        | OutgoingError::Connect
        | OutgoingError::Certificate { .. }
        | OutgoingError::NoTls
        | OutgoingError::Broken
        | OutgoingError::Late { .. }
        | OutgoingError::Redirects { .. }
        | OutgoingError::NoAuthorities => StopCode::Unreachable,
    }
}
