//! A season as a workbook: one sheet a subject, typed cells, units in the heads.

mod filled;
mod plain;
mod summary;

use domain::season::report::SeasonReport;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, XlsxError};
use sea_orm::DatabaseConnection;

use self::filled::{Page, Value};
use super::page::title;
use super::tables::{Row, Source, Walk};
use super::words::In;
use crate::http::ApiError;
use crate::season::gather::Of;

/// Digs and other rows of a kind that fit; a data package holds all of them.
const MOST_ROWS: usize = 20_000;

/// Sheets of rows, and what each is called.
const ROWS: [(Source, &str); 4] = [
    (Source::Fields, "fields"),
    (Source::Digs, "digs"),
    (Source::Adjustments, "adjustments"),
    (Source::Stands, "stands"),
];

/// Rows for the sheets of rows.
pub struct Rows {
    read: Vec<(Source, &'static str, Vec<Row>, bool)>,
}

impl Rows {
    /// Reads them, as many as fit.
    pub async fn read(
        db: &DatabaseConnection,
        of: Of,
        report: &SeasonReport,
    ) -> Result<Self, ApiError> {
        let mut read = Vec::new();
        for (source, name) in ROWS {
            let (mut rows, mut walk, mut cut) = (Vec::new(), Walk::of(source), false);
            while let Some(more) = walk.next(db, of, report).await? {
                rows.extend(more);
                cut = rows.len() > MOST_ROWS;
                if cut {
                    rows.truncate(MOST_ROWS);
                    break;
                }
            }
            read.push((source, name, rows, cut));
        }
        Ok(Self { read })
    }

    /// Names of sheets that don't hold all rows.
    fn cut(&self) -> Vec<&'static str> {
        self.read.iter().filter(|(_, _, _, cut)| *cut).map(|(_, name, _, _)| *name).collect()
    }
}

/// The workbook.
///
/// # Errors
/// When it can't be written.
pub fn workbook(report: &SeasonReport, rows: &Rows, system: In) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let made = report.about.as_of.date_naive().and_hms_opt(0, 0, 0).and_then(|at| {
        let seconds = at.and_utc().timestamp();
        ExcelDateTime::from_timestamp(seconds).ok()
    });
    let mut about =
        DocProperties::new().set_title(title(report)).set_author(&report.about.practice);
    if let Some(made) = made {
        about = about.set_creation_datetime(&made);
    }
    book.set_properties(&about);
    Page::new("read me").fill(&mut book, &[], &summary::read_me(report, &rows.cut()))?;
    Page::new("summary").fill(&mut book, summary::HEADS, &summary::summary(report, system))?;
    for (source, name, rows, _) in &rows.read {
        let table = source.table();
        let heads: Vec<String> = table.columns.iter().map(plain::head).collect();
        let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
        let values: Vec<Vec<Value>> =
            rows.iter().map(|row| row.iter().map(Value::from).collect()).collect();
        Page::new(name).fill(&mut book, &heads, &values)?;
    }
    let trials = plain::trials(report);
    Page::new("trials").fill(&mut book, plain::TRIALS, &trials)?;
    let heads = plain::wear_heads(system);
    let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
    Page::new("wear").fill(&mut book, &heads, &plain::wear(report, system))?;
    Page::new("shed list").fill(&mut book, plain::SHED, &plain::shed(report))?;
    book.save_to_buffer()
}
