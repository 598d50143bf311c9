//! When the recommendations for a field went from one status to the next.

use chrono::{DateTime, Utc};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect, Select};
use uuid::Uuid;

use super::dto::TimelineKind;
use super::moments::Moment;
use crate::auth::Scope;
use crate::entities::recommendations;
use crate::http::ApiError;

/// The times of a recommendation.
struct Sheet {
    id: Uuid,
    series_id: Uuid,
    revision: i32,
    status: recommendations::Status,
    made: (DateTime<Utc>, Uuid),
    issued: Option<(DateTime<Utc>, Uuid)>,
    acknowledged: Option<(DateTime<Utc>, Uuid)>,
}

impl Sheet {
    fn moments(&self) -> impl Iterator<Item = Moment> {
        let moment = |kind, (at, by)| Moment::new(at, kind, self.id, by);
        [
            Some(moment(TimelineKind::RecommendationMade, self.made)),
            self.issued.map(|it| moment(TimelineKind::RecommendationIssued, it)),
            self.acknowledged.map(|it| moment(TimelineKind::RecommendationAcknowledged, it)),
        ]
        .into_iter()
        .flatten()
    }
}

/// A revision is superseded when the first later one of its series is issued.
fn superseded(sheet: &Sheet, later: &[Sheet]) -> Option<Moment> {
    if sheet.status != recommendations::Status::Superseded {
        return None;
    }
    let (at, by) = later
        .iter()
        .filter(|it| it.series_id == sheet.series_id && it.revision > sheet.revision)
        .find_map(|it| it.issued)?;
    Some(Moment::new(at, TimelineKind::RecommendationSuperseded, sheet.id, by))
}

type SheetRow = (
    Uuid,
    Uuid,
    i32,
    recommendations::Status,
    DateTime<Utc>,
    Uuid,
    Option<DateTime<Utc>>,
    Option<Uuid>,
    Option<DateTime<Utc>>,
    Option<Uuid>,
);

/// When the recommendations for a field were made, issued, acknowledged and superseded.
pub(super) async fn moments(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Moment>, ApiError> {
    let sheets = sheets(db, scope, field_id).await?;
    let mut moments = Vec::new();
    for (place, sheet) in sheets.iter().enumerate() {
        moments.extend(sheet.moments());
        moments.extend(superseded(sheet, sheets.get(place..).unwrap_or_default()));
    }
    Ok(moments)
}

/// The recommendations that the caller sees, by series and revision.
async fn sheets(
    db: &impl ConnectionTrait,
    scope: Scope,
    field_id: Uuid,
) -> Result<Vec<Sheet>, ApiError> {
    use recommendations::Column;
    let rows: Vec<SheetRow> = of_field(scope, field_id)
        .select_only()
        .columns([Column::Id, Column::SeriesId, Column::Revision, Column::Status])
        .columns([Column::CreatedAt, Column::CreatedBy])
        .columns([Column::IssuedAt, Column::IssuedBy])
        .columns([Column::AcknowledgedAt, Column::AcknowledgedBy])
        .into_tuple()
        .all(db)
        .await?;
    let sheet = |row: SheetRow| Sheet {
        id: row.0,
        series_id: row.1,
        revision: row.2,
        status: row.3,
        made: (row.4, row.5),
        issued: row.6.zip(row.7),
        acknowledged: row.8.zip(row.9),
    };
    let mut sheets: Vec<Sheet> = rows.into_iter().map(sheet).collect();
    sheets.sort_by_key(|it| (it.series_id, it.revision));
    Ok(sheets)
}

/// The recommendations for a field. A grower's account never sees a draft.
pub(super) fn of_field(scope: Scope, field_id: Uuid) -> Select<recommendations::Entity> {
    use recommendations::{Column, Status};
    let rows = scope.recommendations().filter(Column::FieldId.eq(field_id));
    if scope.hides_drafts() { rows.filter(Column::Status.ne(Status::Draft)) } else { rows }
}
