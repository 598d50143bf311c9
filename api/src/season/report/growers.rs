//! Who looks after which grower, and who left.

use std::collections::{BTreeMap, BTreeSet};

use domain::season::report::{AdvisorLine, FEWEST_GROWERS, Named};
use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::totals::Kept;
use crate::entities::{accounts, grower_erasures, growers};
use crate::http::ApiError;

/// The growers of a practice.
#[derive(Debug, Default)]
pub(super) struct Growers {
    advisors: BTreeMap<Uuid, Option<Uuid>>,
    names: BTreeMap<Uuid, String>,
    left: BTreeSet<Uuid>,
}

impl Growers {
    /// As they are now.
    pub(super) async fn of(db: &impl ConnectionTrait, practice_id: Uuid) -> Result<Self, ApiError> {
        let advisors: Vec<(Uuid, Option<Uuid>)> = growers::Entity::find()
            .filter(growers::Column::PracticeId.eq(practice_id))
            .select_only()
            .columns([growers::Column::Id, growers::Column::AdvisorId])
            .into_tuple()
            .all(db)
            .await?;
        let used: BTreeSet<Uuid> = advisors.iter().filter_map(|(_, advisor)| *advisor).collect();
        let names: Vec<(Uuid, String)> = accounts::Entity::find()
            .filter(accounts::Column::PracticeId.eq(practice_id))
            .filter(accounts::Column::Id.is_in(used))
            .select_only()
            .columns([accounts::Column::Id, accounts::Column::DisplayName])
            .into_tuple()
            .all(db)
            .await?;
        let left: Vec<Uuid> = grower_erasures::Entity::find()
            .filter(grower_erasures::Column::PracticeId.eq(practice_id))
            .select_only()
            .column(grower_erasures::Column::GrowerId)
            .into_tuple()
            .all(db)
            .await?;
        Ok(Self {
            advisors: advisors.into_iter().collect(),
            names: names.into_iter().collect(),
            left: left.into_iter().collect(),
        })
    }

    /// How many of them were erased.
    pub(super) fn left(&self, kept: &Kept) -> u32 {
        let count = kept.growers().filter(|id| self.left.contains(id)).count();
        u32::try_from(count).unwrap_or(u32::MAX)
    }

    /// Advisor by advisor, by name: nobody is ranked. Few growers are not set beside others.
    pub(super) fn lines(&self, kept: &Kept) -> Vec<AdvisorLine> {
        let of = |grower: Uuid| self.advisors.get(&grower).copied().flatten();
        let advisors: BTreeSet<Option<Uuid>> = kept.growers().map(of).collect();
        let line = |advisor: Option<Uuid>| {
            let totals = kept.totals_where(|grower| of(grower) == advisor);
            let enough = totals.dug >= FEWEST_GROWERS;
            let name = |id: Uuid| self.names.get(&id).cloned().unwrap_or_default();
            AdvisorLine {
                advisor: advisor.map(|id| Named { id: id.as_u128(), name: name(id) }),
                growers: totals.growers,
                shares: enough.then(|| totals.shares()),
            }
        };
        let mut lines: Vec<AdvisorLine> = advisors.into_iter().map(line).collect();
        lines.sort_by(|a, b| {
            let name = |line: &AdvisorLine| line.advisor.as_ref().map(|it| it.name.clone());
            (name(a).is_none(), name(a)).cmp(&(name(b).is_none(), name(b)))
        });
        lines
    }
}
