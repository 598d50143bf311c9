//! Yields that came already under another id: they would count twice.

use std::collections::{BTreeMap, HashMap};

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::known::{AT_ONCE, Known};
use crate::entities::yields::Column;
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::harvest;
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::PlannedRow;
use crate::exchange::intake::work::Ref;
use crate::http::ApiError;
use crate::v1::fingerprint;

/// Refuses new yields that say what one says that came under another id, before or with them. Of
/// several that come together the one whose id is first in order is taken.
pub(super) async fn refuse_repeated<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &mut [PlannedRow],
    open: &[usize],
) -> Result<(), ApiError> {
    let mut same: BTreeMap<String, Vec<(String, usize)>> = BTreeMap::new();
    for index in open {
        let Some(row) = rows.get(*index).filter(|row| row.incoming.kind == Kind::Yield) else {
            continue;
        };
        let (None, Some(field), Some(id)) =
            (&row.work.tie, row.work.parent, row.incoming.their_id.clone())
        else {
            continue;
        };
        let given = harvest::whole(&row.incoming.said, None, &row.incoming.place)?;
        let print = match field {
            Ref::Is(field) => fingerprint::of(&(field, &given))?,
            // Under a field that is only made; no id is a number.
            Ref::Row(field) => fingerprint::of(&(field, &given))?,
        };
        same.entry(print).or_default().push((id, *index));
    }
    let tied = tied(known, same.keys().cloned().collect()).await?;
    for (print, mut those) in same {
        those.sort_unstable();
        let passed = usize::from(!tied.contains_key(&print));
        let first = those.first().map(|(id, _)| id.clone()).filter(|_| passed > 0);
        for (_, index) in those.into_iter().skip(passed) {
            let Some(row) = rows.get_mut(index) else { continue };
            let detail = match &first {
                Some(id) => format!("The same harvest comes with it under the id {id:?}."),
                None => "The same harvest came before under another id.".to_owned(),
            };
            row.refuse_member(Member::Id, detail + " It would count twice.");
        }
    }
    Ok(())
}

/// Those of our yields with these fingerprints that have an id in the system already.
async fn tied<C: ConnectionTrait>(
    known: &Known<'_, C>,
    prints: Vec<String>,
) -> Result<HashMap<String, Uuid>, ApiError> {
    let mut there: HashMap<String, Uuid> = HashMap::new();
    for some in prints.chunks(AT_ONCE) {
        let found = known
            .scope
            .yields()
            .filter(Column::Fingerprint.is_in(some.iter().map(String::as_str)))
            .select_only()
            .columns([Column::Fingerprint, Column::Id])
            .into_tuple::<(String, Uuid)>();
        there.extend(found.all(known.db).await?);
    }
    let ids: Vec<Uuid> = there.values().copied().collect();
    let tied = known.tied(&ids).await?;
    there.retain(|_, id| tied.contains(id));
    Ok(there)
}
