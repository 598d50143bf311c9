//! The names on a page of the list: those of its entries only.

use std::collections::{BTreeSet, HashMap};

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect, Select};
use uuid::Uuid;

use super::gather::Marked;
use crate::entities::{accounts, fields, growers, planters};
use crate::http::ApiError;

/// Names by id.
#[derive(Debug, Default)]
pub struct Names {
    /// Name and advisor of growers.
    pub growers: HashMap<Uuid, (String, Option<Uuid>)>,
    /// Names of fields.
    pub fields: HashMap<Uuid, String>,
    /// Names of planters.
    pub planters: HashMap<Uuid, String>,
    /// Names of accounts.
    pub accounts: HashMap<Uuid, String>,
}

impl Names {
    /// Those of a few entries.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn of(
        db: &impl ConnectionTrait,
        practice_id: Uuid,
        entries: &[Marked],
    ) -> Result<Self, ApiError> {
        let ids = |pick: fn(&Marked) -> Option<Uuid>| -> BTreeSet<Uuid> {
            entries.iter().filter_map(pick).collect()
        };
        let growers = Self::growers(db, practice_id, ids(|it| it.found.grower_id)).await?;
        let mut people = ids(|it| it.mark.as_ref()?.assigned_to);
        people.extend(growers.values().filter_map(|(_, advisor)| *advisor));
        let in_practice = (
            fields::Entity::find().filter(fields::Column::PracticeId.eq(practice_id)),
            planters::Entity::find().filter(planters::Column::PracticeId.eq(practice_id)),
            accounts::Entity::find().filter(accounts::Column::PracticeId.eq(practice_id)),
        );
        let of_fields = (fields::Column::Id, fields::Column::Name);
        let of_planters = (planters::Column::Id, planters::Column::Name);
        let of_people = (accounts::Column::Id, accounts::Column::DisplayName);
        Ok(Self {
            growers,
            fields: named(db, in_practice.0, of_fields, ids(|it| it.found.field_id)).await?,
            planters: named(db, in_practice.1, of_planters, ids(|it| it.found.planter_id)).await?,
            accounts: named(db, in_practice.2, of_people, people).await?,
        })
    }

    async fn growers(
        db: &impl ConnectionTrait,
        practice_id: Uuid,
        ids: BTreeSet<Uuid>,
    ) -> Result<HashMap<Uuid, (String, Option<Uuid>)>, ApiError> {
        use growers::{Column, Entity};
        let rows: Vec<(Uuid, String, Option<Uuid>)> = Entity::find()
            .select_only()
            .columns([Column::Id, Column::Name, Column::AdvisorId])
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Id.is_in(ids))
            .into_tuple()
            .all(db)
            .await?;
        Ok(rows.into_iter().map(|(id, name, advisor)| (id, (name, advisor))).collect())
    }
}

/// The names of those of the rows that have one of these ids.
async fn named<E: EntityTrait>(
    db: &impl ConnectionTrait,
    rows: Select<E>,
    (id, name): (E::Column, E::Column),
    ids: BTreeSet<Uuid>,
) -> Result<HashMap<Uuid, String>, ApiError> {
    let rows: Vec<(Uuid, String)> =
        rows.select_only().columns([id, name]).filter(id.is_in(ids)).into_tuple().all(db).await?;
    Ok(rows.into_iter().collect())
}
