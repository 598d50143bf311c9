//! `GET /v1/growers/{id}/task-data`

use std::collections::{BTreeMap, HashMap};

use actix_web::web::Data;
use actix_web::{HttpRequest, HttpResponse, get};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder, QuerySelect};
use uuid::Uuid;

use super::store;
use crate::app::AppState;
use crate::auth::{Caller, CanRead, Scope};
use crate::entities::recommendations::Status;
use crate::entities::{farms, fields, planters, recommendations};
use crate::exchange::forms::answer::{ZIP, whole};
use crate::exchange::forms::settings::Settings;
use crate::exchange::forms::task_data::{Content, Sheet, TaskDataQuery, pack};
use crate::http::responses::RecomputeErrors;
use crate::http::{ApiError, Id, ProblemCode, Query};
use crate::reports::file::FileBytes;
use crate::season::gather::Of;
use crate::v1::recommendations::sheet::spoken;
use crate::v1::recommendations::store::{inputs_of, result_of};
use crate::v1::units::Units;

/// Most farms of a file, most fields, and most sheets.
const MOST: u64 = 500;

/// Get the fields and sheets of a grower as task data.
///
/// A zip with `TASKDATA/TASKDATA.XML` (ISO 11783-10, version 4.3 or 3.3): the grower, farms and fields with
/// their boundaries, and a planned task for each settings sheet in force that was issued this season; of
/// several for one field and planter the newest. A terminal takes hundreds of fields at most: a grower with
/// more than 500 farms, fields or sheets gets 409, and asks sheet by sheet.
#[utoipa::path(
    tag = "growers", operation_id = "get_grower_task_data", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the grower."), TaskDataQuery),
    responses(
        (status = 200, description = "The task data.", content_type = "application/zip", body = inline(FileBytes),
            headers(("ETag" = String, description = "Tag of the content."))),
        RecomputeErrors,
    ),
)]
#[get("/growers/{id}/task-data")]
pub(super) async fn task_data(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<TaskDataQuery>,
    request: HttpRequest,
) -> Result<HttpResponse, ApiError> {
    let scope = caller.scope();
    let grower = store::find(&app.db, scope, id.0).await?;
    let (calendar, now) = (caller.calendar(), app.clock.now());
    let season = calendar.season_of(now);
    let of = Of { scope, planter_id: None, sheet_id: None, season, calendar, now };
    let farms = land(&app.db, scope, id.0).await?;
    let sheets = sheets(&app.db, of, id.0, caller.units(query.0.units)).await?;
    let bytes = pack(&Content { grower, farms, sheets }, query.0)?;
    Ok(whole(&request, ZIP, &format!("task-data-{}.zip", id.0), bytes))
}

/// Farms and their fields, as far as a terminal takes them.
async fn land(
    db: &impl ConnectionTrait,
    scope: Scope,
    grower_id: Uuid,
) -> Result<Vec<(farms::Model, Vec<fields::Model>)>, ApiError> {
    let rows = scope.fields().filter(fields::Column::Id.in_subquery(scope.field_ids_of(grower_id)));
    let rows = rows.order_by_asc(fields::Column::Id).limit(MOST.saturating_add(1)).all(db).await?;
    few_enough(rows.len())?;
    let mut by_farm: BTreeMap<Uuid, Vec<fields::Model>> = BTreeMap::new();
    for row in rows {
        by_farm.entry(row.farm_id).or_default().push(row);
    }
    let farms = scope.farms().filter(farms::Column::GrowerId.eq(grower_id));
    let farms = farms.order_by_asc(farms::Column::Id).limit(MOST.saturating_add(1)).all(db).await?;
    few_enough(farms.len())?;
    let with_fields = |farm: farms::Model| {
        let fields = by_farm.remove(&farm.id).unwrap_or_default();
        (farm, fields)
    };
    Ok(farms.into_iter().map(with_fields).collect())
}

/// The newest sheet in force of each field and planter.
async fn sheets(
    db: &impl ConnectionTrait,
    of: Of,
    grower_id: Uuid,
    units: Units,
) -> Result<Vec<Sheet>, ApiError> {
    use recommendations::Column;
    let (from, to) = of.span();
    let rows = of
        .scope
        .recommendations()
        .filter(Column::FieldId.in_subquery(of.scope.field_ids_of(grower_id)))
        .filter(Column::Status.is_in([Status::Issued, Status::Acknowledged]))
        .filter(Column::IssuedAt.gte(from))
        .filter(Column::IssuedAt.lt(to))
        .order_by_desc(Column::IssuedAt)
        .order_by_desc(Column::Id)
        .limit(MOST.saturating_add(1))
        .all(db)
        .await?;
    few_enough(rows.len())?;
    let mut newest: BTreeMap<(Uuid, Uuid), recommendations::Model> = BTreeMap::new();
    for row in rows {
        newest.entry((row.field_id, row.planter_id)).or_insert(row);
    }
    let ids = newest.keys().map(|(_, planter)| *planter);
    let planters: HashMap<Uuid, String> = of
        .scope
        .planters()
        .filter(planters::Column::Id.is_in(ids))
        .select_only()
        .columns([planters::Column::Id, planters::Column::Name])
        .into_tuple()
        .all(db)
        .await?
        .into_iter()
        .collect();
    let mut sheets = Vec::new();
    for (_, row) in newest {
        // Deleted between the queries.
        let Some(planter) = planters.get(&row.planter_id).cloned() else { continue };
        sheets.push(Sheet {
            id: row.id,
            revision: row.revision,
            field_id: row.field_id,
            planter,
            settings: Settings::of(&inputs_of(&row)?, &result_of(&row)?),
            said: spoken(&row, units.into())?,
        });
    }
    Ok(sheets)
}

fn few_enough(found: usize) -> Result<(), ApiError> {
    if u64::try_from(found).is_ok_and(|found| found <= MOST) {
        return Ok(());
    }
    let detail = format!(
        "The grower has more than {MOST} farms, fields or sheets, too many for one file. Ask for the task \
         data of each sheet."
    );
    Err(ApiError::new(ProblemCode::WrongState, detail))
}
