//! Files of records: bytes to text ([`decode`]), text to lines ([`table`]) or GeoJSON to features
//! ([`geojson`]), and these to records for `intake`.
//!
//! What a file may say stands in one table, `columns`: the columns of a CSV file and the properties of a
//! feature are the same. Units stand in the names of columns. A cell that is empty says nothing. Text is
//! kept as it is, also where it begins like a formula; it is on the way out that spreadsheets are
//! guarded against (`reports::tables::cell`).

mod cell;
mod columns;
pub mod decode;
pub mod geojson;
mod record;
pub mod table;

pub use columns::{Decimal, names as column_names};
pub use record::{Records, of_table};
