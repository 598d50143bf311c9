//! Records that were erased here: whether they may come again.

use sea_orm::DatabaseTransaction;

use super::tied::tie_to;
use super::{Decided, Decision, incoming};
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::record_matches;
use crate::exchange::intake::apply::{By, apply};
use crate::exchange::intake::erased::lift;
use crate::exchange::intake::outcome::{Counts, Source};
use crate::exchange::intake::plan::plan;
use crate::exchange::intake::report::{IntakeReport, IntakeWait};
use crate::http::{ApiError, BadMember, ProblemCode};

/// Carries out what a person said of a record that was erased here: it may come again, as a new one
/// or as one of our objects. Nothing of it was kept, so it is taken when it is sent next.
pub(super) async fn decide_erased(
    tx: &DatabaseTransaction,
    app: &AppState,
    by: &By,
    (scope, source): (Scope, &Source),
    (waiting, decision): (&record_matches::Model, Decision),
) -> Result<Decided, ApiError> {
    if waiting.waits_for == IntakeWait::Parent {
        let detail = "What the record belongs to was erased here too. Decide that first, once it is \
                      sent.";
        return Err(ApiError::new(ProblemCode::WrongState, detail));
    }
    let record = incoming(waiting)?;
    let (record, grower_id) = match decision {
        Decision::New(Some(_)) => {
            let detail =
                "Nothing of the record was kept: it asks for its make-up once it is sent again.";
            return Err(BadMember::new("/makeup", detail).into());
        }
        Decision::New(None) => (IntakeReport::to_come(&record), None),
        Decision::Same(object_id) => {
            tie_to(tx, app, scope, (waiting, &record), object_id).await?;
            let planned = plan(tx, scope, source, vec![record]).await?;
            let row = apply(tx, app, by, planned).await?.rows.pop();
            let row =
                row.ok_or_else(|| ApiError::internal("the record that was decided is lost"))?;
            (IntakeReport::of(&row).done(&row), row.grower_id)
        }
    };
    let beside = lift(tx, waiting).await?;
    Ok(Decided { record, grower_id, followed: Counts { waiting: beside, ..Counts::default() } })
}
