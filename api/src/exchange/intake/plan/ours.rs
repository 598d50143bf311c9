//! Our objects, said in the members of records.

use std::collections::HashMap;

use sea_orm::{ColumnTrait, ConnectionTrait, EntityTrait, QueryFilter, QuerySelect};
use serde_json::{Value, json};
use uuid::Uuid;

use super::known::{AT_ONCE, Known};
use crate::auth::Scope;
use crate::entities::{external_ids, farms, fields, growers, planters, yields};
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::PlannedRow;
use crate::exchange::intake::work::{Members, Ours};
use crate::http::ApiError;
use crate::v1::planters as planters_v1;
use crate::v1::yields::store::Entered;

/// The members that records of a kind may speak of.
pub(super) const fn members_of(kind: Kind) -> &'static [Member] {
    match kind {
        Kind::Grower => &[Member::Name, Member::Phone, Member::Email],
        Kind::Farm => &[Member::Name],
        Kind::Field => &[Member::Name, Member::Boundary, Member::Area],
        Kind::Planter => &[Member::Name, Member::Rows, Member::RowSpacing, Member::Makeup],
        Kind::Yield => &[
            Member::HarvestedOn,
            Member::Crop,
            Member::Grain,
            Member::Basis,
            Member::Moisture,
            Member::HarvestedArea,
            Member::Note,
        ],
    }
}

/// Reads what they said last and our objects, for the records that came before.
pub(super) async fn read<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &mut [PlannedRow],
    kind: Kind,
    open: &[usize],
) -> Result<(), ApiError> {
    let tied: Vec<usize> = open
        .iter()
        .copied()
        .filter(|index| rows.get(*index).is_some_and(|row| row.work.tie.is_some()))
        .collect();
    for some in tied.chunks(AT_ONCE) {
        let before = some.iter().filter_map(|index| rows.get(*index)?.work.tie.as_ref());
        let (ids, objects): (Vec<Uuid>, Vec<Uuid>) =
            before.map(|tie| (tie.id, tie.object_id)).unzip();
        let mut taken = taken(known, ids).await?;
        let mut ours = objects_of(known.db, known.scope, kind, objects).await?;
        for index in some {
            let Some(row) = rows.get_mut(*index) else { continue };
            let Some(tie) = row.work.tie.as_mut() else { continue };
            tie.taken = taken.remove(&tie.id).unwrap_or_default();
            tie.ours = ours.remove(&tie.object_id);
            if tie.ours.is_none() {
                let word = kind.word();
                let detail = format!("Our {word} of this record was deleted here.");
                let detail = detail + " To take the record anew, end its tie first.";
                row.refuse_member(Member::Id, detail);
            }
        }
    }
    Ok(())
}

async fn taken<C: ConnectionTrait>(
    known: &Known<'_, C>,
    ids: Vec<Uuid>,
) -> Result<HashMap<Uuid, Members>, ApiError> {
    use external_ids::{Column, Entity};
    let found = Entity::find()
        .select_only()
        .columns([Column::Id, Column::Taken])
        .filter(Column::PracticeId.eq(known.scope.practice_id))
        .filter(Column::Id.is_in(ids))
        .into_tuple::<(Uuid, Value)>()
        .all(known.db)
        .await?;
    let members = found.into_iter().map(|(id, taken)| match taken {
        Value::Object(members) => (id, members),
        _ => (id, Members::new()),
    });
    Ok(members.collect())
}

/// Our objects by their ids.
pub(in crate::exchange::intake) async fn objects_of(
    db: &impl ConnectionTrait,
    scope: Scope,
    kind: Kind,
    ids: Vec<Uuid>,
) -> Result<HashMap<Uuid, Ours>, ApiError> {
    match kind {
        Kind::Grower => {
            let rows = scope.growers().filter(growers::Column::Id.is_in(ids)).all(db).await?;
            Ok(rows.into_iter().map(|row| (row.id, grower(row))).collect())
        }
        Kind::Farm => {
            let rows = scope.farms().filter(farms::Column::Id.is_in(ids)).all(db).await?;
            Ok(rows.into_iter().map(|row| (row.id, farm(row))).collect())
        }
        Kind::Field => {
            let rows = scope.fields().filter(fields::Column::Id.is_in(ids)).all(db).await?;
            Ok(rows.into_iter().map(|row| (row.id, field(row))).collect())
        }
        Kind::Planter => {
            let rows = scope.planters().filter(planters::Column::Id.is_in(ids)).all(db).await?;
            rows.into_iter().map(|row| Ok((row.id, planter(&row)?))).collect()
        }
        Kind::Yield => {
            let rows = scope.yields().filter(yields::Column::Id.is_in(ids)).all(db).await?;
            rows.into_iter().map(|row| Ok((row.id, harvest(row)?))).collect()
        }
    }
}

fn members(some: impl IntoIterator<Item = (Member, Option<Value>)>) -> Members {
    let there = some.into_iter().filter_map(|(member, value)| Some((member, value?)));
    there.map(|(member, value)| (member.word().to_owned(), value)).collect()
}

fn grower(row: growers::Model) -> Ours {
    let members = members([
        (Member::Name, Some(json!(row.name))),
        (Member::Phone, row.phone.map(Value::from)),
        (Member::Email, row.email.map(Value::from)),
    ]);
    plain((row.version, None), row.name, members)
}

fn farm(row: farms::Model) -> Ours {
    let members = members([(Member::Name, Some(json!(row.name)))]);
    plain((row.version, Some(row.grower_id)), row.name, members)
}

fn field(row: fields::Model) -> Ours {
    let members = members([
        (Member::Name, Some(json!(row.name))),
        (Member::Boundary, row.boundary),
        (Member::Area, row.entered_area),
    ]);
    let ours = plain((row.version, Some(row.farm_id)), row.name, members);
    Ours { area_m2: row.area_m2, ..ours }
}

fn planter(row: &planters::Model) -> Result<Ours, ApiError> {
    let makeup = planters_v1::store::makeup(row)?;
    let members = members([
        (Member::Name, Some(json!(row.name))),
        (Member::Rows, Some(json!(makeup.rows))),
        (Member::RowSpacing, Some(json!(makeup.row_width))),
        (Member::Makeup, Some(row.makeup.clone())),
    ]);
    let ours = plain((row.version, Some(row.grower_id)), row.name.clone(), members);
    Ok(Ours { makeup: Some(makeup), ..ours })
}

fn harvest(row: yields::Model) -> Result<Ours, ApiError> {
    let entered: Entered = serde_json::from_value(row.entered).map_err(ApiError::internal)?;
    let crop = crate::v1::conditions::Crop::from(domain::conditions::Crop::from(row.crop));
    let members = members([
        (Member::HarvestedOn, Some(json!(row.harvested_on))),
        (Member::Crop, Some(json!(crop))),
        (Member::Grain, Some(json!(entered.grain))),
        (Member::Basis, Some(json!(entered.basis))),
        (Member::Moisture, entered.moisture.map(|value| json!(value))),
        (Member::HarvestedArea, entered.area.map(|value| json!(value))),
        (Member::Note, row.note.map(Value::from)),
    ]);
    let name = None;
    let (parent_id, makeup, area_m2) = (Some(row.field_id), None, None);
    Ok(Ours { version: row.version, parent_id, members, name, makeup, area_m2 })
}

fn plain((version, parent_id): (i32, Option<Uuid>), name: String, members: Members) -> Ours {
    Ours { version, parent_id, members, name: Some(name), makeup: None, area_m2: None }
}
