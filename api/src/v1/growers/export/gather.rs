//! Reads all that belongs to a grower.

use std::collections::BTreeMap;

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder};
use uuid::Uuid;

use super::dto::{ExportedLesson, GrowerExport};
use super::{external, reach, shed, stands, trials};
use crate::app::AppState;
use crate::auth::{Scope, Sees};
use crate::entities::{
    access_links, accounts, adjustments, calibrations, conditions_reports, dig_checks, dig_lessons,
    farms, fields, growers, planters, recommendations,
};
use crate::http::ApiError;
use crate::v1::access_links::dto::AccessLink;
use crate::v1::accounts::dto::Account;
use crate::v1::adjustments::dto::Adjustment;
use crate::v1::calibrations::dto::Calibration;
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::dto::ConditionsReport;
use crate::v1::dig_checks::answer::DigCheck;
use crate::v1::farms::dto::Farm;
use crate::v1::fields::dto::Field;
use crate::v1::growers::dto::Grower;
use crate::v1::planters::dto::Planter;
use crate::v1::practice;
use crate::v1::recommendations::answer::Recommendation;
use crate::v1::recommendations::in_shed::Sheds;
use crate::v1::units::Units;

/// All that belongs to a grower, oldest first.
pub(super) async fn gather(
    app: &AppState,
    grower: growers::Model,
    units: Units,
) -> Result<GrowerExport, ApiError> {
    let (db, now) = (&app.db, app.clock.now());
    let scope = Scope { practice_id: grower.practice_id, sees: Sees::Grower(grower.id) };
    let farms = scope.farms().order_by_asc(farms::Column::Id).all(db).await?;
    let fields = scope.fields().order_by_asc(fields::Column::Id).all(db).await?;
    let planters = scope.planters().order_by_asc(planters::Column::Id).all(db).await?;
    let calibrations = scope.calibrations().order_by_asc(calibrations::Column::Id).all(db).await?;
    let recommendations =
        scope.recommendations().order_by_asc(recommendations::Column::Id).all(db).await?;
    let lessons = scope.dig_lessons().order_by_asc(dig_lessons::Column::Id).all(db).await?;
    let links = links(db, &grower).await?;
    let in_shed = shed::gather(db, scope, (&planters, units)).await?;
    let grown = stands::gather(db, scope, units).await?;
    let said = external::gather(db, scope).await?;
    let (dig_checks, adjustments) = digs(db, scope, units).await?;
    Ok(GrowerExport {
        exported_at: now,
        farms: farms.into_iter().map(Farm::from).collect(),
        fields: shown(fields, |row| Field::show(row, units))?,
        planters: shown(planters, Planter::show)?,
        calibrations: shown(calibrations, |row| Calibration::show(row, units))?,
        conditions: conditions(db, scope).await?,
        recommendations: sheets(db, recommendations, units).await?,
        dig_checks,
        adjustments,
        lessons: lessons.into_iter().map(ExportedLesson::from).collect(),
        accounts: accounts(db, &grower).await?,
        access_links: links.into_iter().map(|row| AccessLink::at(now, row)).collect(),
        trials: trials::trials(db, scope).await?,
        inspections: in_shed.inspections,
        repairs: in_shed.repairs,
        wear_limits: in_shed.wear_limits,
        plantings: grown.plantings,
        temperatures: grown.temperatures,
        stand_counts: grown.stand_counts,
        yields: grown.yields,
        external_ids: said.ids,
        record_matches: said.waiting,
        record_conflicts: said.conflicts,
        attention_marks: reach::attention_marks(db, &grower).await?,
        calendar_feeds: reach::calendar_feeds(db, &grower).await?,
        mail: reach::mail(db, &grower).await?,
        jobs: reach::jobs(db, &grower).await?,
        grower: Grower::from(grower),
    })
}

fn shown<R, T>(rows: Vec<R>, show: impl Fn(R) -> Result<T, ApiError>) -> Result<Vec<T>, ApiError> {
    rows.into_iter().map(show).collect()
}

async fn sheets(
    db: &impl ConnectionTrait,
    rows: Vec<recommendations::Model>,
    units: Units,
) -> Result<Vec<Recommendation>, ApiError> {
    let (mut sheds, mut told) = (Sheds::default(), Vec::with_capacity(rows.len()));
    for row in rows {
        let beside = sheds.beside(db, &row, units.into()).await?;
        told.push(Recommendation::of(&row, units.into(), beside)?);
    }
    Ok(told)
}

async fn conditions(
    db: &impl ConnectionTrait,
    scope: Scope,
) -> Result<Vec<ConditionsReport>, ApiError> {
    let figures = figures_in_force(db, scope).await?;
    let rows =
        scope.conditions_reports().order_by_asc(conditions_reports::Column::Id).all(db).await?;
    shown(rows, |row| ConditionsReport::of(&row, &figures))
}

async fn digs(
    db: &impl ConnectionTrait,
    scope: Scope,
    units: Units,
) -> Result<(Vec<DigCheck>, Vec<Adjustment>), ApiError> {
    let digs = scope.dig_checks().order_by_asc(dig_checks::Column::Id).all(db).await?;
    let changes = scope.adjustments().order_by_asc(adjustments::Column::Id).all(db).await?;
    let proposed: BTreeMap<Uuid, Uuid> =
        changes.iter().map(|row| (row.dig_check_id, row.id)).collect();
    let dig_checks =
        shown(digs, |row| DigCheck::of(&row, proposed.get(&row.id).copied(), units.into()))?;
    Ok((dig_checks, shown(changes, |row| Adjustment::of(row, units.into()))?))
}

async fn accounts(
    db: &impl ConnectionTrait,
    grower: &growers::Model,
) -> Result<Vec<Account>, ApiError> {
    let name = practice::store::find(db, grower.practice_id).await?.name;
    let rows = accounts::Entity::find()
        .filter(accounts::Column::PracticeId.eq(grower.practice_id))
        .filter(accounts::Column::GrowerId.eq(grower.id))
        .order_by_asc(accounts::Column::Id)
        .all(db)
        .await?;
    Ok(rows.into_iter().map(|row| Account::of(row, name.clone())).collect())
}

async fn links(
    db: &impl ConnectionTrait,
    grower: &growers::Model,
) -> Result<Vec<access_links::Model>, ApiError> {
    let rows = access_links::Entity::find()
        .filter(access_links::Column::PracticeId.eq(grower.practice_id))
        .filter(access_links::Column::GrowerId.eq(grower.id))
        .order_by_asc(access_links::Column::Id);
    Ok(rows.all(db).await?)
}
