//! What every `DELETE` under a records system does.

use crate::app::AppState;
use crate::auth::{Caller, CanConnect};
use crate::exchange::intake::{self, Kind};
use crate::http::{Answer, ApiError};
use crate::writes::{Done, Touched, Write, Written};

use super::path::ItsId;
use super::store;

/// Ends the tie of an id.
pub(super) async fn untie(
    app: &AppState,
    caller: &Caller<CanConnect>,
    write: Write,
    (its, kind): (ItsId, Kind),
) -> Result<Written<()>, ApiError> {
    write
        .run(app, caller, async |tx| {
            let tie = store::find(tx, caller.scope(), &its, kind).await?;
            intake::end_tie(tx, &tie).await?;
            let touched = Touched::new("external_id", tie.id);
            let touched = match tie.grower_id {
                Some(grower_id) => touched.of_grower(grower_id),
                None => touched,
            };
            Ok(Done::new(touched, Answer::done()))
        })
        .await
}
