//! `GET /v1/seasons`

use std::collections::{BTreeMap, BTreeSet};

use actix_web::get;
use actix_web::web::Data;
use domain::season::report::SoFar;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QuerySelect, QueryTrait};
use uuid::Uuid;

use super::dto::{Season, SeasonList};
use crate::app::AppState;
use crate::auth::{Caller, CanRead, Sees};
use crate::entities::growers;
use crate::entities::season_fields::{Column, Entity};
use crate::http::responses::ListErrors;
use crate::http::{Answer, ApiError};

/// List seasons.
///
/// The seasons in which something was issued, planted or dug, as far as the caller sees it, the
/// newest first, with how many fields, planters and growers there were. A season is named by the
/// year in which it ends.
#[utoipa::path(
    tag = "seasons", operation_id = "list_seasons", security(("bearer" = ["read"])),
    responses(
        (status = 200, description = "The seasons.", body = SeasonList),
        ListErrors,
    ),
)]
#[get("/seasons")]
pub(super) async fn list(
    app: Data<AppState>,
    caller: Caller<CanRead>,
) -> Result<Answer<SeasonList>, ApiError> {
    app.counting.check(caller.practice_id())?;
    let (scope, calendar) = (caller.scope(), caller.calendar());
    let mut rows = Entity::find().filter(Column::PracticeId.eq(scope.practice_id));
    if scope.sees != Sees::Practice {
        let growers = scope.growers().select_only().column(growers::Column::Id);
        rows = rows.filter(Column::GrowerId.in_subquery(growers.into_query()));
    }
    let rows: Vec<(i32, Uuid, Uuid, i64)> = rows
        .select_only()
        .columns([Column::Season, Column::GrowerId, Column::PlanterId])
        .column_as(Column::FieldId.count(), "fields")
        .group_by(Column::Season)
        .group_by(Column::GrowerId)
        .group_by(Column::PlanterId)
        .into_tuple()
        .all(&app.db)
        .await?;
    let mut seasons = BTreeMap::<i32, Counted>::new();
    for (season, grower_id, planter_id, fields) in rows {
        let counted = seasons.entry(season).or_default();
        counted.growers.insert(grower_id);
        counted.planters.insert(planter_id);
        counted.fields += u32::try_from(fields).unwrap_or_default();
    }
    let today = calendar.today(app.clock.now());
    let shown = |(season, counted): (i32, Counted)| {
        let (first, next) = calendar.days(season);
        Season {
            season,
            first_day: first,
            last_day: next.pred_opt().unwrap_or(next),
            so_far: SoFar::on(today, first, next).into(),
            growers: len(&counted.growers),
            planters: len(&counted.planters),
            fields: counted.fields,
        }
    };
    Ok(Answer::ok(SeasonList { items: seasons.into_iter().rev().map(shown).collect() }))
}

#[derive(Debug, Default)]
struct Counted {
    growers: BTreeSet<Uuid>,
    planters: BTreeSet<Uuid>,
    fields: u32,
}

fn len(ids: &BTreeSet<Uuid>) -> u32 {
    u32::try_from(ids.len()).unwrap_or(u32::MAX)
}
