//! The answer to a decision.

use sea_orm::DatabaseTransaction;

use super::dto::Adjustment;
use crate::entities::adjustments::Model;
use crate::http::{Answer, ApiError, ETag};
use crate::v1::units::Units;
use crate::writes::{Done, Touched};

/// An adjustment that was decided, for the audit trail and for those who follow.
pub(super) async fn touched(tx: &DatabaseTransaction, row: &Model) -> Result<Touched, ApiError> {
    let touched = Touched::new("adjustment", row.id).in_version(row.version);
    touched.behind(tx, (row.practice_id, row.recommendation_id)).await
}

/// The answer with it.
pub(super) fn done(
    touched: Touched,
    row: Model,
    units: Units,
) -> Result<Done<Adjustment>, ApiError> {
    let etag = ETag::of(row.version).in_form(units.code());
    let answer = Answer::ok(Adjustment::of(row, units.into())?).tagged(&etag);
    Ok(Done::new(touched, answer))
}
