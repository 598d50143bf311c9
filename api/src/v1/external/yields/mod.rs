//! `/v1/external/{system}/yields/{their_id}`

mod delete;
mod get;
mod put;

use sea_orm::ConnectionTrait;

use super::dto::{ExternalId, ExternalYield, PutOutcome};
use crate::auth::Scope;
use crate::http::{ApiError, ETag};
use crate::operations::Operations;
use crate::v1::units::Units;
use crate::v1::yields::dto::Yield;
use crate::v1::yields::store;

/// The operations of this folder.
pub(super) fn routes(operations: &mut Operations<'_>) {
    operations.service(put::put).service(get::get).service(delete::delete);
}

/// Our yield beside their id. The tag has the version of the yield, for `If-Match`.
async fn show(
    db: &impl ConnectionTrait,
    scope: Scope,
    (outcome, external_id): (Option<PutOutcome>, ExternalId),
    units: Units,
) -> Result<(ExternalYield, ETag), ApiError> {
    let id = external_id.object_id;
    let row = store::find(db, scope, id).await?;
    let tag = ETag::of(row.version).in_form(units.code()).and(&external_id)?;
    let shown = Yield::show(row, units)?;
    Ok((ExternalYield { outcome, external_id, r#yield: shown }, tag))
}
