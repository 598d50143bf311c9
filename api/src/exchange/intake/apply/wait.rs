//! What waits for a person, kept once however often it comes.

use std::collections::HashMap;

use chrono::{DateTime, Utc};
use sea_orm::{ActiveValue::Set, ColumnTrait, EntityTrait, QueryFilter};
use serde_json::Value;
use uuid::Uuid;

use super::Taking;
use super::make::json;
use crate::entities::{record_conflicts, record_matches};
use crate::exchange::intake::incoming::{Kind, Parent, Said};
use crate::exchange::intake::outcome::{Candidate, Disputed, Outcome, PlannedRow, Waiting};
use crate::exchange::intake::plan::{AT_ONCE, same};
use crate::exchange::intake::report::IntakeWait;
use crate::http::ApiError;

/// Keeps records that wait, and lets go of those that wait no more.
pub(super) async fn matches(taking: Taking<'_>, rows: &mut [PlannedRow]) -> Result<(), ApiError> {
    use record_matches::{Column, Entity};
    let there = waiting(taking, rows).await?;
    let (mut new, mut over) = (Vec::new(), Vec::new());
    for row in rows.iter_mut() {
        let content = match &row.outcome {
            Outcome::Waits(waiting) => Some(Content::of(row, waiting)?),
            Outcome::Refused(_) => continue,
            _ => None,
        };
        match (content, row.match_id) {
            (Some(content), None) => {
                let id = taking.app.ids.next();
                new.push(first(taking, row, content, id)?);
                row.match_id = Some(id);
            }
            (Some(content), Some(id)) => {
                if let Some(before) = there.get(&id) {
                    again(taking, content, before).await?;
                }
            }
            (None, Some(id)) => over.push(id),
            (None, None) => {}
        }
    }
    let mut new = new.into_iter().peekable();
    while new.peek().is_some() {
        let some: Vec<_> = new.by_ref().take(AT_ONCE / 2).collect();
        Entity::insert_many(some).exec_without_returning(taking.tx).await?;
    }
    for some in over.chunks(AT_ONCE) {
        Entity::delete_many()
            .filter(Column::PracticeId.eq(taking.scope.practice_id))
            .filter(Column::Id.is_in(some.iter().copied()))
            .exec(taking.tx)
            .await?;
    }
    Ok(())
}

/// The records that wait already, by the ids under which people decide.
async fn waiting(
    taking: Taking<'_>,
    rows: &[PlannedRow],
) -> Result<HashMap<Uuid, record_matches::Model>, ApiError> {
    use record_matches::{Column, Entity};
    let waits = |row: &&PlannedRow| matches!(row.outcome, Outcome::Waits(_));
    let ids: Vec<Uuid> = rows.iter().filter(waits).filter_map(|row| row.match_id).collect();
    let mut there = HashMap::new();
    for some in ids.chunks(AT_ONCE) {
        let found = Entity::find()
            .filter(Column::PracticeId.eq(taking.scope.practice_id))
            .filter(Column::Id.is_in(some.iter().copied()))
            .all(taking.tx)
            .await?;
        there.extend(found.into_iter().map(|row| (row.id, row)));
    }
    Ok(there)
}

fn first(
    taking: Taking<'_>,
    row: &PlannedRow,
    content: Content,
    id: Uuid,
) -> Result<record_matches::ActiveModel, ApiError> {
    let missing = || ApiError::internal("a record that waits has no id");
    Ok(record_matches::ActiveModel {
        practice_id: Set(taking.scope.practice_id),
        id: Set(id),
        system: Set(taking.system.as_str().to_owned()),
        kind: Set(row.incoming.kind),
        their_id: Set(row.incoming.their_id.clone().ok_or_else(missing)?),
        version: Set(1),
        created_at: Set(taking.now),
        updated_at: Set(taking.now),
        ..content.into()
    })
}

/// Keeps what it says now; one that says the same stays as it is, so that whoever decides is not
/// disturbed.
async fn again(
    taking: Taking<'_>,
    content: Content,
    before: &record_matches::Model,
) -> Result<(), ApiError> {
    use record_matches::{ActiveModel, Column, Entity};
    let as_before = same(&content.record, &before.record)
        && same(&content.candidates, &before.candidates)
        && content.waits_for == before.waits_for
        && content.erased_at == before.erased_at;
    if as_before {
        return Ok(());
    }
    let change = ActiveModel {
        version: Set(before.version.saturating_add(1)),
        updated_at: Set(taking.now),
        ..content.into()
    };
    Entity::update_many()
        .set(change)
        .filter(Column::PracticeId.eq(before.practice_id))
        .filter(Column::Id.eq(before.id))
        .exec(taking.tx)
        .await?;
    Ok(())
}

/// What is kept of a record while it waits.
struct Content {
    waits_for: IntakeWait,
    their_version: Option<String>,
    their_updated_at: Option<DateTime<Utc>>,
    grower_id: Option<Uuid>,
    record: Value,
    candidates: Value,
    erased_at: Option<DateTime<Utc>>,
}

