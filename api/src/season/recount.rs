//! The sums of seasons counted from scratch, and what each dig check says made again.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

use domain::provenance::Coefficients;
use domain::season::Sums;
use sea_orm::sea_query::{Expr, ExprTrait, Query};
use sea_orm::{
    ColumnTrait, ConnectionTrait, DatabaseConnection, DatabaseTransaction, DbErr, EntityTrait,
    QueryFilter, QueryOrder, QuerySelect,
};
use uuid::Uuid;

use super::counting::Counting;
use super::facts::{facts_of_stored, row_of};
use super::keep::{Place, field_row, planter_row};
use super::land::{Which, happened};
use crate::auth::Scope;
use crate::db;
use crate::entities::{
    dig_checks, planters, practices, recommendations, season_digs, season_fields, season_planters,
};
use crate::http::ApiError;
use crate::v1::practice::SeasonCalendar;
use crate::v1::recommendations::store as sheets;

/// What was made.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Rebuilt {
    /// Dig checks that were read.
    pub digs: u64,
    /// Those that this version can't read: they are left out.
    pub unreadable: u64,
    /// Seasons of fields that were counted.
    pub fields: u64,
}

/// Planters that are read at once.
const PLANTERS: usize = 200;
/// Rows of one statement: databases bound its parameters.
const ROWS: usize = 500;
/// Dig checks that are read at once.
const DIGS: u64 = 200;

/// Makes all of a practice anew: what digs say, and the sums.
pub async fn rebuild(db: &DatabaseConnection, practice_id: Uuid) -> Result<Rebuilt, ApiError> {
    let tx = db::begin(db).await?;
    let calendar = SeasonCalendar::hold(&tx, practice_id).await?;
    season_digs::Entity::delete_many()
        .filter(season_digs::Column::PracticeId.eq(practice_id))
        .exec(&tx)
        .await?;
    let mut made = fill_in(&tx, practice_id).await?;
    made.fields = recount(&tx, practice_id, &calendar).await?;
    tx.commit().await?;
    Ok(made)
}

/// What digs from before this was kept say, in the practices that are left; their sums follow.
/// One that fails is logged, stays left, and holds up no other.
pub async fn fill_in_all(db: &DatabaseConnection, counting: &Counting) {
    for practice_id in counting.left() {
        match fill_in_practice(db, practice_id).await {
            Ok(Rebuilt { digs, unreadable, fields }) => {
                counting.counted(practice_id);
                tracing::info!(practice = %practice_id, digs, unreadable, fields, "seasons counted");
            }
            Err(error) => {
                let cause = error.chain();
                tracing::error!(practice = %practice_id, cause, "seasons are not counted");
            }
        }
    }
}

async fn fill_in_practice(db: &DatabaseConnection, practice_id: Uuid) -> Result<Rebuilt, ApiError> {
    let tx = db::begin(db).await?;
    let calendar = SeasonCalendar::hold(&tx, practice_id).await?;
    let mut made = fill_in(&tx, practice_id).await?;
    made.fields = recount(&tx, practice_id, &calendar).await?;
    tx.commit().await?;
    Ok(made)
}

/// Practices with a dig check or an issued sheet of which nothing is counted.
pub async fn behind(db: &impl ConnectionTrait) -> Result<Vec<Uuid>, DbErr> {
    let all: Vec<Uuid> = practices::Entity::find()
        .select_only()
        .column(practices::Column::Id)
        .into_tuple()
        .all(db)
        .await?;
    let mut behind = Vec::new();
    for id in all {
        if is_behind(db, id).await? {
            behind.push(id);
        }
    }
    Ok(behind)
}

