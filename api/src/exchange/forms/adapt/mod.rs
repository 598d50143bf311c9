//! ADAPT Standard 2.0.2 (adaptstandard.org): a catalog of what is there and documents of what was advised,
//! done and found.
//!
//! A settings sheet is a `Recommendation`; a planting a `WorkRecord` that the sheet caused; a dig check and
//! a stand count are a `WorkRecord` of the kind `OBSERVATION_GENERAL` in the context of sheet or planting.
//! Figures are variables with one summary value each, in the unit that the definition fixes. What has no
//! code of the standard has one of ours that begins with `DIBBLE_`, or stands in the notes.

mod catalog;
mod definitions;
mod documents;
mod dto;
mod figures;
mod ids;
mod out;
mod rows;
mod selection;
mod walk;

pub use self::definitions::{DEFINITIONS, Definition};
pub use self::dto::AdaptDataSet;
pub use self::selection::Selection;
pub use self::walk::DataSet;

/// The version of the root schema that data sets follow.
pub const ROOT_SCHEMA: &str = "2.0.2";
