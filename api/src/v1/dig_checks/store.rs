//! Dig checks in the database. Every query starts from the caller's scope.

use std::collections::HashMap;

use domain::dig::{Change, Context, Ignored, Judgement, NoticeCode, judge};
use domain::learning::Learned;
use domain::provenance::Text;
use sea_orm::sea_query::OnConflict;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseTransaction,
    EntityTrait, QueryFilter, QuerySelect,
};
use serde_json::Value;
use uuid::Uuid;

use super::answer::DigNotice;
use super::noticed::{self, Arrival};
use super::observation::DigCheckIn;
use super::same::{self, Alike};
use super::series::Series;
use crate::auth::Scope;
use crate::entities::recommendations::Status;
use crate::entities::{adjustments, dig_checks, recommendations};
use crate::http::page::{Page, PageRequest, RowPlace};
use crate::http::{ApiError, ProblemCode};
use crate::learned::{Lesson, place_of, record};
use crate::season::{self, Changed, Land};
use crate::v1::author::Author;
use crate::v1::practice::SeasonCalendar;
use crate::v1::recommendations::store as sheets;

/// Finds a dig check in scope. Someone else's is not found.
pub async fn find(
    db: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<dig_checks::Model, ApiError> {
    let found = scope.dig_checks().filter(dig_checks::Column::Id.eq(id)).one(db).await?;
    found.ok_or_else(|| ApiError::not_found("dig check"))
}

/// A page of the dig checks of a recommendation.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    recommendation_id: Uuid,
    page: &PageRequest,
) -> Result<Page<dig_checks::Model>, ApiError> {
    let rows =
        scope.dig_checks().filter(dig_checks::Column::RecommendationId.eq(recommendation_id));
    // A dig check never changes.
    let columns = (dig_checks::Column::Id, dig_checks::Column::CreatedAt);
    page.read(db, rows, columns, |row| RowPlace { updated_at: row.created_at, id: row.id }).await
}

/// The adjustment that each of these dig checks proposed, by dig check.
pub async fn adjustments_of(
    db: &impl ConnectionTrait,
    scope: Scope,
    dig_check_ids: &[Uuid],
) -> Result<HashMap<Uuid, Uuid>, ApiError> {
    let rows: Vec<(Uuid, Uuid)> = scope
        .adjustments()
        .select_only()
        .column(adjustments::Column::DigCheckId)
        .column(adjustments::Column::Id)
        .filter(adjustments::Column::DigCheckId.is_in(dig_check_ids.iter().copied()))
        .into_tuple()
        .all(db)
        .await?;
    Ok(rows.into_iter().collect())
}

/// A dig check as it is kept.
#[derive(Debug)]
pub struct Kept {
    /// The row.
    pub row: dig_checks::Model,
    /// The adjustment that it proposed, where there is one.
    pub adjustment_id: Option<Uuid>,
    /// Whether it came in with this request; otherwise it was there already.
    pub new: bool,
}

/// A dig as it was sent.
#[derive(Debug, Clone, Copy)]
pub struct Sent<'a> {
    /// The recommendation it was sent to.
    pub recommendation_id: Uuid,
    /// The id of the adjustment that it may propose.
    pub adjustment_id: Uuid,
    /// What was found.
    pub given: &'a DigCheckIn,
}

