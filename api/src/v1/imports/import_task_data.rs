//! `POST /v1/imports/task-data`

use actix_web::web::Data;
use actix_web::{HttpRequest, post};

use super::dto::{FileImport, ImportReport};
use super::take::{FileRead, MOST_RECORDS, take};
use super::upload::TaskDataFile;
use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::forms::task_data::records;
use crate::http::responses::ImportErrors;
use crate::http::{ApiError, Query};
use crate::writes::{IdempotencyKey, Write, Written};

/// Import growers, farms and fields from task data.
///
/// A zip with `TASKDATA.XML` (ISO 11783-10, version 3 or 4) and, where there is one, `LINKLIST.XML`; or
/// `TASKDATA.XML` alone as `application/xml`. Customers are growers; fields bring the polygons of their
/// boundary. Ids are the UUIDs of the link list; without one the id of the file together with the name,
/// since ids of a file mean nothing in the next. Tasks, products and machines are left aside. A document
/// type definition is refused, and with it every entity of its own. At most 16777216 bytes, packed and
/// unpacked, and 10000 records.
///
/// Send it with `dry_run=true` first: the answer says what would become of each record. Without it the
/// file is taken as a whole, or not at all when a record is refused (422, with every place and reason).
/// What is not in the file stays as it is; nothing is deleted. What looks like an object that is there
/// already waits for a person to say so. So does what was erased here, and nothing that the file says
/// of it is kept.
#[utoipa::path(
    tag = "imports", operation_id = "import_task_data", security(("bearer" = ["connect"])),
    params(FileImport, IdempotencyKey),
    request_body(content = String, content_type = "application/xml",
        description = "`TASKDATA.XML`; as `application/zip` a zip with it and its link list.",
        example = "<ISO11783_TaskData VersionMajor=\"4\"><CTR A=\"CTR1\" B=\"Ann\"/></ISO11783_TaskData>"),
    responses(
        (status = 200, description = "What became, or would become, of the file.", body = ImportReport),
        ImportErrors,
    ),
)]
#[post("/imports/task-data")]
pub(super) async fn import(
    app: Data<AppState>,
    caller: Caller<CanConnect>,
    write: Write,
    query: Query<FileImport>,
    request: HttpRequest,
    file: TaskDataFile,
) -> Result<Written<ImportReport>, ApiError> {
    let asked = query.0.parse("import_task_data")?;
    let read = || {
        let records = records(&file.files, MOST_RECORDS)?;
        Ok(FileRead { records, encoding: file.encoding, separator: None })
    };
    take(&app, &caller, (write, &request), asked, read).await
}
