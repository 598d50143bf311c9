//! Dig checks in the database. Every query starts from the caller's scope.

use std::collections::HashMap;

use domain::dig::{Change, Context, Ignored, Judgement, judge};
use domain::provenance::Text;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, DatabaseConnection,
    PaginatorTrait, QueryFilter, QuerySelect,
};
use uuid::Uuid;

use super::observation::DigCheckIn;
use crate::auth::Scope;
use crate::db;
use crate::entities::recommendations::Status;
use crate::entities::{adjustments, dig_checks, recommendations};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};
use crate::v1::author::Author;
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
    page: PageRequest,
) -> Result<(Vec<dig_checks::Model>, Option<String>), ApiError> {
    let rows =
        scope.dig_checks().filter(dig_checks::Column::RecommendationId.eq(recommendation_id));
    let rows = page.of(rows, dig_checks::Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
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

/// Judges a dig and stores it with the adjustment that it proposes, both or neither.
///
/// Gives the id of the adjustment where there is one: `adjustment_id`.
///
/// # Errors
/// 404 when the recommendation is not in scope, 409 when it is a draft or was superseded, 422 for
/// readings that can't be.
pub async fn insert(
    db: &DatabaseConnection,
    scope: Scope,
    by: Author,
    recommendation_id: Uuid,
    adjustment_id: Uuid,
    given: &DigCheckIn,
) -> Result<(dig_checks::Model, Option<Uuid>), ApiError> {
    let tx = db::begin(db).await?;
    let sheet = sheets::find(&tx, scope, recommendation_id).await?;
    let inputs = sheets::inputs_of(&sheet)?;
    let dig = given.parse(by.now, &inputs.planter)?;
    let sheet = lock(&tx, scope, sheet.id).await?;
    let result = sheets::result_of(&sheet)?;
    let figures = sheets::figures_of(&tx, &sheet).await?;
    let before = digs_before(&tx, &sheet).await?;
    let case = Context::of_sheet(&inputs, &result, &figures, before);
    let mut judged = judge(&dig, &case);
    judged.ignored.extend(unknown_pressure(given, dig.settings().down_force.is_some()));
    let row = dig_row(&sheet, by, given, &judged).map_err(ApiError::internal)?;
    let row = row.insert(&tx).await?;
    let asked = asks_for_a_change(&judged.proposal.change);
    if asked {
        let row = adjustment_row(&row, adjustment_id, &judged).map_err(ApiError::internal)?;
        row.insert(&tx).await?;
    }
    tx.commit().await?;
    Ok((row, asked.then_some(adjustment_id)))
}

/// Holds the recommendation until the end of the transaction, so that its status stays and digs
/// that come in at one moment count each other.
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
        Status::Issued | Status::Acknowledged => Ok(held),
        Status::Draft => Err(wrong_state("The recommendation is a draft. Issue it first.")),
        Status::Superseded => Err(wrong_state(
            "The recommendation was superseded. Send the dig check to the revision that counts.",
        )),
    }
}

fn wrong_state(why: &str) -> ApiError {
    ApiError::new(ProblemCode::WrongState, why)
}

/// Digs of all revisions of the series that came in before this one.
async fn digs_before(
    db: &impl ConnectionTrait,
    sheet: &recommendations::Model,
) -> Result<u32, ApiError> {
    let scope = Scope::of_practice(sheet.practice_id);
    let series: Vec<Uuid> = scope
        .recommendations()
        .select_only()
        .column(recommendations::Column::Id)
        .filter(recommendations::Column::SeriesId.eq(sheet.series_id))
        .into_tuple()
        .all(db)
        .await?;
    let digs = scope
        .dig_checks()
        .filter(dig_checks::Column::RecommendationId.is_in(series))
        .count(db)
        .await?;
    Ok(u32::try_from(digs).unwrap_or(u32::MAX))
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

fn dig_row(
    sheet: &recommendations::Model,
    by: Author,
    given: &DigCheckIn,
    judged: &Judgement,
) -> serde_json::Result<dig_checks::ActiveModel> {
    Ok(dig_checks::ActiveModel {
        practice_id: Set(sheet.practice_id),
        id: Set(by.id),
        recommendation_id: Set(sheet.id),
        dug_at: Set(given.dug_at),
        observation: Set(serde_json::to_value(given)?),
        result: Set(serde_json::to_value(judged)?),
        created_at: Set(by.now),
        created_by: Set(by.account_id),
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
        version: Set(1),
    })
}

/// What a stored dig check was judged to say.
pub fn judgement_of(row: &dig_checks::Model) -> Result<Judgement, ApiError> {
    serde_json::from_value(row.result.clone()).map_err(ApiError::internal)
}
