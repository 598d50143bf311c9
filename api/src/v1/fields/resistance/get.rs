//! `GET /v1/fields/{id}/resistance`

use std::cmp::Reverse;
use std::collections::BTreeMap;

use actix_web::get;
use actix_web::web::Data;
use domain::learning::{Learned, Place};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::dto::{FieldResistance, ResistanceOfPlanter};
use crate::app::AppState;
use crate::auth::{Caller, CanRead, Scope};
use crate::entities::{dig_lessons, planters};
use crate::http::responses::GetErrors;
use crate::http::{Answer, ApiError, Id, Query};
use crate::learned::season_of;
use crate::v1::coefficients::figures_in_force;
use crate::v1::fields::store;
use crate::v1::planters::resistance::dto::ResistanceQuery;
use crate::v1::planters::resistance::places::{DugHere, Places};
use crate::v1::planters::resistance::say::{self, Shown};

/// Get what digs taught about a field.
///
/// How much more or less the soil asks of opener and coulter than the conditions let expect, as a
/// factor with its 90 % range, for each planter that was dug behind in the field. What is known of a
/// planter where nobody dug stands with the planter.
#[utoipa::path(
    tag = "fields", operation_id = "get_field_resistance", security(("bearer" = ["read"])),
    params(("id" = Uuid, Path, description = "Id of the field."), ResistanceQuery),
    responses(
        (status = 200, description = "What digs taught.", body = FieldResistance),
        GetErrors,
    ),
)]
#[get("/fields/{id}/resistance")]
pub(in crate::v1::fields) async fn get_resistance(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    id: Id,
    query: Query<ResistanceQuery>,
) -> Result<Answer<FieldResistance>, ApiError> {
    let (scope, this) = (caller.scope(), season_of(&caller.calendar(), app.clock.now()));
    let season = say::season(query.0.season, this)?;
    let field = store::find(&app.db, scope, id.0).await?;
    let figures = figures_in_force(&app.db, scope).await?;
    let learned = app.lessons.of(&app.db, scope, &figures, this).await?;
    let digs = scope.dig_lessons().filter(dig_lessons::Column::FieldId.eq(field.id));
    let mut places = Places::of(&app.db, digs, dig_lessons::Column::PlanterId).await?;
    places.list.sort_by_key(|here| Reverse((here.last, here.id, here.class)));
    let names = names(&app.db, scope, &places).await?;
    let shown = |here: &DugHere| {
        let name = names.get(&here.id)?.clone();
        Some(behind_planter(&learned, here, name, (field.id, season)))
    };
    Ok(Answer::ok(FieldResistance {
        field_id: field.id,
        season,
        digs: places.digs(),
        digs_that_teach_nothing: places.silent,
        last_dug_at: places.last(),
        without_digs: say::without_digs(&learned),
        planters: places.list.iter().filter_map(shown).collect(),
    }))
}

/// The names of the planters that were dug behind: the few of one grower.
async fn names(
    db: &impl ConnectionTrait,
    scope: Scope,
    places: &Places,
) -> Result<BTreeMap<Uuid, String>, ApiError> {
    let ids = places.list.iter().map(|here| here.id);
    let names: Vec<(Uuid, String)> = scope
        .planters()
        .filter(planters::Column::Id.is_in(ids))
        .select_only()
        .columns([planters::Column::Id, planters::Column::Name])
        .into_tuple()
        .all(db)
        .await?;
    Ok(names.into_iter().collect())
}

fn behind_planter(
    learned: &Learned,
    here: &DugHere,
    name: String,
    (field_id, season): (Uuid, u16),
) -> ResistanceOfPlanter {
    let (class, planter, field) = (here.class, here.id.as_u128(), field_id.as_u128());
    let Shown { resistance, digs, words } =
        say::at(learned, &Place { class, planter, field, season });
    ResistanceOfPlanter {
        planter_id: here.id,
        name,
        soil: class.soil.into(),
        cover: class.cover.into(),
        soil_and_cover: class.words(),
        resistance,
        digs,
        last_dug_at: here.last,
        words,
    }
}
