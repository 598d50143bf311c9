//! The names on a page of the list: those of its entries only.

use std::collections::{BTreeSet, HashMap};

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};
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
        Ok(Self {
            growers,
            fields: Self::fields(db, practice_id, ids(|it| it.found.field_id)).await?,
            planters: Self::planters(db, practice_id, ids(|it| it.found.planter_id)).await?,
            accounts: Self::accounts(db, practice_id, people).await?,
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

    async fn fields(
        db: &impl ConnectionTrait,
        practice_id: Uuid,
        ids: BTreeSet<Uuid>,
    ) -> Result<HashMap<Uuid, String>, ApiError> {
        use fields::{Column, Entity};
        let rows: Vec<(Uuid, String)> = Entity::find()
            .select_only()
            .columns([Column::Id, Column::Name])
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Id.is_in(ids))
            .into_tuple()
            .all(db)
            .await?;
        Ok(rows.into_iter().collect())
    }

    async fn planters(
        db: &impl ConnectionTrait,
        practice_id: Uuid,
        ids: BTreeSet<Uuid>,
    ) -> Result<HashMap<Uuid, String>, ApiError> {
        use planters::{Column, Entity};
        let rows: Vec<(Uuid, String)> = Entity::find()
            .select_only()
            .columns([Column::Id, Column::Name])
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Id.is_in(ids))
            .into_tuple()
            .all(db)
            .await?;
        Ok(rows.into_iter().collect())
    }

    async fn accounts(
        db: &impl ConnectionTrait,
        practice_id: Uuid,
        ids: BTreeSet<Uuid>,
    ) -> Result<HashMap<Uuid, String>, ApiError> {
        use accounts::{Column, Entity};
        let rows: Vec<(Uuid, String)> = Entity::find()
            .select_only()
            .columns([Column::Id, Column::DisplayName])
            .filter(Column::PracticeId.eq(practice_id))
            .filter(Column::Id.is_in(ids))
            .into_tuple()
            .all(db)
            .await?;
        Ok(rows.into_iter().collect())
    }
}
