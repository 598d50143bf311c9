//! The adjustment that a decision is about, if there is anything left to decide.

use sea_orm::{ColumnTrait, ConnectionTrait, DatabaseTransaction, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::store::Decision;
use crate::auth::Scope;
use crate::entities::adjustments::{Column, Model, Status};
use crate::entities::recommendations;
use crate::http::{ApiError, ProblemCode};
use crate::v1::recommendations::store as sheets;

/// The adjustment, held until the end of the transaction, if it is still to be decided. That it was
/// decided is said before that it was read in another version: reading it anew would not help.
pub(super) async fn open(
    tx: &DatabaseTransaction,
    scope: Scope,
    decision: Decision<'_>,
) -> Result<Model, ApiError> {
    let found = scope
        .adjustments()
        .filter(Column::Id.eq(decision.id))
        .lock_exclusive()
        .one(tx)
        .await?
        .ok_or_else(|| ApiError::not_found("adjustment"))?;
    if found.status == Status::Proposed {
        decision.expected.check(found.version)?;
        return Ok(found);
    }
    Err(ApiError::new(ProblemCode::WrongState, decided(&found)))
}

/// What was decided, and what can be done now.
fn decided(row: &Model) -> String {
    match (row.status, row.next_recommendation_id, &row.reason) {
        (Status::Declined, _, Some(reason)) => {
            format!(
                "The adjustment was declined already (\"{reason}\"). A decision stays: dig again, and the next dig proposes anew."
            )
        }
        (Status::Accepted, Some(next), _) => {
            format!(
                "The adjustment was accepted already, and made recommendation {next}. A decision stays: change your mind by revising that one."
            )
        }
        (Status::Proposed | Status::Accepted | Status::Declined, _, _) => {
            "The adjustment was decided already. A decision stays.".to_owned()
        }
    }
}

/// The revision that was dug behind, if it still is the one that counts.
pub(super) async fn still_counts(
    tx: &impl ConnectionTrait,
    scope: Scope,
    id: Uuid,
) -> Result<recommendations::Model, ApiError> {
    use recommendations::{Column, Status as Sheet};
    let sheet = sheets::find(tx, scope, id).await?;
    if sheet.status != Sheet::Superseded {
        return Ok(sheet);
    }
    let counts = sheets::visible(scope)
        .filter(Column::SeriesId.eq(sheet.series_id))
        .filter(Column::Status.is_in([Sheet::Issued, Sheet::Acknowledged]))
        .one(tx)
        .await?;
    let counts = counts.map_or_else(String::new, |it| format!(" Revision {} counts now.", it.id));
    let why = format!(
        "The change was proposed for a revision that was replaced since, so what it would change is no longer set.{counts} Decline it, and dig behind the revision that counts."
    );
    Err(ApiError::new(ProblemCode::WrongState, why))
}
