//! Records that came new: objects of ours that they may be.

use std::collections::{HashMap, HashSet};

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use serde_json::Value;
use uuid::Uuid;

use super::known::{AT_ONCE, Known};
use super::names::{Siblings, alike, parent_of};
use super::overlap::Lands;
use crate::entities::{farms, fields};
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::{Alike, Beside, Candidate, Outcome, PlannedRow, Waiting};
use crate::exchange::intake::work::Ref;
use crate::http::ApiError;
use crate::v1::fields::Boundary;

/// Most candidates of one record.
const MOST: usize = 10;

/// Finds what becomes of records that came new: made, or waiting.
pub(super) async fn untied<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &mut [PlannedRow],
    kind: Kind,
    siblings: &Siblings,
) -> Result<(), ApiError> {
    let new: Vec<usize> = super::open(rows, kind);
    let mut candidates = match known.source.beside {
        Beside::Waits => candidates(known, rows, &new, siblings).await?,
        Beside::Creates => HashMap::new(),
    };
    for index in new {
        let found = candidates.remove(&index).unwrap_or_default();
        let Some(row) = rows.get_mut(index) else { continue };
        let lacks_makeup = kind == Kind::Planter && row.incoming.said.makeup.is_none();
        row.settle(match (found.is_empty(), lacks_makeup) {
            (false, _) => Outcome::Waits(Waiting::LooksAlike(found)),
            (true, true) => Outcome::Waits(Waiting::NeedsMakeup(Vec::new())),
            (true, false) => Outcome::Create,
        });
    }
    Ok(())
}

async fn candidates<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &[PlannedRow],
    new: &[usize],
    siblings: &Siblings,
) -> Result<HashMap<usize, Vec<Candidate>>, ApiError> {
    let mut found: HashMap<usize, Vec<Candidate>> = HashMap::new();
    let by_name = Names::of(siblings);
    for index in new {
        let Some(row) = rows.get(*index) else { continue };
        found.insert(*index, by_name.like(row));
    }
    by_land(known, rows, new, &mut found).await?;
    let objects: HashSet<Uuid> = found.values().flatten().map(|it| it.object_id).collect();
    let tied = known.tied(&objects.into_iter().collect::<Vec<_>>()).await?;
    for some in found.values_mut() {
        some.retain(|candidate| !tied.contains(&candidate.object_id));
        let share = |it: &Candidate| it.overlap.unwrap_or(0.0);
        some.sort_by(|a, b| {
            let nearer = a.names.cmp(&b.names).then(share(b).total_cmp(&share(a)));
            nearer.then(a.object_id.cmp(&b.object_id))
        });
        some.truncate(MOST);
    }
    Ok(found)
}

/// A name of ours in plain form, within what it belongs to.
type Named = (Option<Uuid>, String);

/// Names of ours by their plain form.
struct Names<'a>(HashMap<Named, Vec<(Uuid, &'a str)>>);

impl<'a> Names<'a> {
    fn of(siblings: &'a Siblings) -> Self {
        let mut names: HashMap<Named, Vec<(Uuid, &str)>> = HashMap::new();
        for (parent, named) in siblings {
            for (id, name) in named {
                let key = (*parent, super::names::plain_form(name));
                names.entry(key).or_default().push((*id, name));
            }
        }
        Self(names)
    }

    fn like(&self, row: &PlannedRow) -> Vec<Candidate> {
        let parent = match parent_of(row) {
            // Nothing of ours belongs yet to what is only made.
            Some(Ref::Row(_)) => return Vec::new(),
            Some(Ref::Is(id)) => Some(id),
            None => None,
        };
        let Some(name) = row.incoming.said.name.as_deref() else { return Vec::new() };
        let same = self.0.get(&(parent, super::names::plain_form(name)));
        let compared = same.into_iter().flatten().map(|(id, ours)| Candidate {
            object_id: *id,
            name: (*ours).to_owned(),
            names: alike(ours, name),
            overlap: None,
        });
        compared.filter(|it| it.names != Alike::Different).collect()
    }
}

