//! Names: which are alike, and which are taken.

use std::collections::{HashMap, HashSet};

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::known::{AT_ONCE, Known};
use crate::entities::{farms, fields, growers, planters};
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::{Alike, Outcome, PlannedRow};
use crate::exchange::intake::work::Ref;
use crate::http::ApiError;

/// Objects of ours among which a name is taken once, by what they belong to.
pub(super) type Siblings = HashMap<Option<Uuid>, Vec<(Uuid, String)>>;

/// A name without what people don't tell names apart by: capitals, spaces, punctuation.
pub(super) fn plain_form(name: &str) -> String {
    name.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// How two names compare.
pub(super) fn alike(a: &str, b: &str) -> Alike {
    if a == b {
        return Alike::Same;
    }
    let (a, b) = (plain_form(a), plain_form(b));
    if a == b && !a.is_empty() { Alike::Nearly } else { Alike::Different }
}

/// Reads the names beside which records of a kind would stand.
pub(super) async fn read<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &[PlannedRow],
    kind: Kind,
) -> Result<Siblings, ApiError> {
    let touched: Vec<&PlannedRow> =
        rows.iter().filter(|row| row.incoming.kind == kind && may_name(row)).collect();
    let mut siblings = Siblings::new();
    if touched.is_empty() || kind == Kind::Yield {
        return Ok(siblings);
    }
    let (db, practice) = (known.db, crate::auth::Scope::of_practice(known.scope.practice_id));
    if kind == Kind::Grower {
        use growers::Column;
        let found = practice.growers().select_only().columns([Column::Id, Column::Name]);
        siblings.insert(None, found.into_tuple::<(Uuid, String)>().all(db).await?);
        return Ok(siblings);
    }
    let parents: HashSet<Uuid> = touched.iter().filter_map(|row| parent_of(row)?.id()).collect();
    let parents: Vec<Uuid> = parents.into_iter().collect();
    for some in parents.chunks(AT_ONCE) {
        let some = some.iter().copied();
        let found = match kind {
            Kind::Farm => {
                use farms::Column;
                let found = practice.farms().filter(Column::GrowerId.is_in(some)).select_only();
                found.columns([Column::GrowerId, Column::Id, Column::Name]).into_tuple().all(db)
            }
            Kind::Field => {
                use fields::Column;
                let found = practice.fields().filter(Column::FarmId.is_in(some)).select_only();
                found.columns([Column::FarmId, Column::Id, Column::Name]).into_tuple().all(db)
            }
            _ => {
                use planters::Column;
                let found = practice.planters().filter(Column::GrowerId.is_in(some)).select_only();
                found.columns([Column::GrowerId, Column::Id, Column::Name]).into_tuple().all(db)
            }
        };
        let found: Vec<(Uuid, Uuid, String)> = found.await?;
        for (parent, id, name) in found {
            siblings.entry(Some(parent)).or_default().push((id, name));
        }
    }
    Ok(siblings)
}

/// What a record's object belongs to.
pub(super) fn parent_of(row: &PlannedRow) -> Option<Ref> {
    let ours = row.ours().and_then(|ours| ours.parent_id).map(Ref::Is);
    ours.or(row.work.parent)
}

/// Whether a record may bring a name that is not there yet.
fn may_name(row: &PlannedRow) -> bool {
    row.work.open || row.new_name().is_some()
}

/// Refuses records whose names would be taken by then. Names are judged as they would be afterwards,
/// so that two may exchange theirs; of several that want the same one all are refused.
pub(super) fn keep_unique(rows: &mut [PlannedRow], kind: Kind, siblings: &Siblings) {
    if kind == Kind::Yield {
        return;
    }
    loop {
        let clashing = clashing(rows, kind, siblings);
        if clashing.is_empty() {
            return;
        }
        for index in clashing {
            let Some(row) = rows.get_mut(index) else { continue };
            let name = row.new_name().unwrap_or_default().to_owned();
            let among = match kind.parent() {
                Some(parent) => format!("{} of the {}", kind.plural(), parent.word()),
                None => format!("{} of the practice", kind.plural()),
            };
            let detail = format!("The name {name:?} is taken among the {among}.");
            row.refuse_member(Member::Name, detail);
        }
    }
}

/// The rows that would share a name.
fn clashing(rows: &[PlannedRow], kind: Kind, siblings: &Siblings) -> Vec<usize> {
    let mut wanted: HashMap<(Option<Ref>, &str), Vec<usize>> = HashMap::new();
    let mut renamed: HashSet<Uuid> = HashSet::new();
    for (index, row) in rows.iter().enumerate().filter(|(_, row)| row.incoming.kind == kind) {
        let Some(name) = row.new_name() else { continue };
        wanted.entry((parent_of(row), name)).or_default().push(index);
        if row.outcome != Outcome::Create {
            renamed.extend(row.object_id);
        }
    }
    let mut clashing = Vec::new();
    for ((parent, name), rows) in wanted {
        let beside = match parent {
            None => siblings.get(&None),
            Some(Ref::Is(id)) => siblings.get(&Some(id)),
            Some(Ref::Row(_)) => None,
        };
        let mut beside = beside.into_iter().flatten();
        let taken = beside.any(|(id, taken)| taken == name && !renamed.contains(id));
        if taken || rows.len() > 1 {
            clashing.extend(rows);
        }
    }
    clashing
}

#[cfg(test)]
mod tests {
    use super::{alike, plain_form};
    use crate::exchange::intake::outcome::Alike;

    #[test]
    fn capitals_spaces_and_punctuation_do_not_tell_names_apart() {
        assert_eq!(plain_form("  North-40 (east)"), "north40east");
        assert_eq!(alike("North 40", "North 40"), Alike::Same);
        assert_eq!(alike("North 40", "NORTH  40."), Alike::Nearly);
        assert_eq!(alike("Straße", "STRASSE"), Alike::Different);
        // Numbered fields are no look-alikes.
        assert_eq!(alike("Field 1", "Field 2"), Alike::Different);
        assert_eq!(alike("-", "+"), Alike::Different);
    }
}
