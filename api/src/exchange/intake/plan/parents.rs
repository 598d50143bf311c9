//! What records belong to.

use std::collections::HashMap;

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect, Select};
use uuid::Uuid;

use super::known::{AT_ONCE, Known};
use super::names::plain_form;
use crate::entities::{farms, fields, growers};
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::incoming::{Kind, Parent};
use crate::exchange::intake::outcome::{Outcome, PlannedRow, Waiting};
use crate::exchange::intake::work::Ref;
use crate::http::ApiError;

/// What a named parent turned out to be.
#[derive(Debug, Clone)]
enum Found {
    /// It is there, or will be, and this is its grower.
    Is { parent: Ref, grower: Ref },
    /// It waits for a person.
    Waits,
    /// It is not to be had, and why.
    Not(String),
}

/// What is needed to find parents of one kind.
struct Parents {
    kind: Kind,
    /// Records of this batch, by their ids.
    batch: HashMap<String, usize>,
    /// Objects of ours that were asked for, with their growers.
    objects: HashMap<Uuid, Uuid>,
    /// Names of ours, in plain form.
    names: HashMap<String, Vec<Ref>>,
    /// Records that wait since an earlier time, by their ids.
    waiting: HashMap<String, Uuid>,
    /// Objects by their ids.
    ties: HashMap<String, Uuid>,
}

/// Finds what the records of a kind belong to. Those whose parent waits, wait; those without one are
/// refused.
pub(super) async fn find<C: ConnectionTrait>(
    known: &mut Known<'_, C>,
    rows: &mut [PlannedRow],
    kind: Kind,
    open: &[usize],
) -> Result<(), ApiError> {
    let Some(parent_kind) = kind.parent() else { return Ok(()) };
    let asking: Vec<usize> =
        open.iter().copied().filter(|index| rows.get(*index).is_some_and(asks)).collect();
    let parents = Parents::read(known, rows, parent_kind, &asking).await?;
    for index in asking {
        let found =
            rows.get(index).map(|row| parents.find(rows, row.incoming.said.parent.as_ref()));
        if let (Some(row), Some(found)) = (rows.get_mut(index), found) {
            note(row, parent_kind, found);
        }
    }
    Ok(())
}

/// Whether it matters what a record belongs to: it is new, or names another parent than before.
fn asks(row: &PlannedRow) -> bool {
    let Some(tie) = &row.work.tie else { return true };
    let Some(parent) = &row.incoming.said.parent else { return false };
    let now = serde_json::to_value(parent).unwrap_or_default();
    tie.taken.get(Member::Parent.word()).is_some_and(|before| *before != now)
}

fn note(row: &mut PlannedRow, parent_kind: Kind, found: Found) {
    let place = match row.incoming.said.parent {
        Some(Parent::Ours(_)) => Member::OurParent,
        Some(Parent::Theirs(_) | Parent::Named(_)) | None => Member::Parent,
    };
    match found {
        Found::Is { parent, grower } => {
            let there = row.ours().map(|ours| ours.parent_id);
            if there.is_some_and(|there| there != parent.id()) {
                let (word, parent) = (row.incoming.kind.word(), parent_kind.word());
                let detail = format!("The {word} now belongs to another {parent} than before.");
                let detail = detail
                    + " What was advised and dug would go with it, so it is not \
                     moved: end its tie, and it comes in as a new one.";
                return row.refuse_member(place, detail);
            }
            row.work.parent = Some(parent);
            row.work.grower = Some(grower);
            row.grower_id = row.grower_id.or(grower.id());
        }
        Found::Waits if row.work.tie.is_none() => row.settle(Outcome::Waits(Waiting::ForParent)),
        Found::Waits => {
            row.refuse_member(place, "What it now belongs to waits for a person.");
        }
        Found::Not(detail) => row.refuse_member(place, detail),
    }
}

