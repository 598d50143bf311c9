//! Lessons made from dig checks that are stored: all of a practice anew, or those that are missing.

use std::collections::HashMap;
use std::sync::Arc;

use chrono::{DateTime, Utc};
use domain::dig::{Context, judge};
use domain::learning::{DigEvent, Learned, Place, Prior, Reading, SoilClass};
use domain::provenance::Coefficients;
use sea_orm::sea_query::{Expr, ExprTrait, Query};
use sea_orm::{
    ColumnTrait, ConnectionTrait, DatabaseConnection, DatabaseTransaction, DbErr, EntityTrait,
    QueryFilter, QueryOrder, QuerySelect, Select,
};
use uuid::Uuid;

use super::lesson::{Lesson, place_of, season_of};
use super::store;
use crate::auth::Scope;
use crate::db;
use crate::entities::{dig_checks, dig_lessons, recommendations};
use crate::http::ApiError;
use crate::v1::dig_checks::observation::DigCheckIn;
use crate::v1::dig_checks::teaches;
use crate::v1::practice::SeasonCalendar;
use crate::v1::recommendations::store as sheets;

/// What was made.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Rebuilt {
    /// Dig checks that were looked at.
    pub digs: u64,
    /// Those that teach something.
    pub taught: u64,
    /// Those that this version can't read. They teach nothing until one can.
    pub unreadable: u64,
}

/// Counts the lessons of a practice to the seasons of its new calendar. Whoever holds what was
/// learned takes all of them in anew.
pub async fn count_to_seasons(
    tx: &DatabaseTransaction,
    practice_id: Uuid,
    calendar: &SeasonCalendar,
) -> Result<(), ApiError> {
    store::next_generation(tx, practice_id).await?;
    let Some((first, last)) = store::dug_between(tx, practice_id).await? else { return Ok(()) };
    for season in calendar.season_of(first)..=calendar.season_of(last) {
        store::set_season(tx, practice_id, season, calendar.span(season)).await?;
    }
    Ok(())
}

/// Dig checks that are read at once.
const PAGE: u64 = 200;

/// Makes all lessons of a practice anew.
///
/// The dig checks are judged first, so that the practice waits only while rows are exchanged; those
/// that came in meanwhile are judged then.
pub async fn rebuild(
    db: &DatabaseConnection,
    practice_id: Uuid,
    now: DateTime<Utc>,
) -> Result<Rebuilt, ApiError> {
    let mut maker = Maker::of(SeasonCalendar::load(db, practice_id).await?);
    let mut lessons = Vec::new();
    let mut last = Uuid::nil();
    loop {
        let after = dig_checks::Column::Id.gt(last);
        let rows = oldest(practice_id).filter(after).all(db).await?;
        let Some(end) = rows.last() else { break };
        last = end.id;
        lessons.extend(maker.lessons(db, &rows).await?);
    }
    let tx = db::begin(db).await?;
    let calendar = SeasonCalendar::hold(&tx, practice_id).await?;
    if calendar != maker.calendar {
        maker.calendar = calendar;
        for lesson in &mut lessons {
            lesson.place.season = season_of(&calendar, lesson.dug_at);
        }
    }
    store::forget(&tx, practice_id).await?;
    store::insert(&tx, practice_id, now, &lessons).await?;
    loop {
        let rows = oldest(practice_id).filter(without_lesson()).all(&tx).await?;
        if rows.is_empty() {
            break;
        }
        store::insert(&tx, practice_id, now, &maker.lessons(&tx, &rows).await?).await?;
    }
    tx.commit().await?;
    Ok(maker.made)
}

/// Makes the lessons that a practice lacks: those of dig checks from before lessons were kept.
pub async fn fill_in(
    db: &DatabaseConnection,
    practice_id: Uuid,
    now: DateTime<Utc>,
) -> Result<Rebuilt, ApiError> {
    let mut maker = Maker::of(SeasonCalendar::load(db, practice_id).await?);
    loop {
        let tx = db::begin(db).await?;
        maker.calendar = SeasonCalendar::hold(&tx, practice_id).await?;
        // Another process that fills in waits here, and finds nothing left.
        store::hold_counter(&tx, practice_id, 0).await?;
        let rows = oldest(practice_id).filter(without_lesson()).all(&tx).await?;
        if rows.is_empty() {
            return Ok(maker.made);
        }
        store::insert(&tx, practice_id, now, &maker.lessons(&tx, &rows).await?).await?;
        tx.commit().await?;
    }
}

/// Makes the lessons that any practice lacks; says so in the log.
pub async fn fill_in_all(db: &DatabaseConnection, now: DateTime<Utc>) -> Result<(), ApiError> {
    for practice_id in behind(db).await? {
        let Rebuilt { digs, taught, unreadable } = fill_in(db, practice_id, now).await?;
        tracing::info!(practice = %practice_id, digs, taught, unreadable, "lessons filled in");
    }
    Ok(())
}

/// Practices with a dig check that has no lesson.
async fn behind(db: &impl ConnectionTrait) -> Result<Vec<Uuid>, DbErr> {
    dig_checks::Entity::find()
        .select_only()
        .column(dig_checks::Column::PracticeId)
        .distinct()
        .filter(without_lesson())
        .into_tuple()
        .all(db)
        .await
}

