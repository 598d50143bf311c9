//! What can stop the demo.

use crate::app::StartError;
use crate::http::ApiError;

/// Why the demo stopped.
#[derive(Debug, thiserror::Error)]
pub enum DemoError {
    /// The service did not start.
    #[error(transparent)]
    Start(#[from] StartError),
    /// The database could not be made ready.
    #[error("the demo's database {path:?} could not be made ready")]
    Files {
        /// The file.
        path: std::path::PathBuf,
        /// What the operating system said.
        source: std::io::Error,
    },
    /// An account could not be made.
    #[error("an account could not be made")]
    Account(#[from] ApiError),
    /// A request did not come through.
    #[error("the request did not come through")]
    Http(#[from] reqwest::Error),
    /// The service answered otherwise than the demo needs.
    #[error("{request} answered {status}: {detail}")]
    Refused {
        /// Method and path.
        request: String,
        /// The status.
        status: u16,
        /// What the answer says.
        detail: String,
    },
    /// An answer lacks something that the demo needs.
    #[error("an answer lacks {pointer}")]
    Missing {
        /// JSON Pointer.
        pointer: String,
    },
    /// The terminal could not be written to.
    #[error("the terminal could not be written to")]
    Terminal(#[from] std::io::Error),
}

/// Most steps of the demo can stop it.
pub(super) type Result<T> = std::result::Result<T, DemoError>;
