//! A conditions report inside the body of a calculation.

use chrono::{DateTime, Utc};
use domain::conditions::Conditions;

use crate::http::{ApiError, BadMember, Refused};
use crate::v1::conditions::dto::ConditionsIn;

/// Where the report stands in the body.
const AT: &str = "/conditions";

/// The report in the domain; each refusal is named by its place in the body.
pub(super) fn conditions(
    given: &ConditionsIn,
    now: DateTime<Utc>,
    refused: &mut Refused,
) -> Option<Conditions> {
    refused.take_all(given.parse(now).map_err(|error| inside(AT, &error)))
}

/// The members of a refusal, by their place in a body that holds the refused part at `at`.
pub(super) fn inside(at: &str, error: &ApiError) -> Vec<BadMember> {
    let moved = |member: &BadMember| BadMember {
        pointer: format!("{at}{}", member.pointer),
        ..member.clone()
    };
    error.members().iter().map(moved).collect()
}
