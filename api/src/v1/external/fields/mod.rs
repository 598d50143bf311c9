//! `/v1/external/{system}/fields/{their_id}`

mod delete;
mod get;
mod put;

use sea_orm::ConnectionTrait;

use super::dto::{ExternalField, ExternalId, PutOutcome};
use crate::auth::Scope;
use crate::http::{ApiError, ETag};
use crate::operations::Operations;
use crate::v1::fields::dto::Field;
use crate::v1::fields::store;
use crate::v1::units::Units;

/// The operations of this folder.
pub(super) fn routes(operations: &mut Operations<'_>) {
    operations.service(put::put).service(get::get).service(delete::delete);
}

/// Our field beside their id. The tag has the version of the field, for `If-Match`.
async fn show(
    db: &impl ConnectionTrait,
    scope: Scope,
    (outcome, external_id): (Option<PutOutcome>, ExternalId),
    units: Units,
) -> Result<(ExternalField, ETag), ApiError> {
    let id = external_id.object_id;
    let row = store::find(db, scope, id).await?;
    let tag = ETag::of(row.version).in_form(units.code()).and(&external_id)?;
    let shown = Field::show(row, units)?;
    Ok((ExternalField { outcome, external_id, field: shown }, tag))
}
