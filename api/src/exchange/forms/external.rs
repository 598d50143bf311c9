//! The ids that records systems have for our objects.

use std::collections::HashMap;

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::entities::external_ids::{Column, Entity};
use crate::http::ApiError;

/// What a records system calls an object of ours.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({"system": "records", "their_id": "F-1042"})))]
pub struct IdElsewhere {
    /// The name that the practice gives the records system.
    #[schema(max_length = 40, example = "records")]
    pub system: String,
    /// The id there.
    #[schema(max_length = 200, example = "F-1042")]
    pub their_id: String,
}

/// What records systems call objects of ours.
#[derive(Debug, Default)]
pub struct ExternalIds(HashMap<Uuid, Vec<IdElsewhere>>);

impl ExternalIds {
    /// Of these objects, which the caller may see.
    pub async fn read(
        db: &impl ConnectionTrait,
        practice_id: Uuid,
        ids: &[Uuid],
    ) -> Result<Self, ApiError> {
        let rows: Vec<(Uuid, String, String)> = Entity::find()
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::ObjectId.is_in(ids.iter().copied()))
            .select_only()
            .columns([Column::ObjectId, Column::System, Column::TheirId])
            .order_by_asc(Column::System)
            .order_by_asc(Column::TheirId)
            .into_tuple()
            .all(db)
            .await?;
        let mut known: HashMap<Uuid, Vec<IdElsewhere>> = HashMap::new();
        for (object_id, system, their_id) in rows {
            known.entry(object_id).or_default().push(IdElsewhere { system, their_id });
        }
        Ok(Self(known))
    }

    /// Of one object.
    pub fn of(&self, id: Uuid) -> impl Iterator<Item = &IdElsewhere> {
        self.0.get(&id).into_iter().flatten()
    }
}
