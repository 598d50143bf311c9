//! Calibrations in the database. Every query starts from the caller's scope.

use chrono::NaiveDate;
use domain::planter::Calibration;
use sea_orm::{
    ActiveModelTrait, ActiveValue::Set, ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder,
};
use uuid::Uuid;

use super::dto::{self, CalibrationPoint};
use crate::auth::Scope;
use crate::entities::{calibrations, planters};
use crate::http::page::PageRequest;
use crate::http::{ApiError, ProblemCode};
use crate::v1::author::Author;
use crate::v1::planters::makeup::DownForceSource;
use crate::v1::planters::store::makeup;

/// A calibration to be stored.
#[derive(Debug)]
pub struct NewCalibration {
    /// The day of the measurement.
    pub calibrated_on: NaiveDate,
    /// What was measured, checked.
    pub points: Vec<CalibrationPoint>,
    /// Notes.
    pub notes: Option<String>,
}

/// The newest calibration of a planter: of the latest day, and of that day the last entered.
pub async fn newest(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
) -> Result<Option<calibrations::Model>, ApiError> {
    let rows = scope.calibrations().filter(calibrations::Column::PlanterId.eq(planter_id));
    let rows = rows
        .order_by_desc(calibrations::Column::CalibratedOn)
        .order_by_desc(calibrations::Column::Id);
    Ok(rows.one(db).await?)
}

/// The fitted line of a stored calibration.
pub fn line(row: &calibrations::Model) -> Result<Calibration, ApiError> {
    let points: Vec<CalibrationPoint> =
        serde_json::from_value(row.points.clone()).map_err(ApiError::internal)?;
    dto::fit("/points", &points)
        .map_err(|bad| ApiError::internal(format!("calibration {}: {bad:?}", row.id)))
}

/// A page of the calibrations of a planter.
pub async fn page(
    db: &impl ConnectionTrait,
    scope: Scope,
    planter_id: Uuid,
    page: &PageRequest,
) -> Result<(Vec<calibrations::Model>, Option<String>), ApiError> {
    let rows = scope.calibrations().filter(calibrations::Column::PlanterId.eq(planter_id));
    let rows = page.of(rows, calibrations::Column::Id).all(db).await?;
    Ok(page.cut(rows, |row| row.id))
}

/// Stores a calibration of a planter that has a pressure to calibrate.
pub async fn insert(
    db: &impl ConnectionTrait,
    planter: &planters::Model,
    author: Author,
    new: NewCalibration,
) -> Result<calibrations::Model, ApiError> {
    check_has_pressure(planter)?;
    let NewCalibration { calibrated_on, points, notes } = new;
    let row = calibrations::ActiveModel {
        practice_id: Set(planter.practice_id),
        id: Set(author.id),
        planter_id: Set(planter.id),
        calibrated_on: Set(calibrated_on),
        points: Set(serde_json::to_value(points).map_err(ApiError::internal)?),
        notes: Set(notes),
        created_at: Set(author.now),
        created_by: Set(author.account_id),
    };
    Ok(row.insert(db).await?)
}

fn check_has_pressure(planter: &planters::Model) -> Result<(), ApiError> {
    match makeup(planter)?.down_force {
        DownForceSource::AirBag {} | DownForceSource::Hydraulic { .. } => Ok(()),
        DownForceSource::WeightOnly {} | DownForceSource::Spring { .. } => Err(ApiError::new(
            ProblemCode::WrongState,
            "This planter has no air bags or cylinders, so there is no pressure to calibrate.",
        )),
    }
}
