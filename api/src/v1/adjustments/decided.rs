//! The answer to a decision.

use sea_orm::DatabaseTransaction;

use super::dto::Adjustment;
use crate::entities::adjustments::Model;
use crate::http::{Answer, ApiError, ETag};
use crate::v1::units::Units;
use crate::writes::{Done, Touched};

/// An adjustment that was decided.
pub(super) async fn done(
    tx: &DatabaseTransaction,
    row: Model,
    units: Units,
) -> Result<Done<Adjustment>, ApiError> {
    let touched = Touched::new("adjustment", row.id);
    let touched = touched.behind(tx, (row.practice_id, row.recommendation_id)).await?;
    let etag = ETag::of(row.version).in_form(units.code());
    let answer = Answer::ok(Adjustment::of(row, units.into())?).tagged(&etag);
    Ok(Done::new(touched, answer))
}