async fn is_behind(db: &impl ConnectionTrait, practice_id: Uuid) -> Result<bool, DbErr> {
    let missing = dig_checks::Entity::find()
        .filter(dig_checks::Column::PracticeId.eq(practice_id))
        .filter(without_facts());
    if missing
        .select_only()
        .column(dig_checks::Column::Id)
        .into_tuple::<Uuid>()
        .one(db)
        .await?
        .is_some()
    {
        return Ok(true);
    }
    let issued = recommendations::Entity::find()
        .filter(recommendations::Column::PracticeId.eq(practice_id))
        .filter(recommendations::Column::IssuedAt.is_not_null())
        .select_only()
        .column(recommendations::Column::Id)
        .into_tuple::<Uuid>()
        .one(db)
        .await?;
    let counted = season_planters::Entity::find()
        .filter(season_planters::Column::PracticeId.eq(practice_id))
        .one(db)
        .await?;
    Ok(issued.is_some() && counted.is_none())
}

fn without_facts() -> sea_orm::sea_query::SimpleExpr {
    use dig_checks::Column as Dig;
    use season_digs::Column as Its;
    let own = |its: Its, dig: Dig| {
        Expr::col((season_digs::Entity, its)).equals((dig_checks::Entity, dig))
    };
    let facts = Query::select()
        .column(Its::Id)
        .from(season_digs::Entity)
        .and_where(own(Its::PracticeId, Dig::PracticeId))
        .and_where(own(Its::Id, Dig::Id))
        .to_owned();
    Expr::exists(facts).not()
}

async fn fill_in(tx: &DatabaseTransaction, practice_id: Uuid) -> Result<Rebuilt, ApiError> {
    let mut made = Rebuilt::default();
    let mut figures = HashMap::<Option<Uuid>, Arc<Coefficients>>::new();
    let mut last = Uuid::nil();
    loop {
        let rows = dig_checks::Entity::find()
            .filter(dig_checks::Column::PracticeId.eq(practice_id))
            .filter(dig_checks::Column::Id.gt(last))
            .filter(without_facts())
            .order_by_asc(dig_checks::Column::Id)
            .limit(DIGS)
            .all(tx)
            .await?;
        let Some(end) = rows.last() else { return Ok(made) };
        last = end.id;
        let mut kept = Vec::with_capacity(rows.len());
        for (row, sheet) in with_sheets(tx, practice_id, rows).await? {
            let known = known_figures(tx, &sheet, &mut figures).await?;
            made.digs += 1;
            match facts_of_stored(&row, &sheet, &known) {
                Ok(facts) => kept.push(row_of(&row, &sheet, &facts)?),
                Err(error) => {
                    tracing::warn!(dig_check = %row.id, cause = error.chain(), "a dig check can't be read");
                    made.unreadable += 1;
                }
            }
        }
        if !kept.is_empty() {
            season_digs::Entity::insert_many(kept).exec_without_returning(tx).await?;
        }
    }
}

async fn known_figures(
    db: &impl ConnectionTrait,
    sheet: &recommendations::Model,
    figures: &mut HashMap<Option<Uuid>, Arc<Coefficients>>,
) -> Result<Arc<Coefficients>, ApiError> {
    if let Some(known) = figures.get(&sheet.coefficient_set_id) {
        return Ok(known.clone());
    }
    let read: Arc<Coefficients> = sheets::figures_of(db, sheet).await?.into();
    figures.insert(sheet.coefficient_set_id, read.clone());
    Ok(read)
}

async fn with_sheets(
    db: &impl ConnectionTrait,
    practice_id: Uuid,
    rows: Vec<dig_checks::Model>,
) -> Result<Vec<(dig_checks::Model, Arc<recommendations::Model>)>, ApiError> {
    let ids = rows.iter().map(|row| row.recommendation_id);
    let sheets: HashMap<Uuid, Arc<recommendations::Model>> = Scope::of_practice(practice_id)
        .recommendations()
        .filter(recommendations::Column::Id.is_in(ids))
        .all(db)
        .await?
        .into_iter()
        .map(|sheet| (sheet.id, Arc::new(sheet)))
        .collect();
    let with = |row: dig_checks::Model| {
        let sheet = sheets.get(&row.recommendation_id)?.clone();
        Some((row, sheet))
    };
    Ok(rows.into_iter().filter_map(with).collect())
}

