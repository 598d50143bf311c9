//! The zip, piece by piece: a page of rows is read, written and sent before the next is read.

use std::collections::VecDeque;
use std::io::{self, Write};
use std::sync::{Arc, Mutex, PoisonError};

use actix_web::web::{Bytes, Data};
use chrono::SecondsFormat;
use domain::season::report::SeasonReport;
use futures_util::Stream;
use futures_util::stream::try_unfold;
use zip::write::{SimpleFileOptions, StreamWriter};
use zip::{CompressionMethod, ZipWriter};

use super::anonymous::Anonymized;
use super::descriptor::{About, Form, descriptor, file};
use super::readme::readme;
use crate::app::AppState;
use crate::http::ApiError;
use crate::reports::page::title;
use crate::reports::tables::{Cell, Row, SOURCES, SOURCES_OF_SHEET, Source, Walk};
use crate::season::gather::Of;

/// What has been written and not yet sent.
#[derive(Clone, Default)]
struct Unsent(Arc<Mutex<Vec<u8>>>);

impl Unsent {
    fn take(&self) -> Vec<u8> {
        std::mem::take(&mut *self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl Write for Unsent {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A package that is being written.
pub struct Pack {
    app: Data<AppState>,
    of: Of,
    report: SeasonReport,
    without_names: Option<Anonymized>,
    zip: Option<ZipWriter<StreamWriter<Unsent>>>,
    unsent: Unsent,
    waiting: VecDeque<Source>,
    reading: Option<(Source, Walk)>,
    /// Rows of the present table that were written.
    written: i64,
}

impl Pack {
    /// Begins one; without names where it was made ready for that.
    pub fn new(
        app: Data<AppState>,
        of: Of,
        report: SeasonReport,
        without_names: Option<Anonymized>,
    ) -> Self {
        let unsent = Unsent::default();
        Self {
            app,
            of,
            report,
            without_names,
            zip: Some(ZipWriter::new_stream(unsent.clone())),
            unsent,
            waiting: sources(of).iter().copied().collect(),
            reading: None,
            written: 0,
        }
    }

    fn form(&self) -> Form {
        if self.without_names.is_some() { Form::WithoutNames } else { Form::Whole }
    }

    /// Description and guide come first; then the files can be read as they arrive.
    fn begin(&mut self) -> Result<(), ApiError> {
        let form = self.form();
        let (report, season) = (&self.report, self.report.about.season);
        let title = match (form, self.of.sheet_id) {
            (Form::Whole, Some(_)) => format!("A settings sheet of season {season}"),
            (Form::Whole, None) => title(report),
            (Form::WithoutNames, _) => format!("Season {season} without names"),
        };
        let name = match (form, self.of.sheet_id) {
            (Form::Whole, Some(sheet)) => format!("sheet-{sheet}"),
            (Form::Whole, None) => format!("season-{season}"),
            (Form::WithoutNames, _) => format!("season-{season}-without-names"),
        };
        let about = About {
            name,
            title,
            description: format!(
                "{}; {}.",
                report.about.so_far.words, "README.txt says how to read it"
            ),
            created: report.about.as_of.to_rfc3339_opts(SecondsFormat::Secs, true),
        };
        let described = serde_json::to_vec_pretty(&descriptor(&about, sources(self.of), form))
            .map_err(ApiError::internal)?;
        let guide = readme(report, &about.title, form);
        self.file("datapackage.json", &described)?;
        self.file("README.txt", guide.as_bytes())
    }

    fn file(&mut self, name: &str, content: &[u8]) -> Result<(), ApiError> {
        self.open(name)?;
        self.zip()?.write_all(content).map_err(ApiError::internal)
    }

    fn open(&mut self, name: &str) -> Result<(), ApiError> {
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            // A season may grow beyond what the old form can count.
            .large_file(true);
        self.zip()?.start_file(name, options).map_err(ApiError::internal)
    }

    fn zip(&mut self) -> Result<&mut ZipWriter<StreamWriter<Unsent>>, ApiError> {
        self.zip.as_mut().ok_or_else(|| ApiError::internal("the package is closed"))
    }

    /// Some more bytes; none at the end.
    async fn more(mut self) -> Result<Option<(Bytes, Self)>, ApiError> {
        while self.zip.is_some() {
            self.step().await?;
            let bytes = self.unsent.take();
            if !bytes.is_empty() {
                return Ok(Some((bytes.into(), self)));
            }
        }
        Ok(None)
    }

    /// Opens the next file, or writes a page of rows, or closes the package.
    async fn step(&mut self) -> Result<(), ApiError> {
        if let Some((source, mut walk)) = self.reading.take() {
            if let Some(rows) = walk.next(&self.app.db, self.of, &self.report).await? {
                self.write(source, rows)?;
                self.reading = Some((source, walk));
            }
            return Ok(());
        }
        let Some(source) = self.waiting.pop_front() else {
            let zip = self.zip.take().ok_or_else(|| ApiError::internal("the package is closed"))?;
            zip.finish().map_err(ApiError::internal)?;
            return Ok(());
        };
        let (table, form) = (source.table(), self.form());
        self.open(&file(&table))?;
        let names: Vec<String> =
            form.columns(&table).map(|(_, column)| form.name(column)).collect();
        self.lines(|lines| lines.write_record(&names))?;
        self.written = 0;
        self.reading = Some((source, Walk::of(source)));
        Ok(())
    }

    fn write(&mut self, source: Source, rows: Vec<Row>) -> Result<(), ApiError> {
        let rows = match &self.without_names {
            Some(without) => without.rows(source, rows, &mut self.written),
            None => rows,
        };
        let table = source.table();
        let kept: Vec<usize> = self.form().columns(&table).map(|(at, _)| at).collect();
        self.lines(|lines| {
            for row in &rows {
                let cells = kept.iter().map(|at| row.get(*at).map(Cell::csv).unwrap_or_default());
                lines.write_record(cells)?;
            }
            Ok(())
        })
    }

    /// Lines of CSV into the open file.
    fn lines(
        &mut self,
        write: impl FnOnce(&mut csv::Writer<Vec<u8>>) -> csv::Result<()>,
    ) -> Result<(), ApiError> {
        let mut lines =
            csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        write(&mut lines).map_err(ApiError::internal)?;
        let bytes = lines.into_inner().map_err(ApiError::internal)?;
        self.zip()?.write_all(&bytes).map_err(ApiError::internal)
    }
}

/// The tables of a package.
fn sources(of: Of) -> &'static [Source] {
    if of.sheet_id.is_some() { &SOURCES_OF_SHEET } else { &SOURCES }
}

/// The bytes of a package. What can fail before the first of them fails here.
pub async fn packed(
    mut pack: Pack,
) -> Result<impl Stream<Item = Result<Bytes, ApiError>>, ApiError> {
    pack.begin()?;
    // The first rows before the status, so that a database that fails is said in the usual form.
    pack.step().await?;
    pack.step().await?;
    Ok(try_unfold(pack, Pack::more))
}
