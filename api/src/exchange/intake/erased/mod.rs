//! Growers who were erased here and whom their records system sends on.
//!
//! Of what it called them, and all that was theirs, hashes are kept ([`marks`]). A record with such a
//! hash, and what hangs below it, waits for a person, and nothing that it says is kept while it waits.
//! Who says that it is new lets it come again ([`lift`]): it is made when it is sent next.

mod below;
mod lift;
mod marks;

pub use below::below;
pub(super) use lift::lift;
pub(super) use marks::Marks;
pub use marks::{Named, keep_marks};
