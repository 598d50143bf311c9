//! `POST /v1/imports/geojson`

use actix_web::web::Data;
use actix_web::{HttpRequest, post};

use super::dto::{FieldCollection, FileImport, ImportReport};
use super::take::{FileRead, MOST_RECORDS, take};
use super::upload::GeojsonFile;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::files::geojson;
use crate::http::responses::ImportErrors;
use crate::http::strict::reader;
use crate::http::{ApiError, Query};
use crate::writes::{IdempotencyKey, Write, Written};

/// Most values of a file: a boundary of 100 positions has some 300.
const MOST_VALUES: usize = 2_000_000;

/// Import fields from a GeoJSON file.
///
/// A `FeatureCollection` (RFC 7946): each feature is a field, with its boundary as geometry, your id as
/// `id` or in the properties, and the columns of a CSV file of fields as properties. Positions are
/// longitude first, then latitude, in degrees on WGS 84. What looks like another order or another
/// system, and an area that looks like another unit beside its boundary, is refused with a hint and never
/// turned round. At most 16777216 bytes and 10000 features. Other properties are left aside and named.
///
/// Send it with `dry_run=true` first: the answer says what would become of each field. Without it the
/// file is taken as a whole, or not at all when a field is refused (422, with every place and reason).
/// What is not in the file stays as it is; nothing is deleted. What looks like a field that is there
/// already waits for a person to say so. So does what was erased here, and nothing that the file says
/// of it is kept.
#[utoipa::path(
    tag = "imports", operation_id = "import_geojson", security(("bearer" = ["connect"])),
    params(FileImport, IdempotencyKey),
    request_body(content = FieldCollection, content_type = "application/geo+json",
        description = "The file."),
    responses(
        (status = 200, description = "What became, or would become, of the file.", body = ImportReport),
        ImportErrors,
    ),
)]
#[post("/imports/geojson")]
pub(super) async fn import(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    query: Query<FileImport>,
    request: HttpRequest,
    file: GeojsonFile,
) -> Result<Written<ImportReport>, ApiError> {
    let asked = query.0.parse("import_geojson")?;
    let read = || {
        let document = reader::parse_up_to(file.0.text.as_bytes(), MOST_VALUES)?;
        let records = geojson::fields(&document, MOST_RECORDS)?;
        Ok(FileRead { records, encoding: file.0.encoding, separator: None })
    };
    take(&app, &caller, (write, &request), asked, read).await
}
