//! A season: what is kept of each dig and each field as they come in, and the report that is read
//! from it.
//!
//! Three tables, from fine to coarse: `season_digs` (what a dig check says, in whole numbers),
//! `season_fields` (what a field behind a planter adds up to) and `season_planters`. A write that
//! changes any of it calls [`keep`], [`keep_sheet`] or [`keep_decision`] at the end of its
//! transaction, so whoever reads afterwards reads it. [`rebuild`] makes all of it from the rows.

mod counting;
mod facts;
pub mod gather;
mod keep;
mod land;
mod recount;
pub mod report;

pub use counting::Counting;
pub use facts::{facts_of, keep_dig};
pub use keep::{Changed, keep, keep_decision, keep_plantings, keep_sheet};
pub use land::Land;
pub use recount::{Rebuilt, behind, fill_in_all, forget, rebuild, recount, recount_grower};
