//! `/v1/external/{system}/planters/{their_id}`

mod delete;
mod get;
mod put;

use sea_orm::ConnectionTrait;

use super::dto::{ExternalId, ExternalPlanter, PutOutcome};
use crate::auth::Scope;
use crate::http::{ApiError, ETag};
use crate::operations::Operations;
use crate::v1::planters::dto::Planter;
use crate::v1::planters::store;

/// The operations of this folder.
pub(super) fn routes(operations: &mut Operations<'_>) {
    operations.service(put::put).service(get::get).service(delete::delete);
}

/// Our planter beside their id. The tag has the version of the planter, for `If-Match`.
async fn show(
    db: &impl ConnectionTrait,
    scope: Scope,
    (outcome, external_id): (Option<PutOutcome>, ExternalId),
) -> Result<(ExternalPlanter, ETag), ApiError> {
    let id = external_id.object_id;
    let row = store::find(db, scope, id).await?;
    let tag = ETag::of(row.version).and(&external_id)?;
    let shown = Planter::show(row)?;
    Ok((ExternalPlanter { outcome, external_id, planter: shown }, tag))
}