impl Content {
    /// Of a record that was erased here only what it belongs to, by their id.
    fn of(row: &PlannedRow, waiting: &Waiting) -> Result<Self, ApiError> {
        let PlannedRow { incoming, .. } = row;
        let candidates = waiting.candidates();
        let kept = Self {
            waits_for: waiting.waits_for(),
            their_version: incoming.their_version.clone(),
            their_updated_at: incoming.updated_at,
            grower_id: grower(row, candidates),
            record: json(&incoming.said)?,
            candidates: json(candidates)?,
            erased_at: None,
        };
        let Some(erased_at) = waiting.erased_at() else { return Ok(kept) };
        let theirs = |parent: &Parent| matches!(parent, Parent::Theirs(_));
        let parent = incoming.said.parent.clone().filter(theirs);
        Ok(Self {
            their_version: None,
            their_updated_at: None,
            grower_id: None,
            record: json(Said { parent, ..Said::default() })?,
            erased_at: Some(erased_at),
            ..kept
        })
    }
}

impl From<Content> for record_matches::ActiveModel {
    fn from(content: Content) -> Self {
        let Content {
            waits_for,
            their_version,
            their_updated_at,
            grower_id,
            record,
            candidates,
            erased_at,
        } = content;
        Self {
            waits_for: Set(waits_for),
            their_version: Set(their_version),
            their_updated_at: Set(their_updated_at),
            grower_id: Set(grower_id),
            record: Set(record),
            candidates: Set(candidates),
            erased_at: Set(erased_at),
            ..Default::default()
        }
    }
}

/// Whose it is: of a grower who may be one of ours, the likeliest one's.
fn grower(row: &PlannedRow, candidates: &[Candidate]) -> Option<Uuid> {
    match row.incoming.kind {
        Kind::Grower => candidates.first().map(|candidate| candidate.object_id),
        _ => row.grower_id,
    }
}

/// Keeps members in conflict, and lets go of those that are in conflict no more.
pub(super) async fn conflicts(taking: Taking<'_>, rows: &mut [PlannedRow]) -> Result<(), ApiError> {
    use record_conflicts::{Column, Entity};
    let mut settled = Vec::new();
    for row in rows.iter_mut() {
        if !matches!(row.outcome, Outcome::Refused(_)) {
            settled.extend(row.work.settled.iter().copied());
        }
        let (grower_id, tie) = (row.grower_id, row.work.tie.as_ref().map(|tie| tie.id));
        let (Outcome::Conflict { disputed, .. }, Some(tie)) = (&mut row.outcome, tie) else {
            continue;
        };
        for dispute in disputed {
            match dispute.conflict_id {
                None => begin(taking, dispute, (tie, grower_id)).await?,
                Some(id) => go_on(taking, dispute, id).await?,
            }
        }
    }
    for some in settled.chunks(AT_ONCE) {
        Entity::delete_many()
            .filter(Column::PracticeId.eq(taking.scope.practice_id))
            .filter(Column::Id.is_in(some.iter().copied()))
            .exec(taking.tx)
            .await?;
    }
    Ok(())
}

async fn begin(
    taking: Taking<'_>,
    dispute: &mut Disputed,
    (tie, grower_id): (Uuid, Option<Uuid>),
) -> Result<(), ApiError> {
    let id = taking.app.ids.next();
    let row = record_conflicts::ActiveModel {
        practice_id: Set(taking.scope.practice_id),
        id: Set(id),
        external_id: Set(tie),
        grower_id: Set(grower_id),
        member: Set(dispute.member.word().to_owned()),
        base: Set(Some(dispute.base.clone()).filter(|base| *base != Value::Null)),
        theirs: Set(dispute.theirs.clone()),
        version: Set(1),
        created_at: Set(taking.now),
        updated_at: Set(taking.now),
    };
    record_conflicts::Entity::insert(row).exec_without_returning(taking.tx).await?;
    dispute.conflict_id = Some(id);
    Ok(())
}

/// The same member is still in conflict; what they say may be another.
async fn go_on(taking: Taking<'_>, dispute: &Disputed, id: Uuid) -> Result<(), ApiError> {
    use record_conflicts::{ActiveModel, Column, Entity};
    let key = (taking.scope.practice_id, id);
    let Some(before) = Entity::find_by_id(key).one(taking.tx).await? else { return Ok(()) };
    if same(&before.theirs, &dispute.theirs) {
        return Ok(());
    }
    let change = ActiveModel {
        theirs: Set(dispute.theirs.clone()),
        version: Set(before.version.saturating_add(1)),
        updated_at: Set(taking.now),
        ..Default::default()
    };
    Entity::update_many()
        .set(change)
        .filter(Column::PracticeId.eq(before.practice_id))
        .filter(Column::Id.eq(before.id))
        .exec(taking.tx)
        .await?;
    Ok(())
}
