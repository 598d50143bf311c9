//! Objects that are changed, each only if it is still what it was when it was looked at.

use std::collections::HashSet;

use sea_orm::sea_query::Expr;
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter};
use uuid::Uuid;

use super::Taking;
use super::trail::Trail;
use crate::entities::{farms, fields, growers, planters};
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::harvest;
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::{Changed, Outcome, PlannedRow};
use crate::http::etag::Expected;
use crate::http::{ApiError, Patch};
use crate::v1::inspections::refresh;
use crate::v1::{fields as fields_v1, growers as growers_v1, planters as planters_v1, yields};

/// Changes all that is changed.
pub(super) async fn all(
    taking: Taking<'_>,
    rows: &[PlannedRow],
    trail: &mut Trail,
) -> Result<(), ApiError> {
    for (row, changes) in rows.iter().filter_map(changing) {
        let members: Vec<Member> = changes.iter().map(|change| change.member).collect();
        let version = one(taking, row, &members).await?;
        trail.changed(row, &members, version);
    }
    Ok(())
}

/// What is changed of a record's object.
fn changing(row: &PlannedRow) -> Option<(&PlannedRow, &[Changed])> {
    match &row.outcome {
        Outcome::Change(changes) | Outcome::Conflict { changes, .. } if !changes.is_empty() => {
            Some((row, changes.as_slice()))
        }
        _ => None,
    }
}

/// Names that go from one object to another in the same batch, be it one that is made: who has one
/// gives it up before anything else.
pub(super) async fn make_room(taking: Taking<'_>, rows: &[PlannedRow]) -> Result<(), ApiError> {
    let wanted: HashSet<(Kind, &str)> =
        rows.iter().filter_map(|row| Some((row.incoming.kind, row.new_name()?))).collect();
    for (row, _) in rows.iter().filter_map(changing).filter(|(row, _)| row.new_name().is_some()) {
        let kind = row.incoming.kind;
        let held = row.ours().and_then(|ours| ours.name.as_deref());
        if let (Some(held), Some(id)) = (held, row.object_id)
            && wanted.contains(&(kind, held))
        {
            give_up_name(taking, kind, id).await?;
        }
    }
    Ok(())
}

async fn give_up_name(taking: Taking<'_>, kind: Kind, id: Uuid) -> Result<(), ApiError> {
    let (tx, practice_id) = (taking.tx, taking.scope.practice_id);
    macro_rules! give_up {
        ($table:ident) => {
            $table::Entity::update_many()
                .col_expr($table::Column::Name, Expr::value(id.to_string()))
                .filter($table::Column::PracticeId.eq(practice_id))
                .filter($table::Column::Id.eq(id))
                .exec(tx)
                .await?
        };
    }
    match kind {
        Kind::Grower => give_up!(growers),
        Kind::Farm => give_up!(farms),
        Kind::Field => give_up!(fields),
        Kind::Planter => give_up!(planters),
        Kind::Yield => return Ok(()),
    };
    Ok(())
}

/// Changes an object in these members; gives its new version.
async fn one(taking: Taking<'_>, row: &PlannedRow, members: &[Member]) -> Result<i32, ApiError> {
    let (Some(id), Some(ours)) = (row.object_id, row.ours()) else {
        return Err(ApiError::internal("what is changed was not looked at"));
    };
    let expected = Expected(Some(vec![ours.version]));
    match row.incoming.kind {
        Kind::Grower => grower(taking, row, (id, members), &expected).await,
        Kind::Farm => farm(taking, row, id, &expected).await,
        Kind::Field => field(taking, row, (id, members), &expected).await,
        Kind::Planter => planter(taking, row, (id, members), &expected).await,
        Kind::Yield => harvested(taking, row, (id, members), &expected).await,
    }
}

async fn grower(
    taking: Taking<'_>,
    row: &PlannedRow,
    (id, members): (Uuid, &[Member]),
    expected: &Expected,
) -> Result<i32, ApiError> {
    let said = &row.incoming.said;
    let takes = |member: Member| members.contains(&member);
    let change = growers_v1::store::GrowerChange {
        name: said.name.clone().filter(|_| takes(Member::Name)),
        advisor_id: Patch::Absent,
        phone: patch(said.phone.clone().filter(|_| takes(Member::Phone))),
        email: patch(said.email.clone().filter(|_| takes(Member::Email))),
        notes: Patch::Absent,
    };
    let before = growers_v1::store::find(taking.tx, taking.scope, id).await?;
    let after = growers_v1::store::update(taking.tx, before, expected, taking.now, change).await?;
    Ok(after.version)
}

/// A farm has nothing but its name.
async fn farm(
    taking: Taking<'_>,
    row: &PlannedRow,
    id: Uuid,
    expected: &Expected,
) -> Result<i32, ApiError> {
    use crate::v1::farms::store;
    let before = store::find(taking.tx, taking.scope, id).await?;
    let name = row.incoming.said.name.clone();
    Ok(store::update(taking.tx, before, expected, taking.now, name).await?.version)
}

async fn field(
    taking: Taking<'_>,
    row: &PlannedRow,
    (id, members): (Uuid, &[Member]),
    expected: &Expected,
) -> Result<i32, ApiError> {
    let said = &row.incoming.said;
    let takes = |member: Member| members.contains(&member);
    let area = row.work.land.as_ref().map(|land| land.area);
    let boundary = said.boundary.clone().zip(area).filter(|_| takes(Member::Boundary));
    let change = fields_v1::store::FieldChange {
        name: said.name.clone().filter(|_| takes(Member::Name)),
        boundary: patch(boundary),
        entered_area: patch(said.area.clone().filter(|_| takes(Member::Area))),
        texture_class: Patch::Absent,
        notes: Patch::Absent,
    };
    let before = fields_v1::store::find(taking.tx, taking.scope, id).await?;
    let after = fields_v1::store::update(taking.tx, before, expected, taking.now, change).await?;
    Ok(after.version)
}

async fn planter(
    taking: Taking<'_>,
    row: &PlannedRow,
    (id, members): (Uuid, &[Member]),
    expected: &Expected,
) -> Result<i32, ApiError> {
    use planters_v1::store;
    let name = row.incoming.said.name.clone().filter(|_| members.contains(&Member::Name));
    let change = (name, row.work.makeup.clone());
    let before = store::find(taking.tx, taking.scope, id).await?;
    let after = store::update(taking.tx, before, expected, taking.now, change).await?;
    refresh::planter(taking.tx, &taking.app.ids, &after).await?;
    Ok(after.version)
}

async fn harvested(
    taking: Taking<'_>,
    row: &PlannedRow,
    (id, members): (Uuid, &[Member]),
    expected: &Expected,
) -> Result<i32, ApiError> {
    use yields::store;
    let before = store::find(taking.tx, taking.scope, id).await?;
    let change = (taking.now, harvest::change(&row.incoming.said, members));
    Ok(store::update(taking.tx, taking.scope, before, expected, change).await?.version)
}

fn patch<T>(value: Option<T>) -> Patch<T> {
    value.map_or(Patch::Absent, Patch::Value)
}
