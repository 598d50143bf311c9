//! Work of the service that failed for good: mail that was refused.

use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect};

use super::words::count;
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency};
use crate::entities::jobs::{Column, Entity, Kind, Model, Status};
use crate::http::ApiError;

/// The newest of them; all are under `/v1/jobs`.
const MOST: u64 = 200;

/// Those of the practice, and of the growers that are asked for.
pub(super) async fn failed(asking: &Asking<'_>) -> Result<Vec<Found>, ApiError> {
    let mut rows = Entity::find()
        .filter(Column::PracticeId.eq(asking.scope.practice_id))
        .filter(Column::Status.eq(Status::Dead))
        .order_by_desc(Column::Id)
        .limit(MOST);
    if let Some(ids) = asking.grower_ids() {
        rows = rows.filter(Column::GrowerId.in_subquery(ids));
    }
    Ok(rows.all(asking.db).await?.into_iter().map(|job| one(asking, job)).collect())
}

fn one(asking: &Asking<'_>, job: Model) -> Found {
    let at = job.finished_at.unwrap_or(job.created_at);
    let what = match job.kind {
        Kind::Digest => "A digest",
        Kind::SheetReady => "The mail that a sheet is ready",
        Kind::PasswordLink => "The mail with a link that sets a password",
        Kind::AccessLink => "The mail with an access link",
    };
    let tries = count(i64::from(job.attempts), "try").replace("trys", "tries");
    let why = job.last_error.unwrap_or_default();
    Found {
        kind: AttentionKind::JobFailed,
        matter: job.id,
        object: (AttentionObjectKind::Job, job.id),
        grower_id: job.grower_id,
        field_id: None,
        planter_id: None,
        event_at: at,
        from: at,
        due: asking.calendar.today(at),
        urgency: Urgency::Soon,
        reason: format!("{what} did not go out after {tries}: {why}"),
        next: "Mend the address or the mail settings and have it tried again, or delete the job.",
    }
}
