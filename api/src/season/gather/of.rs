//! Of what a section is gathered.

use chrono::{DateTime, NaiveDate, Utc};
use uuid::Uuid;

use crate::auth::Scope;
use crate::v1::practice::SeasonCalendar;

/// Of what a section is gathered.
///
/// `scope` holds what the caller sees, narrowed to a grower or an advisor where the report is of
/// one: start from it, as everywhere. Only a planter is left to filter by.
#[derive(Debug, Clone, Copy)]
pub struct Of {
    /// What the caller sees, narrowed to the subject of the report.
    pub scope: Scope,
    /// Only of this planter.
    pub planter_id: Option<Uuid>,
    /// Only this settings sheet and what refers to it, in whichever season that was.
    pub sheet_id: Option<Uuid>,
    /// The season.
    pub season: i32,
    /// The seasons of the practice.
    pub calendar: SeasonCalendar,
    /// The time now.
    pub now: DateTime<Utc>,
}

impl Of {
    /// The first moment of the season, and that of the next.
    pub fn span(&self) -> (DateTime<Utc>, DateTime<Utc>) {
        self.calendar.span(self.season)
    }

    /// The first day of the season, and that of the next.
    pub fn days(&self) -> (NaiveDate, NaiveDate) {
        self.calendar.days(self.season)
    }
}