/// The first dig checks of a practice; ids rise as they come in.
fn oldest(practice_id: Uuid) -> Select<dig_checks::Entity> {
    let rows = Scope::of_practice(practice_id).dig_checks();
    rows.order_by_asc(dig_checks::Column::Id).limit(PAGE)
}

fn without_lesson() -> sea_orm::sea_query::SimpleExpr {
    use dig_checks::Column as Dig;
    use dig_lessons::Column as Its;
    let own = |its: Its, dig: Dig| {
        Expr::col((dig_lessons::Entity, its)).equals((dig_checks::Entity, dig))
    };
    let lesson = Query::select()
        .column(Its::Id)
        .from(dig_lessons::Entity)
        .and_where(own(Its::PracticeId, Dig::PracticeId))
        .and_where(own(Its::Id, Dig::Id))
        .to_owned();
    Expr::exists(lesson).not()
}

/// Makes lessons, and keeps what many of them need.
struct Maker {
    calendar: SeasonCalendar,
    figures: HashMap<Option<Uuid>, Arc<Coefficients>>,
    made: Rebuilt,
}

impl Maker {
    fn of(calendar: SeasonCalendar) -> Self {
        Self { calendar, figures: HashMap::new(), made: Rebuilt::default() }
    }

    /// The lessons of dig checks, in their order.
    async fn lessons(
        &mut self,
        db: &impl ConnectionTrait,
        rows: &[dig_checks::Model],
    ) -> Result<Vec<Lesson>, ApiError> {
        let sheets = sheets_of(db, rows).await?;
        let mut lessons = Vec::with_capacity(rows.len());
        for row in rows {
            let sheet = sheets.get(&row.recommendation_id);
            let sheet = sheet.ok_or_else(|| ApiError::not_found("recommendation"))?;
            let figures = self.figures_of(db, sheet).await?;
            lessons.push(self.lesson(row, sheet, &figures));
        }
        Ok(lessons)
    }

    fn lesson(
        &mut self,
        row: &dig_checks::Model,
        sheet: &recommendations::Model,
        figures: &Coefficients,
    ) -> Lesson {
        let made = event_of_stored(row, sheet, figures, &self.calendar);
        let (place, event) = made.unwrap_or_else(|error| {
            tracing::warn!(dig_check = %row.id, cause = error.chain(), "a dig check can't be read");
            self.made.unreadable += 1;
            (unknown_place(row, sheet, &self.calendar), None)
        });
        self.made.digs += 1;
        self.made.taught += u64::from(event.is_some());
        Lesson { dig_check_id: row.id, dug_at: row.dug_at, place, event }
    }

    async fn figures_of(
        &mut self,
        db: &impl ConnectionTrait,
        sheet: &recommendations::Model,
    ) -> Result<Arc<Coefficients>, ApiError> {
        if let Some(known) = self.figures.get(&sheet.coefficient_set_id) {
            return Ok(known.clone());
        }
        let figures: Arc<Coefficients> = sheets::figures_of(db, sheet).await?.into();
        self.figures.insert(sheet.coefficient_set_id, figures.clone());
        Ok(figures)
    }
}

/// The sheets that dig checks belong to.
async fn sheets_of(
    db: &impl ConnectionTrait,
    rows: &[dig_checks::Model],
) -> Result<HashMap<Uuid, recommendations::Model>, ApiError> {
    let Some(first) = rows.first() else { return Ok(HashMap::new()) };
    let ids = rows.iter().map(|row| row.recommendation_id);
    let sheets = Scope::of_practice(first.practice_id)
        .recommendations()
        .filter(recommendations::Column::Id.is_in(ids))
        .all(db)
        .await?;
    Ok(sheets.into_iter().map(|sheet| (sheet.id, sheet)).collect())
}

/// Where a stored dig check is pooled and what it says, judged today against its own sheet and the
/// figures of that.
///
/// # Errors
/// When what was stored can't be read by this version.
pub fn event_of_stored(
    row: &dig_checks::Model,
    sheet: &recommendations::Model,
    figures: &Coefficients,
    calendar: &SeasonCalendar,
) -> Result<(Place, Option<DigEvent>), ApiError> {
    let (inputs, result) = (sheets::inputs_of(sheet)?, sheets::result_of(sheet)?);
    let counts = teaches(row)?;
    let dig = DigCheckIn::stored(row)?.parse(row.created_at, &inputs.planter)?;
    let place = place_of(sheet, &inputs.field, row.dug_at, calendar);
    // What a dig says does not depend on what others said.
    let nothing = Learned::nothing(Prior::of(figures), Reading::of(figures), place.season);
    let case = Context::of_sheet(&inputs, &result, figures);
    let judged = judge(&dig, &case.learning(&nothing, place, row.id.as_u128()));
    Ok((place, judged.lesson.filter(|_| counts)))
}

fn unknown_place(
    row: &dig_checks::Model,
    sheet: &recommendations::Model,
    calendar: &SeasonCalendar,
) -> Place {
    Place {
        class: SoilClass::UNKNOWN,
        planter: sheet.planter_id.as_u128(),
        field: sheet.field_id.as_u128(),
        season: season_of(calendar, row.dug_at),
    }
}
