//! The season as tables: what each column is, and how its rows are read, a few hundred at a time.
//!
//! The data package, the workbook and the export without names all come from here.

mod cell;
mod column;
mod list;
mod read;
mod sections;

use domain::season::report::SeasonReport;
use sea_orm::DatabaseConnection;
use uuid::Uuid;

pub use self::cell::{Cell, plain};
pub use self::column::{Anonymous, Column, Holds, Table};
pub(crate) use self::read::{dug_in_season, sheets_of_season};
use crate::http::ApiError;
use crate::season::gather::Of;

/// A row: a cell for each column.
pub type Row = Vec<Cell>;

/// Rows that are read at once, and all that is held of a table in memory.
pub const AT_ONCE: u64 = 500;

/// Where the rows of a table come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// Growers.
    Growers,
    /// Planters.
    Planters,
    /// Fields.
    Fields,
    /// Revisions of settings sheets.
    Sheets,
    /// Digs.
    Digs,
    /// Adjustments.
    Adjustments,
    /// Plantings.
    Plantings,
    /// Stands, a section of the report.
    Stands,
    /// Effects of trials, a section of the report.
    Effects,
    /// Wear, a section of the report.
    Wear,
}

/// Every source, in the order in which rows refer to each other.
pub const SOURCES: [Source; 10] = [
    Source::Growers,
    Source::Planters,
    Source::Fields,
    Source::Sheets,
    Source::Digs,
    Source::Adjustments,
    Source::Plantings,
    Source::Stands,
    Source::Effects,
    Source::Wear,
];

/// The sources of one settings sheet: what the sheet refers to, and what refers to it.
pub const SOURCES_OF_SHEET: [Source; 7] = [
    Source::Growers,
    Source::Planters,
    Source::Fields,
    Source::Sheets,
    Source::Digs,
    Source::Adjustments,
    Source::Plantings,
];

impl Source {
    /// The table.
    pub fn table(self) -> Table {
        match self {
            Self::Growers => list::GROWERS,
            Self::Planters => list::PLANTERS,
            Self::Fields => list::FIELDS,
            Self::Sheets => list::SHEETS,
            Self::Digs => list::DIGS,
            Self::Adjustments => list::ADJUSTMENTS,
            Self::Plantings => list::PLANTINGS,
            Self::Stands => list::STANDS,
            Self::Effects => list::EFFECTS,
            Self::Wear => list::WEAR,
        }
    }
}

/// A walk through the rows of a table.
#[derive(Debug)]
pub struct Walk {
    source: Source,
    /// The last row that was read.
    after: Uuid,
    done: bool,
}

impl Walk {
    /// From the first row.
    pub fn of(source: Source) -> Self {
        Self { source, after: Uuid::nil(), done: false }
    }

    /// The next rows, none when there are no more. What came after the report was read is not among
    /// them, so that no row refers to one that was not there yet.
    pub async fn next(
        &mut self,
        db: &DatabaseConnection,
        of: Of,
        report: &SeasonReport,
    ) -> Result<Option<Vec<Row>>, ApiError> {
        if self.done {
            return Ok(None);
        }
        let rows = match self.source {
            Source::Growers => read::growers(db, of, self.after).await?,
            Source::Planters => read::planters(db, of, self.after).await?,
            Source::Fields => read::fields(db, of, self.after).await?,
            Source::Sheets => read::sheets(db, of, self.after).await?,
            Source::Digs => read::digs(db, of, self.after).await?,
            Source::Adjustments => read::adjustments(db, of, self.after).await?,
            Source::Plantings => read::plantings(db, of, self.after).await?,
            Source::Stands => return Ok(self.whole(sections::stands(&report.stands))),
            Source::Effects => return Ok(self.whole(sections::effects(&report.trials))),
            Source::Wear => return Ok(self.whole(sections::wear(&report.wear))),
        };
        match rows.last() {
            Some((last, _)) => self.after = *last,
            None => self.done = true,
        }
        self.done |= u64::try_from(rows.len()).unwrap_or(u64::MAX) < AT_ONCE;
        Ok((!rows.is_empty()).then(|| rows.into_iter().map(|(_, row)| row).collect()))
    }

    /// A section of the report is there at once.
    fn whole(&mut self, rows: Vec<Row>) -> Option<Vec<Row>> {
        self.done = true;
        (!rows.is_empty()).then_some(rows)
    }
}
