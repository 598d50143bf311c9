//! What was done, for the audit trail and for those who follow.

use sea_orm::{ActiveValue::Set, EntityTrait};
use serde_json::Value;
use uuid::Uuid;

use super::Taking;
use crate::changes::{Change, ChangeType};
use crate::entities::audit_events::{ActiveModel, Entity};
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::incoming::Kind;
use crate::exchange::intake::outcome::PlannedRow;
use crate::http::ApiError;

/// Rows of one statement: databases bound its parameters.
const AT_ONCE: usize = 300;

/// What was done.
#[derive(Debug, Default)]
pub(super) struct Trail(Vec<Step>);

#[derive(Debug)]
struct Step {
    kind: Kind,
    object_id: Uuid,
    grower_id: Option<Uuid>,
    /// Names of the members that were changed; none of what was made.
    changed: Option<Vec<&'static str>>,
    version: i32,
}

impl Trail {
    /// An object was made.
    pub(super) fn made(&mut self, row: &PlannedRow) {
        self.push(row, None, 1);
    }

    /// An object was changed in these members.
    pub(super) fn changed(&mut self, row: &PlannedRow, members: &[Member], version: i32) {
        let changed = members.iter().map(|member| member.word()).collect();
        self.push(row, Some(changed), version);
    }

    fn push(&mut self, row: &PlannedRow, changed: Option<Vec<&'static str>>, version: i32) {
        let (kind, grower_id) = (row.incoming.kind, row.grower_id);
        if let Some(object_id) = row.object_id {
            self.0.push(Step { kind, object_id, grower_id, changed, version });
        }
    }

    /// Puts a row into the audit trail for each object.
    pub(super) async fn audit(&self, taking: Taking<'_>) -> Result<(), ApiError> {
        for some in self.0.chunks(AT_ONCE) {
            let rows = some.iter().map(|step| event(taking, step));
            Entity::insert_many(rows).exec_without_returning(taking.tx).await?;
        }
        Ok(())
    }

    /// What those who follow are told.
    pub(super) fn changes(&self) -> Vec<Change> {
        let told = self.0.iter().map(|step| {
            let change_type = change_type(step.kind, step.changed.is_some());
            let change = Change::new(change_type, step.object_id).of_grower(step.grower_id);
            change.in_version(step.version)
        });
        told.collect()
    }
}

fn event(taking: Taking<'_>, step: &Step) -> ActiveModel {
    let by = taking.by;
    ActiveModel {
        practice_id: Set(by.actor.practice_id),
        id: Set(taking.app.ids.next()),
        at: Set(taking.now),
        account_id: Set(by.actor.account_id),
        role: Set(by.actor.role),
        client_id: Set(by.actor.client_id),
        request_id: Set(by.request_id.clone()),
        operation: Set(by.operation.clone()),
        object_kind: Set(step.kind.word().to_owned()),
        object_id: Set(step.object_id.to_string()),
        grower_id: Set(step.grower_id),
        changed: Set(step.changed.clone().map(Value::from)),
    }
}

fn change_type(kind: Kind, changed: bool) -> ChangeType {
    match (kind, changed) {
        (Kind::Grower, false) => ChangeType::GrowerCreated,
        (Kind::Grower, true) => ChangeType::GrowerChanged,
        (Kind::Farm, false) => ChangeType::FarmCreated,
        (Kind::Farm, true) => ChangeType::FarmChanged,
        (Kind::Field, false) => ChangeType::FieldCreated,
        (Kind::Field, true) => ChangeType::FieldChanged,
        (Kind::Planter, false) => ChangeType::PlanterCreated,
        (Kind::Planter, true) => ChangeType::PlanterChanged,
        (Kind::Yield, false) => ChangeType::YieldRecorded,
        (Kind::Yield, true) => ChangeType::YieldChanged,
    }
}
