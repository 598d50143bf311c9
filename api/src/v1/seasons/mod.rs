//! `/v1/seasons`: which seasons there are, and the report of each.

mod adapt;
mod data_package;
pub mod dto;
mod list;
mod print;
mod programme_export;
mod query;
mod report;
mod report_page;
mod report_pdf;
mod workbook;

pub use query::{ReportQuery, season_in_path};

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(list::list)
        .service(report::report)
        .service(report_page::report_page)
        .service(report_pdf::report_pdf)
        .service(workbook::season_workbook)
        .service(data_package::data_package)
        .service(adapt::adapt)
        .service(programme_export::programme_export);
}
