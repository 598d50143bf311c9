//! Digs whose last word is not good: a change waits for a decision, or the depth is off and nothing
//! is proposed, or the dig did not settle it.

use std::collections::HashMap;

use chrono::{DateTime, TimeDelta, Utc};
use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use super::digs::{Done, NewestDig};
use super::digs_overdue::blank;
use super::sheets::Sheet;
use super::words::{ago, day};
use super::{Asking, AttentionKind, AttentionObjectKind, Found, Urgency, Voice};
use crate::entities::adjustments::{Column, Entity, Status};
use crate::http::ApiError;

/// How long a dig without an open change stays on the list: after that the field is done.
const FRESH: TimeDelta = TimeDelta::days(14);
/// How long the planter is likely still to be there.
const STILL_THERE: TimeDelta = TimeDelta::days(2);

/// The digs that need somebody.
pub(super) async fn failed(
    asking: &Asking<'_>,
    sheets: &[Sheet],
    done: &Done,
) -> Result<Vec<Found>, ApiError> {
    let open = open_adjustments(asking).await?;
    Ok(sheets.iter().filter_map(|sheet| one(asking, sheet, done, &open)).collect())
}

fn one(
    asking: &Asking<'_>,
    sheet: &Sheet,
    done: &Done,
    open: &HashMap<Uuid, (Uuid, DateTime<Utc>)>,
) -> Option<Found> {
    let dug = done.dug.get(&sheet.id);
    if let Some((adjustment, proposed_at)) = open.get(&sheet.id) {
        return Some(undecided(asking, sheet, dug, (*adjustment, *proposed_at)));
    }
    let dug = dug.filter(|dug| asking.now < dug.dug_at + FRESH)?;
    let (reason, next) = without_change(asking, dug)?;
    let due = asking.calendar.today(dug.dug_at);
    Some(Found {
        object: (AttentionObjectKind::DigCheck, dug.id),
        event_at: dug.dug_at,
        from: dug.dug_at,
        due,
        urgency: Urgency::Soon,
        reason,
        next,
        ..blank(sheet, AttentionKind::DigFailed)
    })
}

/// A change is proposed and nobody has decided.
fn undecided(
    asking: &Asking<'_>,
    sheet: &Sheet,
    dug: Option<&NewestDig>,
    (adjustment, proposed_at): (Uuid, DateTime<Utc>),
) -> Found {
    let asks = dug.and_then(|dug| dug.asks.as_deref()).map_or("a change", change);
    let dug_at = dug.map_or(proposed_at, |dug| dug.dug_at);
    let fresh = asking.now < dug_at + STILL_THERE;
    let on = day(asking.calendar.today(dug_at));
    Found {
        object: (AttentionObjectKind::Adjustment, adjustment),
        event_at: proposed_at.max(dug_at),
        from: proposed_at,
        due: asking.calendar.today(proposed_at),
        urgency: if fresh { Urgency::Now } else { Urgency::Soon },
        reason: match asking.voice {
            Voice::Advisor => format!(
                "The dig of {on} asks for {asks}, and nobody has decided for {}.",
                ago(asking, proposed_at)
            ),
            Voice::Grower => {
                format!("Your dig of {on} asks for {asks}; your advisor has not decided yet.")
            }
        },
        next: match asking.voice {
            Voice::Advisor => "Accept the change or decline it: the planter may be standing.",
            Voice::Grower => "Call your advisor if the planter is standing.",
        },
        ..blank(sheet, AttentionKind::DigFailed)
    }
}

/// Nothing is proposed, or it was declined, and still it is not good.
fn without_change(asking: &Asking<'_>, dug: &NewestDig) -> Option<(String, &'static str)> {
    let on = day(asking.calendar.today(dug.dug_at));
    let off = match dug.depth_side.as_deref() {
        Some("shallow") => Some("too shallow"),
        Some("deep") => Some("too deep"),
        _ => None,
    };
    if let Some(off) = off {
        let reason =
            format!("The newest dig, of {on}, found the seed {off}, and no change is open.");
        return Some((
            reason,
            match asking.voice {
                Voice::Advisor => "Look at the dig; revise the sheet, or have another dig made.",
                Voice::Grower => {
                    "Dig once more before you go on; call your advisor if it stays so."
                }
            },
        ));
    }
    let unsettled = dug.asks.as_deref() == Some("dig_more");
    unsettled.then(|| {
        let reason = format!("The dig of {on} does not settle whether the depth is right.");
        let next = match asking.voice {
            Voice::Advisor => "Have more rows dug: the dig says how many.",
            Voice::Grower => "Dig more rows: the dig says how many.",
        };
        (reason, next)
    })
}

/// A kind of change in words.
fn change(kind: &str) -> &'static str {
    match kind {
        "inspect" => "a look at the planter",
        "down_force" => "another down force",
        "depth" => "another depth setting",
        "speed" => "another speed",
        "cleaner_height" => "another height of the row cleaners",
        "closing_wheels" => "other closing wheels",
        "closing_spring" => "another spring on the closing wheels",
        "coulter" => "another use of the coulters",
        "wait" => "waiting",
        _ => "a change",
    }
}

/// Adjustments that nobody has decided, by sheet: the newest of each.
async fn open_adjustments(
    asking: &Asking<'_>,
) -> Result<HashMap<Uuid, (Uuid, DateTime<Utc>)>, ApiError> {
    let rows: Vec<(Uuid, Uuid, DateTime<Utc>)> = Entity::find()
        .select_only()
        .columns([Column::RecommendationId, Column::Id, Column::CreatedAt])
        .filter(Column::PracticeId.eq(asking.scope.practice_id))
        .filter(Column::Status.eq(Status::Proposed))
        .into_tuple()
        .all(asking.db)
        .await?;
    let mut newest: HashMap<Uuid, (Uuid, DateTime<Utc>)> = HashMap::new();
    for (sheet, id, at) in rows {
        let kept = newest.entry(sheet).or_insert((id, at));
        if (kept.1, kept.0) < (at, id) {
            *kept = (id, at);
        }
    }
    Ok(newest)
}

#[cfg(test)]
mod tests {
    use super::change;

    /// Words for each kind of change that the domain can propose.
    #[test]
    fn each_change_has_words() {
        for kind in [
            "inspect",
            "down_force",
            "depth",
            "speed",
            "cleaner_height",
            "closing_wheels",
            "closing_spring",
            "coulter",
            "wait",
        ] {
            assert_ne!(change(kind), "a change", "{kind}");
        }
    }
}
