//! `/v1/external/{system}/growers/{their_id}`

mod delete;
mod get;
mod put;

use sea_orm::ConnectionTrait;

use super::dto::{ExternalGrower, ExternalId, PutOutcome};
use crate::auth::Scope;
use crate::http::{ApiError, ETag};
use crate::operations::Operations;
use crate::v1::growers::dto::Grower;
use crate::v1::growers::store;

/// The operations of this folder.
pub(super) fn routes(operations: &mut Operations<'_>) {
    operations.service(put::put).service(get::get).service(delete::delete);
}

/// Our grower beside their id. The tag has the version of the grower, for `If-Match`.
async fn show(
    db: &impl ConnectionTrait,
    scope: Scope,
    (outcome, external_id): (Option<PutOutcome>, ExternalId),
) -> Result<(ExternalGrower, ETag), ApiError> {
    let id = external_id.object_id;
    let row = store::find(db, scope, id).await?;
    let tag = ETag::of(row.version).and(&external_id)?;
    let shown = Grower::from(row);
    Ok((ExternalGrower { outcome, external_id, grower: shown }, tag))
}
