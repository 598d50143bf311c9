//! What is odd about a planting but possible: it is kept, and said.

use domain::quantity::{Area, Measured, System, bounds};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::plantings::Column;
use crate::http::ApiError;

/// Rounding of a unit, and a headland that was planted twice, are no reason for a word.
const MORE_THAN_THE_FIELD: f64 = 1.02;
/// A second planting within so many days is the same job, done in parts or again.
const SAME_SEASON: i64 = 120;

/// What is odd.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PlantingNoticeCode {
    /// The area that was planted is larger than the field.
    AreaAboveField,
    /// The field has another planting of the same season: a part of it, or planted again.
    PlantedBefore,
}

/// Something odd about a planting.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(examples(json!({
    "code": "area_above_field",
    "words": "52 ac were planted in a field of 40 ac: check the area, or the field's."
})))]
pub struct PlantingNotice {
    /// What is odd.
    pub code: PlantingNoticeCode,
    /// It in words.
    #[schema(example = "52 ac were planted in a field of 40 ac: check the area, or the field's.")]
    pub words: String,
    /// The other planting that it is about.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub planting_id: Option<Uuid>,
}

/// A planting that is about to be kept.
#[derive(Debug, Clone, Copy)]
pub(super) struct About {
    pub id: Uuid,
    pub field_id: Uuid,
    pub planted_on: chrono::NaiveDate,
    pub planted: Option<Area>,
    pub field: Option<Area>,
}

/// All that is odd about it.
pub(super) async fn of(
    db: &impl ConnectionTrait,
    scope: Scope,
    about: About,
) -> Result<Vec<PlantingNotice>, ApiError> {
    let mut found: Vec<PlantingNotice> = too_large(about).into_iter().collect();
    let before = scope
        .plantings()
        .filter(Column::FieldId.eq(about.field_id))
        .filter(Column::Id.ne(about.id))
        .filter(Column::PlantedOn.lte(about.planted_on))
        .order_by_desc(Column::PlantedOn)
        .order_by_desc(Column::Id)
        .one(db)
        .await?;
    let near = |days: i64| (0..SAME_SEASON).contains(&days);
    let before = before.filter(|row| near((about.planted_on - row.planted_on).num_days()));
    found.extend(before.map(|row| PlantingNotice {
        code: PlantingNoticeCode::PlantedBefore,
        words: format!(
            "The field was planted before, on {}: a part of it, or is this planted again?",
            row.planted_on
        ),
        planting_id: Some(row.id),
    }));
    Ok(found)
}

fn too_large(about: About) -> Option<PlantingNotice> {
    let (planted, field) = about.planted.zip(about.field)?;
    let acres = |area: Area| bounds::FIELD_AREA.show(area, System::Us).0;
    (planted.si() > MORE_THAN_THE_FIELD * field.si()).then(|| PlantingNotice {
        code: PlantingNoticeCode::AreaAboveField,
        words: format!(
            "{:.1} ac were planted in a field of {:.1} ac: check the area, or the field's.",
            acres(planted),
            acres(field)
        ),
        planting_id: None,
    })
}
