//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use crate::entities::calendar_feeds;
use crate::http::patch::present;
use crate::http::{ApiError, text};

/// A new calendar feed.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"note": "For the phone."})))]
pub struct CalendarFeedIn {
    /// Only what is due at this grower; all that you see when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// What the feed is for.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "For the phone.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub note: Option<String>,
}

impl CalendarFeedIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<(Option<Uuid>, Option<String>), ApiError> {
        let Self { grower_id, note } = self;
        let note = note.map(|given| text::notes("/note", &given)).transpose()?;
        Ok((grower_id, note))
    }
}

/// A calendar feed. Its address is shown when it is made, and never again.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000061",
    "note": "For the phone.",
    "created_at": "2027-04-20T12:00:00Z"
})))]
pub struct CalendarFeed {
    /// Id of the feed.
    pub id: Uuid,
    /// The grower that it shows; absent where it shows all that its account sees.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// What the feed is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "For the phone.")]
    pub note: Option<String>,
    /// When the feed was made.
    pub created_at: DateTime<Utc>,
}

impl From<calendar_feeds::Model> for CalendarFeed {
    fn from(row: calendar_feeds::Model) -> Self {
        let calendar_feeds::Model { id, grower_id, note, created_at, .. } = row;
        Self { id, grower_id, note, created_at }
    }
}

/// A feed that was just made, with its address, which is shown this once.
#[derive(Serialize, ToSchema)]
#[schema(examples(json!({
    "feed": {
        "id": "01964f1e-6a00-7000-8000-000000000061",
        "note": "For the phone.",
        "created_at": "2027-04-20T12:00:00Z"
    },
    "url": "https://dibble.example.org/calendar/dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk.ics"
})))]
pub struct NewCalendarFeed {
    /// The feed.
    pub feed: CalendarFeed,
    /// The address to give to a calendar program. Whoever has it reads what is due.
    #[schema(
        example = "https://dibble.example.org/calendar/dBjftJeZ4CVP-mB92K27uhbUJU1p1r_wW1gFWFOEjXk.ics"
    )]
    pub url: String,
}

/// A page of calendar feeds.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "id": "01964f1e-6a00-7000-8000-000000000061",
    "created_at": "2027-04-20T12:00:00Z"
}]})))]
pub struct CalendarFeedPage {
    /// The feeds of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<CalendarFeed>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAtV2xJ0cOZLB")]
    pub next_cursor: Option<String>,
}

/// Which page.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct CalendarFeedFilter {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