/// Fields of the same grower that cover much of the same land, on whichever farm.
async fn by_land<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &[PlannedRow],
    new: &[usize],
    found: &mut HashMap<usize, Vec<Candidate>>,
) -> Result<(), ApiError> {
    let with_land = new.iter().filter_map(|index| {
        let row = rows.get(*index)?;
        Some((*index, row.work.land.as_ref()?, row.work.grower?.id()?, row))
    });
    let with_land: Vec<_> = with_land.collect();
    let growers: HashSet<Uuid> = with_land.iter().map(|(_, _, grower, _)| *grower).collect();
    if growers.is_empty() {
        return Ok(());
    }
    let fields = fields_of(known, growers.into_iter().collect()).await?;
    let names: HashMap<Uuid, String> =
        fields.values().flatten().map(|field| (field.id, field.name.clone())).collect();
    let lands: HashMap<Uuid, Lands> = fields
        .into_iter()
        .map(|(grower, fields)| {
            let shapes = fields.into_iter().filter_map(|field| Some((field.id, field.shape()?)));
            (grower, Lands::of(shapes.collect()))
        })
        .collect();
    for (index, land, grower, row) in with_land {
        let Some(lands) = lands.get(&grower) else { continue };
        let candidates = found.entry(index).or_default();
        for (object_id, share) in lands.like(&land.shape) {
            let overlap = Some((share * 100.0).round() / 100.0);
            if let Some(known) = candidates.iter_mut().find(|it| it.object_id == object_id) {
                known.overlap = overlap;
                continue;
            }
            let name = names.get(&object_id).cloned().unwrap_or_default();
            let names = alike(&name, row.incoming.said.name.as_deref().unwrap_or_default());
            candidates.push(Candidate { object_id, name, names, overlap });
        }
    }
    Ok(())
}

/// A field of ours with a boundary.
struct OurField {
    id: Uuid,
    name: String,
    boundary: Value,
}

impl OurField {
    fn shape(&self) -> Option<geo::MultiPolygon> {
        let boundary: Boundary = serde_json::from_value(self.boundary.clone()).ok()?;
        boundary.measure("").ok().map(|(shape, _)| shape)
    }
}

/// The fields of growers that have a boundary.
async fn fields_of<C: ConnectionTrait>(
    known: &Known<'_, C>,
    growers: Vec<Uuid>,
) -> Result<HashMap<Uuid, Vec<OurField>>, ApiError> {
    let mut farms_of: HashMap<Uuid, Uuid> = HashMap::new();
    for some in growers.chunks(AT_ONCE) {
        use farms::Column;
        let rows = known.scope.farms().filter(Column::GrowerId.is_in(some.iter().copied()));
        let rows = rows.select_only().columns([Column::Id, Column::GrowerId]);
        farms_of.extend(rows.into_tuple::<(Uuid, Uuid)>().all(known.db).await?);
    }
    let farms: Vec<Uuid> = farms_of.keys().copied().collect();
    let mut fields: HashMap<Uuid, Vec<OurField>> = HashMap::new();
    for some in farms.chunks(AT_ONCE) {
        use fields::Column;
        let rows = known
            .scope
            .fields()
            .filter(Column::FarmId.is_in(some.iter().copied()))
            .filter(Column::Boundary.is_not_null())
            .select_only()
            .columns([Column::FarmId, Column::Id, Column::Name, Column::Boundary])
            .into_tuple::<(Uuid, Uuid, String, Value)>();
        for (farm, id, name, boundary) in rows.all(known.db).await? {
            if let Some(grower) = farms_of.get(&farm) {
                fields.entry(*grower).or_default().push(OurField { id, name, boundary });
            }
        }
    }
    Ok(fields)
}