impl Parents {
    async fn read<C: ConnectionTrait>(
        known: &mut Known<'_, C>,
        rows: &[PlannedRow],
        kind: Kind,
        asking: &[usize],
    ) -> Result<Self, ApiError> {
        let said =
            asking.iter().filter_map(|index| rows.get(*index)?.incoming.said.parent.as_ref());
        let (mut theirs, mut ours, mut by_name) = (Vec::new(), Vec::new(), false);
        for parent in said {
            match parent {
                Parent::Theirs(id) => theirs.push(id.clone()),
                Parent::Ours(id) => ours.push(*id),
                Parent::Named(_) => by_name = true,
            }
        }
        theirs.sort_unstable();
        theirs.dedup();
        known.read_ties(kind, theirs.clone()).await?;
        let came_before =
            |id: &String| Some((id.clone(), known.ties.get(&(kind, id.clone()))?.object_id));
        let ties: HashMap<String, Uuid> = theirs.iter().filter_map(came_before).collect();
        ours.extend(ties.values());
        ours.sort_unstable();
        ours.dedup();
        let mut objects = HashMap::new();
        for some in ours.chunks(AT_ONCE) {
            let found = growers_of(known, kind, Some(some)).await?;
            objects.extend(found.into_iter().map(|owner| (owner.id, owner.grower)));
        }
        let waiting = known.waiting(kind, &theirs).await?;
        let mut names = HashMap::new();
        if by_name {
            let all: Vec<Owner> = growers_of(known, kind, None).await?;
            objects.extend(all.iter().map(|owner| (owner.id, owner.grower)));
            names = by_plain_name(&all, rows, kind);
        }
        Ok(Self { kind, batch: batch(rows, kind), objects, names, waiting, ties })
    }

    fn find(&self, rows: &[PlannedRow], said: Option<&Parent>) -> Found {
        let word = self.kind.word();
        match said {
            None => Found::Not(format!("The record does not say to which {word} it belongs.")),
            Some(Parent::Ours(id)) => self.object(*id),
            Some(Parent::Theirs(id)) => match (self.ties.get(id), self.batch.get(id)) {
                (Some(object), _) => self.object(*object),
                (None, Some(index)) => self.row(rows, *index),
                (None, None) if self.waiting.contains_key(id) => Found::Waits,
                (None, None) => Found::Not(format!(
                    "No {word} with the id {id:?} came from this records system. Send it first, or \
                     with this record."
                )),
            },
            Some(Parent::Named(name)) => {
                match self.names.get(&plain_form(name)).map(Vec::as_slice) {
                    Some([Ref::Is(id)]) => self.object(*id),
                    Some([Ref::Row(index)]) => self.row(rows, *index),
                    None | Some([]) => Found::Not(format!("No {word} is called {name:?}.")),
                    Some(several) => Found::Not(format!(
                        "{} {} are called {name:?}. Name the one by its id.",
                        several.len(),
                        self.kind.plural()
                    )),
                }
            }
        }
    }

    fn object(&self, id: Uuid) -> Found {
        match self.objects.get(&id) {
            Some(grower) => Found::Is { parent: Ref::Is(id), grower: Ref::Is(*grower) },
            None => Found::Not(format!("Its {} is not there, or was deleted.", self.kind.word())),
        }
    }

    /// What becomes of a record of the same batch.
    fn row(&self, rows: &[PlannedRow], index: usize) -> Found {
        let word = self.kind.word();
        let Some(row) = rows.get(index) else {
            return Found::Not(format!("Its {word} is not there."));
        };
        match &row.outcome {
            Outcome::Create => Found::Is {
                parent: Ref::Row(index),
                grower: row.work.grower.unwrap_or(Ref::Row(index)),
            },
            Outcome::Waits(_) => Found::Waits,
            Outcome::Change(_) | Outcome::Unchanged | Outcome::Conflict { .. } => {
                self.object(row.object_id.unwrap_or_default())
            }
            Outcome::Refused(_) => {
                Found::Not(format!("Its {word} is refused too: {}.", row.incoming.place.record()))
            }
        }
    }
}

