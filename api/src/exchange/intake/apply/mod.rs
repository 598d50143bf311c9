//! Does what was planned, in one transaction.

mod change;
mod make;
mod many;
mod seen;
mod tie;
mod trail;
mod wait;

pub use seen::{mark_missing, missing};

use chrono::{DateTime, Utc};
use sea_orm::DatabaseTransaction;
use uuid::Uuid;

use super::outcome::{Outcome, Plan, PlannedRow};
use super::system::System;
use super::work::Ref;
use crate::app::AppState;
use crate::auth::Scope;
use crate::changes;
use crate::http::{ApiError, etag};
use crate::writes::Actor;
use trail::Trail;

/// Who takes records, by which operation and request, for the audit trail.
#[derive(Debug, Clone)]
pub struct By {
    /// Who.
    pub actor: Actor,
    /// The operation's id in the API document.
    pub operation: String,
    /// The id of the request; empty for work that no request waits for.
    pub request_id: String,
}

/// What every step needs.
#[derive(Clone, Copy)]
struct Taking<'a> {
    tx: &'a DatabaseTransaction,
    app: &'a AppState,
    by: &'a By,
    system: &'a System,
    scope: Scope,
    now: DateTime<Utc>,
}

/// Does what was planned: makes, changes, ties, notes what waits, with an audit row and a change for
/// each object. Rows that are refused are left out; whoever wants all or nothing looks at
/// [`Plan::counts`] before. Gives the plan back with the ids of what was made and of what waits.
///
/// Changes are appended here, so whoever calls it says nothing of them to `Write`: `Done::unchanged`.
///
/// # Errors
/// When the database fails; 412 or 409 when something came in between since it was planned: plan
/// again.
pub async fn apply(
    tx: &DatabaseTransaction,
    app: &AppState,
    by: &By,
    plan: Plan,
) -> Result<Plan, ApiError> {
    let Plan { system, mut rows, erasures } = plan;
    if erasures != super::plan::erasures(tx, by.actor.practice_id).await? {
        return Err(etag::stale());
    }
    let scope = Scope::of_practice(by.actor.practice_id);
    let taking = Taking { tx, app, by, system: &system, scope, now: app.clock.now() };
    let mut trail = Trail::default();
    number(app, &mut rows);
    change::make_room(taking, &rows).await?;
    make::all(taking, &mut rows, &mut trail).await?;
    change::all(taking, &rows, &mut trail).await?;
    tie::all(taking, &mut rows).await?;
    wait::matches(taking, &mut rows).await?;
    wait::conflicts(taking, &mut rows).await?;
    many::count_again(taking, &rows).await?;
    trail.audit(taking).await?;
    changes::append(tx, app, by.actor.practice_id, &trail.changes()).await?;
    Ok(Plan { system, rows, erasures })
}

/// Gives ids to what is made, and puts them where it is a parent.
fn number(app: &AppState, rows: &mut [PlannedRow]) {
    for row in rows.iter_mut().filter(|row| row.outcome == Outcome::Create) {
        row.object_id = Some(app.ids.next());
    }
    let ids: Vec<Option<Uuid>> = rows.iter().map(|row| row.object_id).collect();
    let there = |it: Option<Ref>| match it {
        Some(Ref::Row(index)) => ids.get(index).copied().flatten().map(Ref::Is),
        other => other,
    };
    for row in rows.iter_mut() {
        row.work.parent = there(row.work.parent);
        row.work.grower = there(row.work.grower);
        if row.incoming.kind == super::incoming::Kind::Grower && row.outcome == Outcome::Create {
            row.work.grower = row.object_id.map(Ref::Is);
        }
        row.grower_id = row.grower_id.or(row.work.grower.and_then(Ref::id));
    }
}
