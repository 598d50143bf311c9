//! Objects that are made, many in one statement.

use chrono::Datelike;
use domain::quantity::Measured;
use sea_orm::{ActiveModelTrait, ActiveValue::Set, EntityTrait, IntoActiveModel};
use serde::Serialize;
use serde_json::Value;
use uuid::Uuid;

use super::Taking;
use super::trail::Trail;
use crate::entities::{farms, fields, growers, planters};
use crate::exchange::intake::harvest;
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::{Outcome, PlannedRow};
use crate::exchange::intake::work::Ref;
use crate::http::ApiError;
use crate::v1::author::Author;
use crate::v1::yields;

/// Rows of one statement: databases bound its parameters.
const AT_ONCE: usize = 300;

/// Makes all that is new, parents first.
pub(super) async fn all(
    taking: Taking<'_>,
    rows: &mut [PlannedRow],
    trail: &mut Trail,
) -> Result<(), ApiError> {
    insert(taking, of(rows, Kind::Grower, |row| grower(taking, row))?).await?;
    insert(taking, of(rows, Kind::Farm, |row| farm(taking, row))?).await?;
    insert(taking, of(rows, Kind::Field, |row| field(taking, row))?).await?;
    insert(taking, of(rows, Kind::Planter, |row| planter(taking, row))?).await?;
    for row in rows.iter_mut().filter(|row| row.outcome == Outcome::Create) {
        // A yield that was entered here before is tied only.
        if row.incoming.kind != Kind::Yield || harvested(taking, row).await? {
            trail.made(row);
        }
    }
    Ok(())
}

/// The new rows of a kind.
fn of<A>(
    rows: &[PlannedRow],
    kind: Kind,
    make: impl Fn(&PlannedRow) -> Result<A, ApiError>,
) -> Result<Vec<A>, ApiError> {
    let new = |row: &&PlannedRow| row.incoming.kind == kind && row.outcome == Outcome::Create;
    rows.iter().filter(new).map(make).collect()
}

async fn insert<A>(taking: Taking<'_>, rows: Vec<A>) -> Result<(), ApiError>
where
    A: ActiveModelTrait + Send,
    <A::Entity as EntityTrait>::Model: IntoActiveModel<A>,
{
    let mut rows = rows.into_iter().peekable();
    while rows.peek().is_some() {
        let some: Vec<A> = rows.by_ref().take(AT_ONCE).collect();
        A::Entity::insert_many(some).exec_without_returning(taking.tx).await?;
    }
    Ok(())
}

fn grower(taking: Taking<'_>, row: &PlannedRow) -> Result<growers::ActiveModel, ApiError> {
    let said = &row.incoming.said;
    Ok(growers::ActiveModel {
        practice_id: Set(taking.scope.practice_id),
        id: Set(object(row)?),
        name: Set(name(row)?),
        advisor_id: Set(None),
        phone: Set(said.phone.clone()),
        email: Set(said.email.clone()),
        notes: Set(None),
        version: Set(1),
        created_at: Set(taking.now),
        updated_at: Set(taking.now),
    })
}

fn farm(taking: Taking<'_>, row: &PlannedRow) -> Result<farms::ActiveModel, ApiError> {
    Ok(farms::ActiveModel {
        practice_id: Set(taking.scope.practice_id),
        id: Set(object(row)?),
        grower_id: Set(parent(row)?),
        name: Set(name(row)?),
        version: Set(1),
        created_at: Set(taking.now),
        updated_at: Set(taking.now),
    })
}

fn field(taking: Taking<'_>, row: &PlannedRow) -> Result<fields::ActiveModel, ApiError> {
    let said = &row.incoming.said;
    Ok(fields::ActiveModel {
        practice_id: Set(taking.scope.practice_id),
        id: Set(object(row)?),
        farm_id: Set(parent(row)?),
        name: Set(name(row)?),
        boundary: Set(said.boundary.as_ref().map(json).transpose()?),
        area_m2: Set(row.work.land.as_ref().map(|land| land.area.si())),
        entered_area: Set(said.area.as_ref().map(json).transpose()?),
        texture_class: Set(None),
        notes: Set(None),
        version: Set(1),
        created_at: Set(taking.now),
        updated_at: Set(taking.now),
    })
}

fn planter(taking: Taking<'_>, row: &PlannedRow) -> Result<planters::ActiveModel, ApiError> {
    let makeup = row.incoming.said.makeup.as_ref();
    let makeup = makeup.ok_or_else(|| ApiError::internal("a new planter has no make-up"))?;
    Ok(planters::ActiveModel {
        practice_id: Set(taking.scope.practice_id),
        id: Set(object(row)?),
        grower_id: Set(parent(row)?),
        name: Set(name(row)?),
        makeup: Set(json(makeup)?),
        version: Set(1),
        created_at: Set(taking.now),
        updated_at: Set(taking.now),
    })
}

/// A yield is stored once: the same one that somebody entered before is tied instead. Says whether it
/// is new.
async fn harvested(taking: Taking<'_>, row: &mut PlannedRow) -> Result<bool, ApiError> {
    let Taking { tx, scope, now, by, .. } = taking;
    let id = object(row)?;
    let season = u16::try_from(now.year()).map_err(ApiError::internal)?;
    let author = Author { id, now, season, account_id: by.actor.account_id };
    let given = harvest::whole(&row.incoming.said, None, &row.incoming.place)?;
    // The day was checked when it was planned.
    let new = given.parse(given.harvested_on)?;
    let stored = yields::store::insert(tx, scope, author, parent(row)?, (&given, new)).await?;
    row.object_id = Some(stored.id);
    Ok(stored.id == id)
}

fn object(row: &PlannedRow) -> Result<Uuid, ApiError> {
    row.object_id.ok_or_else(|| ApiError::internal("what is made has no id"))
}

fn parent(row: &PlannedRow) -> Result<Uuid, ApiError> {
    let parent = row.work.parent.and_then(Ref::id);
    parent.ok_or_else(|| ApiError::internal("what is made has no parent"))
}

fn name(row: &PlannedRow) -> Result<String, ApiError> {
    let name = row.incoming.said.name.clone();
    name.ok_or_else(|| ApiError::internal("what is made has no name"))
}

pub(super) fn json(value: impl Serialize) -> Result<Value, ApiError> {
    serde_json::to_value(value).map_err(ApiError::internal)
}
