//! What is due, as events of a calendar.

use chrono::{NaiveDate, TimeDelta};

use crate::app::AppState;
use crate::auth::{Scope, secret};
use crate::entities::{calendar_feeds, practices};
use crate::http::ApiError;
use crate::v1::attention::dto::AttentionEntry;
use crate::v1::attention::find::Wanted;
use crate::v1::attention::gather::{Marked, Which, gather};
use crate::v1::attention::names::Names;
use crate::v1::practice::SeasonCalendar;

/// How far a feed looks back and ahead, in days.
const BACK: i64 = 60;
const AHEAD: i64 = 90;
/// Most events of a feed, those that are due first.
const MOST: usize = 1000;

/// Something that is due on a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Due {
    /// Names the matter.
    pub key: String,
    /// The day.
    pub on: NaiveDate,
    /// What and where.
    pub summary: String,
    /// What to do.
    pub description: String,
    /// Where to look.
    pub url: String,
}

impl Due {
    /// What it says, as a hash: it is another event when this is another.
    pub(super) fn fingerprint(&self) -> String {
        let Self { key, on, summary, description, url } = self;
        secret::hash(
            &[key, &on.to_string(), summary, description, url]
                .map(|it| {
                    // Each with its length, so that no two say alike.
                    format!("{}:{it}", it.len())
                })
                .concat(),
        )
    }
}

/// What is due in the scope of a feed, in order of the day. What is put off stands on the day on which
/// it comes back.
pub(super) async fn due(
    app: &AppState,
    scope: Scope,
    feed: &calendar_feeds::Model,
    practice: &practices::Model,
) -> Result<Vec<Due>, ApiError> {
    let today = SeasonCalendar::of(practice)?.today(app.clock.now());
    let which = Which {
        wanted: Wanted { grower_id: feed.grower_id, ..Wanted::default() },
        snoozed: true,
        ahead: Some(today + TimeDelta::days(AHEAD)),
        ..Which::default()
    };
    let mut list = gather(app, scope, which).await?;
    let days = today - TimeDelta::days(BACK)..=today + TimeDelta::days(AHEAD);
    list.retain(|entry| days.contains(&day_of(entry)));
    list.sort_by_key(|entry| (day_of(entry), entry.place()));
    list.truncate(MOST);
    let names = Names::of(&app.db, scope.practice_id, &list).await?;
    let events = list.into_iter().map(|entry| {
        let on = day_of(&entry);
        event(app, on, AttentionEntry::of(entry, &names))
    });
    Ok(events.collect())
}

fn day_of(entry: &Marked) -> NaiveDate {
    let until = entry.mark.as_ref().filter(|_| entry.snoozed).and_then(|mark| mark.snoozed_until);
    until.unwrap_or(entry.found.due)
}

/// Nothing in it changes from day to day: a program would show each change as news.
fn event(app: &AppState, on: NaiveDate, entry: AttentionEntry) -> Due {
    let names = [&entry.grower, &entry.field, &entry.planter];
    let names: Vec<&str> = names.into_iter().flatten().map(|it| it.name.as_str()).collect();
    Due {
        on,
        summary: format!("{}: {}", entry.kind.title(), names.join(", ")),
        description: entry.next_step,
        url: app.settings.public_url.of(&entry.object_path),
        key: entry.key,
    }
}
