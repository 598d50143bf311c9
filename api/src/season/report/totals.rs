//! The sums that are kept, planter by planter.

use std::collections::BTreeMap;

use domain::season::{Sums, Totals};
use sea_orm::{
    ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QueryOrder, QuerySelect, QueryTrait,
};
use uuid::Uuid;

use crate::auth::Sees;
use crate::entities::growers;
use crate::entities::season_planters::{Column, Entity};
use crate::http::ApiError;
use crate::season::facts::read;
use crate::season::gather::Of;

/// The sums of the planters that a report is of, by grower.
#[derive(Debug, Clone, Default)]
pub(super) struct Kept(BTreeMap<Uuid, BTreeMap<Uuid, Sums>>);

impl Kept {
    /// Those of a season.
    pub(super) async fn read(db: &impl ConnectionTrait, of: Of) -> Result<Self, ApiError> {
        let mut rows = Entity::find()
            .filter(Column::PracticeId.eq(of.scope.practice_id))
            .filter(Column::Season.eq(of.season));
        if of.scope.sees != Sees::Practice {
            let growers = of.scope.growers().select_only().column(growers::Column::Id);
            rows = rows.filter(Column::GrowerId.in_subquery(growers.into_query()));
        }
        if let Some(planter_id) = of.planter_id {
            rows = rows.filter(Column::PlanterId.eq(planter_id));
        }
        let rows: Vec<(Uuid, Uuid, String)> = rows
            .order_by_asc(Column::PlanterId)
            .select_only()
            .columns([Column::GrowerId, Column::PlanterId, Column::Sums])
            .into_tuple()
            .all(db)
            .await?;
        let mut kept = Self::default();
        for (grower_id, planter_id, sums) in rows {
            kept.0.entry(grower_id).or_default().insert(planter_id, read(&sums)?);
        }
        Ok(kept)
    }

    /// All but those of a grower.
    pub(super) fn without(mut self, grower_id: Uuid) -> Self {
        self.0.remove(&grower_id);
        self
    }

    /// What all of them add up to.
    pub(super) fn totals(&self) -> Totals {
        self.totals_where(|_| true)
    }

    /// What those of some growers add up to.
    pub(super) fn totals_where(&self, of: impl Fn(Uuid) -> bool) -> Totals {
        let mut totals = Totals::default();
        for planters in self.0.iter().filter(|(id, _)| of(**id)).map(|(_, planters)| planters) {
            let mut grower = Sums::default();
            for sums in planters.values() {
                grower.add(sums);
            }
            totals.add_grower(&grower);
        }
        totals
    }

    /// The growers.
    pub(super) fn growers(&self) -> impl Iterator<Item = Uuid> + '_ {
        self.0.keys().copied()
    }

    /// How many planters.
    pub(super) fn planters(&self) -> u32 {
        let count = self.0.values().map(BTreeMap::len).sum::<usize>();
        u32::try_from(count).unwrap_or(u32::MAX)
    }

    /// Planter by planter.
    pub(super) fn by_planter(&self) -> impl Iterator<Item = (Uuid, &Sums)> + '_ {
        self.0.values().flatten().map(|(id, sums)| (*id, sums))
    }
}
