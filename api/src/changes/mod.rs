//! What changed, in order, for whoever follows a practice: a records system, a receiver of notices.
//!
//! Each write appends its changes in its own transaction, last before the commit ([`append`]; `Write`
//! does it for every operation, by the table in `tells`). A practice's counter is held from then to
//! the commit, so the order of positions is the order of commits: who has read up to a position has
//! read all that will ever stand before it. Positions have no gaps.
//!
//! ```ignore
//! let mut after = 0;
//! loop {
//!     let page = changes::page(&app.db, &Scope::of_practice(practice_id), after, &[], 200).await?;
//!     // page.changes, each after the one before
//!     after = page.next; // also where a page is empty: nothing up to here was asked for
//!     if !page.more { break }
//! }
//! ```
//!
//! A change says that something is another now, never how: whoever is told reads the object, by
//! [`Change::href`], as its own scope allows. So nothing about a grower stands here but ids.

mod change;
mod read;
mod tells;
mod types;
mod write;

pub use change::{Change, Recorded};
pub use read::{ChangePage, last_position, page, query};
pub use tells::{Tells, of_operation};
pub use types::ChangeType;
pub use write::append;
