//! Their ids and what they said last, kept.

use sea_orm::sea_query::{Expr, ExprTrait};
use sea_orm::{ActiveValue::Set, ColumnTrait, EntityTrait, QueryFilter};
use serde_json::Value;

use super::Taking;
use super::make::json;
use crate::entities::external_ids::{ActiveModel, Column, Entity};
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::outcome::{Outcome, PlannedRow};
use crate::exchange::intake::plan::AT_ONCE;
use crate::exchange::intake::work::{Members, Tie};
use crate::http::ApiError;

/// Ties what is made, keeps what was said last, and notes that all of them were seen.
pub(super) async fn all(taking: Taking<'_>, rows: &mut [PlannedRow]) -> Result<(), ApiError> {
    let mut made = Vec::new();
    let mut only_seen = Vec::new();
    for row in rows.iter_mut() {
        match (&row.work.tie, &row.outcome) {
            (None, Outcome::Create) => made.push(new(taking, row)?),
            (Some(tie), outcome) if says_something_new(row, tie, outcome) => {
                keep(taking, row, tie).await?;
            }
            (Some(tie), _) => only_seen.push(tie.id),
            (None, _) => {}
        }
    }
    let mut made = made.into_iter().peekable();
    while made.peek().is_some() {
        let some: Vec<ActiveModel> = made.by_ref().take(AT_ONCE / 2).collect();
        Entity::insert_many(some).exec_without_returning(taking.tx).await?;
    }
    for some in only_seen.chunks(AT_ONCE) {
        Entity::update_many()
            .col_expr(Column::LastSeenAt, Expr::value(taking.now))
            .col_expr(Column::GoneSince, Expr::value(None::<chrono::DateTime<chrono::Utc>>))
            .filter(Column::PracticeId.eq(taking.scope.practice_id))
            .filter(Column::Id.is_in(some.iter().copied()))
            .exec(taking.tx)
            .await?;
    }
    Ok(())
}

fn says_something_new(row: &PlannedRow, tie: &Tie, outcome: &Outcome) -> bool {
    let refused = matches!(outcome, Outcome::Refused(_));
    let version = &row.incoming.their_version;
    let repeats = row.work.repeats;
    !refused && !repeats && (tie.hash != row.work.hash || tie.their_version != *version)
}

fn new(taking: Taking<'_>, row: &PlannedRow) -> Result<ActiveModel, ApiError> {
    let missing = || ApiError::internal("a record that is taken has no id");
    Ok(ActiveModel {
        practice_id: Set(taking.scope.practice_id),
        id: Set(taking.app.ids.next()),
        system: Set(taking.system.as_str().to_owned()),
        kind: Set(row.incoming.kind),
        their_id: Set(row.incoming.their_id.clone().ok_or_else(missing)?),
        object_id: Set(row.object_id.ok_or_else(missing)?),
        grower_id: Set(row.grower_id),
        taken: Set(taken(row, Members::new())?),
        taken_hash: Set(row.work.hash.clone()),
        their_version: Set(row.incoming.their_version.clone()),
        their_updated_at: Set(row.incoming.updated_at),
        first_seen_at: Set(taking.now),
        last_seen_at: Set(taking.now),
        gone_since: Set(None),
        version: Set(1),
    })
}

/// Keeps what was said last over what was said before.
async fn keep(taking: Taking<'_>, row: &PlannedRow, tie: &Tie) -> Result<(), ApiError> {
    let mut change = ActiveModel {
        their_version: Set(row.incoming.their_version.clone()),
        their_updated_at: Set(row.incoming.updated_at),
        last_seen_at: Set(taking.now),
        gone_since: Set(None),
        ..Default::default()
    };
    if tie.hash != row.work.hash {
        change.taken = Set(taken(row, tie.taken.clone())?);
        change.taken_hash = Set(row.work.hash.clone());
    }
    Entity::update_many()
        .set(change)
        .col_expr(Column::Version, Expr::col(Column::Version).add(1))
        .filter(Column::PracticeId.eq(taking.scope.practice_id))
        .filter(Column::Id.eq(tie.id))
        .exec(taking.tx)
        .await?;
    Ok(())
}

fn taken(row: &PlannedRow, mut before: Members) -> Result<Value, ApiError> {
    before.extend(row.work.theirs.clone());
    if let Some(parent) = &row.incoming.said.parent {
        before.insert(Member::Parent.word().to_owned(), json(parent)?);
    }
    Ok(Value::Object(before))
}
