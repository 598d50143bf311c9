//! `/v1/imports`: growers, farms, fields, planters and yields from files.
//!
//! A file is read (`upload`, `exchange::files`), planned row by row and taken as a whole or not at all
//! (`take`).

pub mod dto;
mod import_csv;
mod import_geojson;
mod import_task_data;
mod take;
mod upload;

use crate::operations::Operations;

/// The operations of this folder.
pub fn routes(operations: &mut Operations<'_>) {
    operations
        .service(import_csv::import)
        .service(import_geojson::import)
        .service(import_task_data::import);
}