fn batch(rows: &[PlannedRow], kind: Kind) -> HashMap<String, usize> {
    let of_kind =
        rows.iter().enumerate().filter(|(_, row)| row.incoming.kind == kind && !row.work.repeats);
    of_kind.filter_map(|(index, row)| Some((row.incoming.their_id.clone()?, index))).collect()
}

/// An object that others belong to.
struct Owner {
    id: Uuid,
    grower: Uuid,
    name: String,
}

/// Objects of a kind with their growers; those with these ids, or all in scope.
async fn growers_of<C: ConnectionTrait>(
    known: &Known<'_, C>,
    kind: Kind,
    ids: Option<&[Uuid]>,
) -> Result<Vec<Owner>, ApiError> {
    let (db, scope) = (known.db, known.scope);
    Ok(match kind {
        Kind::Grower => {
            use growers::Column;
            let rows = only(scope.growers(), Column::Id, ids).select_only();
            let rows = rows.columns([Column::Id, Column::Name]).into_tuple::<(Uuid, String)>();
            let rows = rows.all(db).await?.into_iter();
            rows.map(|(id, name)| Owner { id, grower: id, name }).collect()
        }
        Kind::Farm => {
            use farms::Column;
            let rows = only(scope.farms(), Column::Id, ids).select_only();
            let rows = rows.columns([Column::Id, Column::GrowerId, Column::Name]);
            let rows = rows.into_tuple::<(Uuid, Uuid, String)>().all(db).await?.into_iter();
            rows.map(|(id, grower, name)| Owner { id, grower, name }).collect()
        }
        Kind::Field => {
            use fields::Column;
            let rows = only(scope.fields(), Column::Id, ids).select_only();
            let rows = rows.columns([Column::Id, Column::FarmId, Column::Name]);
            let rows = rows.into_tuple::<(Uuid, Uuid, String)>().all(db).await?;
            let farms: Vec<Uuid> = rows.iter().map(|(_, farm, _)| *farm).collect();
            let growers = farm_growers(known, farms).await?;
            let owner = |(id, farm, name)| {
                growers.get(&farm).map(|grower| Owner { id, grower: *grower, name })
            };
            rows.into_iter().filter_map(owner).collect()
        }
        Kind::Planter | Kind::Yield => Vec::new(),
    })
}

async fn farm_growers<C: ConnectionTrait>(
    known: &Known<'_, C>,
    mut ids: Vec<Uuid>,
) -> Result<HashMap<Uuid, Uuid>, ApiError> {
    use farms::Column;
    ids.sort_unstable();
    ids.dedup();
    let mut growers = HashMap::new();
    for some in ids.chunks(AT_ONCE) {
        let rows = only(known.scope.farms(), Column::Id, Some(some)).select_only();
        let rows = rows.columns([Column::Id, Column::GrowerId]).into_tuple::<(Uuid, Uuid)>();
        growers.extend(rows.all(known.db).await?);
    }
    Ok(growers)
}

fn only<E: EntityTrait>(rows: Select<E>, id: E::Column, ids: Option<&[Uuid]>) -> Select<E> {
    match ids {
        Some(ids) => rows.filter(id.is_in(ids.iter().copied())),
        None => rows,
    }
}

/// Names of all objects of a kind, and of those that this batch makes, in plain form.
fn by_plain_name(all: &[Owner], rows: &[PlannedRow], kind: Kind) -> HashMap<String, Vec<Ref>> {
    let mut names: HashMap<String, Vec<Ref>> = HashMap::new();
    for Owner { id, name, .. } in all {
        names.entry(plain_form(name)).or_default().push(Ref::Is(*id));
    }
    for (index, row) in rows.iter().enumerate() {
        if row.incoming.kind == kind && row.outcome == Outcome::Create && !row.work.repeats {
            let name = row.incoming.said.name.as_deref().map(plain_form).unwrap_or_default();
            names.entry(name).or_default().push(Ref::Row(index));
        }
    }
    names
}
