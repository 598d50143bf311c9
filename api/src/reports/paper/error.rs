//! Why a page can't be printed. None of it is the caller's fault.

use thiserror::Error;

/// Why a page can't be printed.
#[derive(Debug, Error)]
pub enum PaperError {
    /// A face that comes with the binary can't be read.
    #[error("the letters can't be read: {0}")]
    Face(String),
    /// The page is no well-formed markup.
    #[error("the page is not well formed: {0}")]
    Markup(#[from] roxmltree::Error),
    /// The document doesn't hold what the standard asks.
    #[error("the document can't be written: {0}")]
    Document(String),
}
