//! Whether planter and recommendation go with the field.

use sea_orm::ConnectionTrait;
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::fields;
use crate::entities::recommendations::Status;
use crate::http::{ApiError, BadMember, ProblemCode};
use crate::v1::{farms, planters, recommendations};

/// Checks the planter of a planting in a field.
///
/// # Errors
/// 422 when there is no such planter, or when it is another grower's.
pub(super) async fn planter(
    db: &impl ConnectionTrait,
    scope: Scope,
    field: &fields::Model,
    planter_id: Uuid,
) -> Result<(), ApiError> {
    let planter = planters::store::find_reference(db, scope, planter_id).await?;
    let farm = farms::store::find(db, scope, field.farm_id).await?;
    if farm.grower_id == planter.grower_id {
        return Ok(());
    }
    let detail = "The planter belongs to another grower than the field.";
    Err(BadMember::new("/planter_id", detail).given(planter.id).into())
}

/// Checks the recommendation that a planting followed.
///
/// # Errors
/// 422 when it is not there, is a draft, or was made for another field or planter.
pub(super) async fn recommendation(
    db: &impl ConnectionTrait,
    scope: Scope,
    (field_id, planter_id): (Uuid, Uuid),
    id: Uuid,
) -> Result<(), ApiError> {
    let bad = |detail: &str| BadMember::new("/recommendation_id", detail).given(id);
    let found = recommendations::store::find(db, scope, id).await;
    let sheet = found.map_err(|error| match error.code() {
        ProblemCode::NotFound => bad("There is no such recommendation.").into(),
        _ => error,
    })?;
    if sheet.field_id != field_id {
        return Err(bad("The recommendation is for another field.").into());
    }
    if sheet.planter_id != planter_id {
        return Err(bad("The recommendation is for another planter.").into());
    }
    match sheet.status {
        Status::Issued | Status::Acknowledged | Status::Superseded => Ok(()),
        Status::Draft => Err(bad("The recommendation is a draft: nobody planted by it.").into()),
    }
}