/// Judges a dig and stores it with the adjustment that it proposes, both or neither. What is there
/// already is not stored again.
///
/// # Errors
/// 404 when the recommendation is not in scope, 409 when it is a draft, 422 for readings that can't
/// be.
pub async fn insert(
    tx: &DatabaseTransaction,
    scope: Scope,
    by: Author,
    sent: Sent<'_>,
    learned: &Learned,
) -> Result<Kept, ApiError> {
    let Sent { recommendation_id, adjustment_id, given } = sent;
    let sheet = sheets::find(tx, scope, recommendation_id).await?;
    let inputs = sheets::inputs_of(&sheet)?;
    let dig = given.parse(by.now, &inputs.planter)?;
    let sheet = lock(tx, scope, sheet.id).await?;
    let series = Series::of(tx, &sheet).await?;
    let alike = same::alike(tx, scope, &series, given).await?;
    if let Alike::Whole(row) = alike {
        return there_already(tx, scope, *row).await;
    }
    let result = sheets::result_of(&sheet)?;
    let figures = sheets::figures_of(tx, &sheet).await?;
    let calendar = SeasonCalendar::hold(tx, scope.practice_id).await?;
    let place = place_of(&sheet, &inputs.field, given.dug_at, &calendar);
    let case = Context::of_sheet(&inputs, &result, &figures);
    let case = case.learning(learned, place, by.id.as_u128());
    let mut judged = judge(&dig, &case);
    judged.ignored.extend(unknown_pressure(given, dig.settings().down_force.is_some()));
    let arrival = Arrival { given, dig: &dig, sheet: &sheet, series: &series, alike: &alike };
    let notices = noticed::notices(&arrival, &mut judged);
    let new = NewDig { given, judged: &judged, notices: &notices, series_id: series.id };
    let row = dig_row(&sheet, by, &new)?;
    let row = insert_once(tx, scope, row).await?;
    if row.id != by.id {
        return there_already(tx, scope, row).await;
    }
    let asked = asks_for_a_change(&judged.proposal.change) && may_be_decided(&notices);
    if asked {
        let row = adjustment_row(&row, adjustment_id, &judged).map_err(ApiError::internal)?;
        row.insert(tx).await?;
    }
    let event = judged.lesson.take();
    let lesson = Lesson { dig_check_id: row.id, dug_at: row.dug_at, place, event };
    record(tx, scope, by.now, &lesson).await?;
    season::keep_dig(tx, (&row, &sheet), &season::facts_of(&dig, &judged, &case, &notices)).await?;
    let land = Land { planter_id: sheet.planter_id, field_id: sheet.field_id };
    season::keep(tx, sheet.practice_id, land, &[Changed::At(row.dug_at)]).await?;
    Ok(Kept { row, adjustment_id: asked.then_some(adjustment_id), new: true })
}

/// What came before, with its adjustment.
async fn there_already(
    tx: &impl ConnectionTrait,
    scope: Scope,
    row: dig_checks::Model,
) -> Result<Kept, ApiError> {
    let adjustments = adjustments_of(tx, scope, &[row.id]).await?;
    let adjustment_id = adjustments.get(&row.id).copied();
    Ok(Kept { row, adjustment_id, new: false })
}

/// Inserts a row, unless the same dig came in at the same moment through another revision; gives the
/// row that is there then.
async fn insert_once(
    tx: &DatabaseTransaction,
    scope: Scope,
    row: dig_checks::ActiveModel,
) -> Result<dig_checks::Model, ApiError> {
    use dig_checks::{Column, Entity};
    let fingerprint = row.fingerprint.clone().take().flatten().unwrap_or_default();
    let once =
        OnConflict::columns([Column::PracticeId, Column::Fingerprint]).do_nothing().to_owned();
    Entity::insert(row).on_conflict(once).exec_without_returning(tx).await?;
    same::by_fingerprint(tx, scope, &fingerprint).await
}

