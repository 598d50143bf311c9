//! The attention list of a scope: what is found, with what people said about it, in order.

use std::collections::{HashMap, HashSet};

use chrono::NaiveDate;
use sea_orm::{ColumnTrait, DatabaseConnection, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::find::{self, Asking, Found, Voice, Wanted};
use super::kinds::{AttentionKind, Urgency};
use super::marks;
use super::tends::Tends;
use crate::app::AppState;
use crate::auth::Scope;
use crate::entities::{attention_marks, growers};
use crate::http::ApiError;

/// An entry with what people said about it.
#[derive(Debug, Clone)]
pub struct Marked {
    /// What was found.
    pub found: Found,
    /// What people said.
    pub mark: Option<attention_marks::Model>,
    /// Whether it is put off now.
    pub snoozed: bool,
}

impl Marked {
    /// Where it stands: by urgency, then by the day it is due, then by kind and matter.
    pub fn place(&self) -> (Urgency, NaiveDate, AttentionKind, Uuid) {
        (self.found.urgency, self.found.due, self.found.kind, self.found.matter)
    }
}

/// Which entries.
#[derive(Debug, Clone, Copy, Default)]
pub struct Which {
    /// Growers and kind.
    pub wanted: Wanted,
    /// Only those of this account: of growers it advises, or assigned to it.
    pub mine: Option<Uuid>,
    /// Those that are put off too.
    pub snoozed: bool,
    /// What beside fields and planters is shown too.
    pub tends: Tends,
    /// Also what is due only later, up to this day.
    pub ahead: Option<NaiveDate>,
}

/// The list, in order.
///
/// # Errors
/// When the database fails.
pub async fn gather(app: &AppState, scope: Scope, which: Which) -> Result<Vec<Marked>, ApiError> {
    let asking = Asking { tends: which.tends, ..Asking::of(app, scope, which.wanted).await? };
    let mut found = find::all(&asking).await?;
    match which.ahead {
        None => found.retain(|it| it.from <= asking.now),
        Some(day) => {
            found.retain(|it| it.from <= asking.now || it.kind.is_foreseen() && it.due <= day);
        }
    }
    // What an advisor puts off is not put off for the grower.
    let marks = match asking.voice {
        Voice::Advisor => marks::all(asking.db, scope.practice_id).await?,
        Voice::Grower => HashMap::new(),
    };
    let mut listed: Vec<Marked> =
        found.into_iter().map(|found| marked(found, &marks, asking.today)).collect();
    if !which.snoozed {
        listed.retain(|it| !it.snoozed);
    }
    if let Some(account) = which.mine {
        let growers = advised_by(asking.db, scope, account).await?;
        listed.retain(|it| is_of(it, account, &growers));
    }
    listed.sort_unstable_by_key(Marked::place);
    Ok(listed)
}

fn marked(
    found: Found,
    marks: &HashMap<String, attention_marks::Model>,
    today: NaiveDate,
) -> Marked {
    let mark = if marks.is_empty() { None } else { marks.get(&found.key()).cloned() };
    let snoozed = mark.as_ref().is_some_and(|mark| marks::is_snoozed(mark, &found, today));
    Marked { found, mark, snoozed }
}

/// Assigned to the account; or to nobody, and of one of its growers.
fn is_of(entry: &Marked, account: Uuid, growers: &HashSet<Uuid>) -> bool {
    match entry.mark.as_ref().and_then(|mark| mark.assigned_to) {
        Some(assigned) => assigned == account,
        None => entry.found.grower_id.is_some_and(|grower| growers.contains(&grower)),
    }
}

async fn advised_by(
    db: &DatabaseConnection,
    scope: Scope,
    account: Uuid,
) -> Result<HashSet<Uuid>, ApiError> {
    let ids: Vec<Uuid> = scope
        .growers()
        .filter(growers::Column::AdvisorId.eq(account))
        .select_only()
        .column(growers::Column::Id)
        .into_tuple()
        .all(db)
        .await?;
    Ok(ids.into_iter().collect())
}
