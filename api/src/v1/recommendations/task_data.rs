//! `GET /v1/recommendations/{id}/task-data`

use actix_web::web::Data;
use actix_web::{HttpRequest, HttpResponse, get};

use super::sheet::spoken;
use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::exchange::forms::answer::{ZIP, whole};
use crate::exchange::forms::facts::SheetFacts;
use crate::exchange::forms::task_data::{Content, Sheet, TaskDataQuery, pack};
use crate::http::responses::GetErrors;
use crate::http::{ApiError, Id, Query};
use crate::reports::file::FileBytes;

/// Get a recommendation as task data.
///
/// A zip with `TASKDATA/TASKDATA.XML` (ISO 11783-10, version 4.3 or 3.3): grower, farm, field, boundary and
/// a planned task with the seeding rate, and the rate of a liquid where one runs. Depth, down force and
/// speed are put in only where they are asked for by name. In version 4 `LINKLIST.XML` keeps our ids.
/// `NOTES.txt` says what the file can't carry. A grower's account does not see drafts.
#[utoipa::path(
    tag = "recommendations", operation_id = "get_recommendation_task_data",
    security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the recommendation."), TaskDataQuery),
    responses(
        (status = 200, description = "The task data.", content_type = "application/zip", body = inline(FileBytes),
            headers(("ETag" = String, description = "Tag of the content."))),
        GetErrors,
    ),
)]
#[get("/recommendations/{id}/task-data")]
pub(super) async fn task_data(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<TaskDataQuery>,
    request: HttpRequest,
) -> Result<HttpResponse, ApiError> {
    let row = store::find(&app.db, caller.scope(), id.0).await?;
    let said = spoken(&row, caller.units(query.0.units).into())?;
    let SheetFacts { grower, farm, field, planter, row, settings, .. } =
        SheetFacts::of(&app.db, row).await?;
    let sheet = Sheet {
        id: row.id,
        revision: row.revision,
        field_id: field.id,
        planter: planter.name,
        settings,
        said,
    };
    let content = Content { grower, farms: vec![(farm, vec![field])], sheets: vec![sheet] };
    let bytes = pack(&content, query.0)?;
    Ok(whole(&request, ZIP, &format!("task-data-{}.zip", id.0), bytes))
}