/// Counts all seasons of a practice anew from their rows; gives how many of fields.
pub async fn recount(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    calendar: &SeasonCalendar,
) -> Result<u64, ApiError> {
    forget(tx, practice_id, None).await?;
    count(tx, practice_id, None, calendar).await
}

/// Counts all seasons of a grower anew from their rows.
pub async fn recount_grower(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    grower_id: Uuid,
) -> Result<(), ApiError> {
    let calendar = SeasonCalendar::hold(tx, practice_id).await?;
    forget(tx, practice_id, Some(grower_id)).await?;
    count(tx, practice_id, Some(grower_id), &calendar).await?;
    Ok(())
}

/// Forgets the sums of a grower, or of all: nothing refers to their land through them then.
pub async fn forget(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    grower_id: Option<Uuid>,
) -> Result<(), ApiError> {
    use season_fields::Column as Field;
    use season_planters::Column as Planter;
    let mut fields = season_fields::Entity::delete_many().filter(Field::PracticeId.eq(practice_id));
    let mut planters =
        season_planters::Entity::delete_many().filter(Planter::PracticeId.eq(practice_id));
    if let Some(grower_id) = grower_id {
        fields = fields.filter(Field::GrowerId.eq(grower_id));
        planters = planters.filter(Planter::GrowerId.eq(grower_id));
    }
    planters.exec(tx).await?;
    fields.exec(tx).await?;
    Ok(())
}

async fn count(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    grower_id: Option<Uuid>,
    calendar: &SeasonCalendar,
) -> Result<u64, ApiError> {
    use planters::{Column, Entity};
    let mut all = Entity::find().filter(Column::PracticeId.eq(practice_id));
    if let Some(grower_id) = grower_id {
        all = all.filter(Column::GrowerId.eq(grower_id));
    }
    let all: Vec<(Uuid, Uuid)> = all
        .order_by_asc(Column::Id)
        .select_only()
        .columns([Column::Id, Column::GrowerId])
        .into_tuple()
        .all(tx)
        .await?;
    let mut counted = 0;
    for some in all.chunks(PLANTERS) {
        let growers: BTreeMap<Uuid, Uuid> = some.iter().copied().collect();
        counted += count_behind(tx, practice_id, &growers, calendar).await?;
    }
    Ok(counted)
}

async fn count_behind(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    growers: &BTreeMap<Uuid, Uuid>,
    calendar: &SeasonCalendar,
) -> Result<u64, ApiError> {
    let ids: Vec<Uuid> = growers.keys().copied().collect();
    let lands = happened(tx, practice_id, Which::Behind(&ids)).await?;
    let mut fields = Vec::new();
    let mut planters = BTreeMap::<(Uuid, i32), (Place, Sums)>::new();
    for (land, here) in lands {
        let Some(grower_id) = growers.get(&land.planter_id).copied() else { continue };
        for season in here.seasons(calendar) {
            let place = Place { practice_id, season, land, grower_id };
            let Some((row, sums)) = field_row(place, &here, calendar)? else { continue };
            fields.push(row);
            let key = (land.planter_id, season);
            planters.entry(key).or_insert_with(|| (place, Sums::default())).1.add(&sums);
        }
    }
    let counted = u64::try_from(fields.len()).unwrap_or(u64::MAX);
    let planters: Vec<season_planters::ActiveModel> = planters
        .into_values()
        .map(|(place, sums)| planter_row(place, &sums))
        .collect::<Result<_, _>>()?;
    for some in fields.chunks(ROWS) {
        season_fields::Entity::insert_many(some.iter().cloned()).exec_without_returning(tx).await?;
    }
    for some in planters.chunks(ROWS) {
        season_planters::Entity::insert_many(some.iter().cloned())
            .exec_without_returning(tx)
            .await?;
    }
    Ok(counted)
}
