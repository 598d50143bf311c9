//! A planting with the temperatures of its farm.

use chrono::{Days, NaiveDate};
use domain::stand::Known;
use sea_orm::ConnectionTrait;
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::plantings;
use crate::http::{ApiError, BadMember};
use crate::v1::plantings::need::{self, Need};
use crate::v1::{fields, plantings as plantings_of, temperatures};

/// Longest gap that is ever filled, days.
pub(super) const MOST_FILLED: u8 = 5;
/// Days after planting that are read.
const READ: u64 = 200;

/// A planting and what is known for it.
#[derive(Debug)]
pub(super) struct Gathered {
    pub planting: plantings::Model,
    pub need: Need,
    pub known: Known,
}

/// Reads them.
pub(super) async fn of(
    db: &impl ConnectionTrait,
    scope: Scope,
    planting_id: Uuid,
) -> Result<Gathered, ApiError> {
    let planting = plantings_of::store::find(db, scope, planting_id).await?;
    let field = fields::store::find(db, scope, planting.field_id).await?;
    let day = planting.planted_on;
    // A few days before: they may stand beside a gap.
    let first = day.checked_sub_days(Days::new(u64::from(MOST_FILLED))).unwrap_or(day);
    let span = (first, later(day, READ));
    let known = temperatures::store::known(db, scope, field.farm_id, span).await?;
    Ok(Gathered { need: need::stored(&planting)?, planting, known })
}

/// So many days later.
pub(super) fn later(day: NaiveDate, days: u64) -> NaiveDate {
    day.checked_add_days(Days::new(days)).unwrap_or(day)
}

/// The longest gap that is to be filled.
pub(super) fn fill(pointer: &str, asked: Option<u8>) -> Result<u8, BadMember> {
    let fill = asked.unwrap_or(0);
    if fill <= MOST_FILLED {
        return Ok(fill);
    }
    let member = BadMember::new(pointer, "The gap is too long to be filled.").given(fill);
    let why = "the mean of two days says little of a week between them";
    Err(member.allowed(format!("0 to {MOST_FILLED} days")).why(why))
}