/// Holds the recommendation until the end of the transaction, so that its status stays and digs
/// that come in at one moment see each other. A draft is nothing to dig behind.
async fn lock(
    tx: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<recommendations::Model, ApiError> {
    let held = scope
        .recommendations()
        .filter(recommendations::Column::Id.eq(id))
        .lock_exclusive()
        .one(tx)
        .await?
        .ok_or_else(|| ApiError::not_found("recommendation"))?;
    match held.status {
        Status::Issued | Status::Acknowledged | Status::Superseded => Ok(held),
        Status::Draft => Err(ApiError::new(
            ProblemCode::WrongState,
            "The recommendation is a draft: nobody has set a planter by it. Issue it first, or send the dig check to the revision that counts.",
        )),
    }
}

/// A pressure that nobody can turn into a force is said not to have been used.
fn unknown_pressure(given: &DigCheckIn, force_known: bool) -> Option<Ignored> {
    let lost = given.settings.pressure.is_some() && !force_known;
    lost.then(|| Ignored {
        what: Text::Borrowed("pressure in use"),
        rows: Vec::new(),
        why: Text::Borrowed("no calibration reaches it, so nobody knows the force it gives"),
    })
}

/// Whether there is something for the advisor to decide. To go on, or to dig more, needs no
/// decision: these proposals stay with the dig check.
fn asks_for_a_change(change: &Change) -> bool {
    match change {
        Change::KeepAsIs | Change::DigMore { .. } => false,
        Change::Inspect { .. }
        | Change::DownForce { .. }
        | Change::Depth { .. }
        | Change::Speed { .. }
        | Change::CleanerHeight { .. }
        | Change::ClosingWheels { .. }
        | Change::ClosingSpring { .. }
        | Change::Coulter { .. }
        | Change::Wait { .. } => true,
    }
}

/// Whether a change of such a dig may wait for the advisor.
fn may_be_decided(notices: &[DigNotice]) -> bool {
    notices.iter().all(|notice| NoticeCode::from(notice.code).may_be_decided())
}

/// A dig check to be stored.
#[derive(Debug)]
struct NewDig<'a> {
    given: &'a DigCheckIn,
    judged: &'a Judgement,
    notices: &'a [DigNotice],
    series_id: Uuid,
}

fn dig_row(
    sheet: &recommendations::Model,
    by: Author,
    new: &NewDig<'_>,
) -> Result<dig_checks::ActiveModel, ApiError> {
    let NewDig { given, judged, notices, series_id } = new;
    let fingerprint = same::fingerprint(*series_id, given)?;
    let result = serde_json::to_value(judged).map_err(ApiError::internal)?;
    let word = |pointer| result.pointer(pointer).and_then(Value::as_str).map(str::to_owned);
    Ok(dig_checks::ActiveModel {
        depth_side: Set(word("/statistics/depth/settled/side")),
        asks: Set(word("/proposal/change/kind")),
        practice_id: Set(sheet.practice_id),
        id: Set(by.id),
        recommendation_id: Set(sheet.id),
        dug_at: Set(given.dug_at),
        observation: Set(serde_json::to_value(given).map_err(ApiError::internal)?),
        result: Set(result),
        created_at: Set(by.now),
        created_by: Set(by.account_id),
        fingerprint: Set(Some(fingerprint)),
        notices: Set(Some(serde_json::to_value(notices).map_err(ApiError::internal)?)),
    })
}

fn adjustment_row(
    dig: &dig_checks::Model,
    id: Uuid,
    judged: &Judgement,
) -> serde_json::Result<adjustments::ActiveModel> {
    Ok(adjustments::ActiveModel {
        practice_id: Set(dig.practice_id),
        id: Set(id),
        dig_check_id: Set(dig.id),
        recommendation_id: Set(dig.recommendation_id),
        status: Set(adjustments::Status::Proposed),
        proposal: Set(serde_json::to_value(&judged.proposal)?),
        decided_at: Set(None),
        decided_by: Set(None),
        reason: Set(None),
        next_recommendation_id: Set(None),
        created_at: Set(dig.created_at),
        updated_at: Set(dig.created_at),
        version: Set(1),
    })
}

/// What a stored dig check was judged to say.
pub fn judgement_of(row: &dig_checks::Model) -> Result<Judgement, ApiError> {
    serde_json::from_value(row.result.clone()).map_err(ApiError::internal)
}

/// What was to be noticed about a dig check; nothing was kept before there were notices.
pub fn notices_of(row: &dig_checks::Model) -> Result<Vec<DigNotice>, ApiError> {
    let Some(notices) = row.notices.clone() else { return Ok(Vec::new()) };
    serde_json::from_value(notices).map_err(ApiError::internal)
}
