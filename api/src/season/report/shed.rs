//! The list for the shed: what inspections left open, what wears out, what digs pointed to.

use std::collections::{BTreeMap, BTreeSet};

use domain::season::report::{Named, ShedItem, ShedReason, WornPart};
use domain::season::shed_of_digs;
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::totals::Kept;
use crate::entities::planters;
use crate::http::ApiError;
use crate::season::gather::Of;
use crate::v1::inspections::open::{self, OpenReplacement};

/// Planter by planter.
pub(super) async fn shed_list(
    db: &impl ConnectionTrait,
    of: Of,
    kept: &Kept,
    wear: &[WornPart],
) -> Result<Vec<ShedItem>, ApiError> {
    let mut open = open::replacements(db, &of.scope).await?;
    open.retain(|it| of.planter_id.is_none_or(|id| id == it.planter_id));
    let dug = kept.by_planter().filter(|(_, sums)| !sums.iron.is_empty());
    let planters: BTreeSet<Uuid> =
        dug.map(|(id, _)| id).chain(open.iter().map(|it| it.planter_id)).collect();
    let known = names(db, of, &planters).await?;
    let planter =
        |id: Uuid| Named { id: id.as_u128(), name: known.get(&id).cloned().unwrap_or_default() };
    let mut list: Vec<ShedItem> =
        open.into_iter().map(|it| of_inspection(planter(it.planter_id), it)).collect();
    list.extend(wear.iter().filter(|it| it.replace).map(of_wear));
    for (id, sums) in kept.by_planter() {
        let items = shed_of_digs(sums).into_iter().map(|(reason, words, digs, day)| ShedItem {
            planter: planter(id),
            reason,
            words,
            rows: Vec::new(),
            digs,
            day,
        });
        list.extend(items);
    }
    list.sort_by(|a, b| (&a.planter.name, a.planter.id).cmp(&(&b.planter.name, b.planter.id)));
    Ok(list)
}

fn of_inspection(planter: Named, it: OpenReplacement) -> ShedItem {
    ShedItem {
        planter,
        reason: ShedReason::OpenReplacement,
        words: it.words,
        rows: it.rows,
        digs: 0,
        day: Some(it.since),
    }
}

fn of_wear(it: &WornPart) -> ShedItem {
    ShedItem {
        planter: it.planter.clone(),
        reason: ShedReason::Wear,
        words: it.words.clone(),
        rows: it.rows.clone(),
        digs: 0,
        day: it.at_limit_on,
    }
}

/// Most ids of one query: databases bound the parameters of a statement.
const AT_ONCE: usize = 500;

async fn names(
    db: &impl ConnectionTrait,
    of: Of,
    ids: &BTreeSet<Uuid>,
) -> Result<BTreeMap<Uuid, String>, ApiError> {
    use planters::Column;
    let ids: Vec<Uuid> = ids.iter().copied().collect();
    let mut names = BTreeMap::new();
    for some in ids.chunks(AT_ONCE) {
        let rows: Vec<(Uuid, String)> = of
            .scope
            .planters()
            .filter(Column::Id.is_in(some.iter().copied()))
            .select_only()
            .columns([Column::Id, Column::Name])
            .into_tuple()
            .all(db)
            .await?;
        names.extend(rows);
    }
    Ok(names)
}
