//! What goes over the wire.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use uuid::Uuid;

use super::calendar::{self, SeasonStart};
use crate::entities::practices;
use crate::entities::practices::AdvisorsSee;
use crate::http::patch::present;
use crate::http::{ApiError, Refused};

/// A practice.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000009",
    "name": "Prairie Advisors",
    "advisors_see": "assigned",
    "time_zone": "America/Chicago",
    "season_starts": "01-01",
    "version": 2,
    "created_at": "2027-04-20T12:00:00Z",
    "updated_at": "2027-04-21T08:00:00Z"
})))]
pub struct Practice {
    /// Id of the practice.
    pub id: Uuid,
    /// Name of the practice.
    #[schema(example = "Prairie Advisors")]
    pub name: String,
    /// Which growers its advisors see.
    pub advisors_see: AdvisorsSee,
    /// Where the practice is: a name of the IANA time zone database. Its days and its seasons begin
    /// at midnight there.
    #[schema(example = "America/Chicago")]
    pub time_zone: String,
    /// The day of the year on which a season starts, as `MM-DD`. A season lasts a year and is named
    /// by the year in which it ends: one that starts on 1 July 2027 is that of 2028.
    #[schema(pattern = r"^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$", example = "01-01")]
    pub season_starts: String,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 2)]
    pub version: i32,
    /// When the practice was made.
    pub created_at: DateTime<Utc>,
    /// When the practice was last changed.
    pub updated_at: DateTime<Utc>,
}

impl From<practices::Model> for Practice {
    fn from(row: practices::Model) -> Self {
        let practices::Model {
            id,
            name,
            created_at,
            advisors_see,
            version,
            updated_at,
            time_zone,
            season_starts,
            erasure_salt: _,
        } = row;
        Self { id, name, advisors_see, time_zone, season_starts, version, created_at, updated_at }
    }
}

/// Changes to a practice. What is absent stays.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "advisors_see": "assigned",
    "time_zone": "America/Chicago",
    "season_starts": "01-01"
})))]
pub struct PracticePatch {
    /// Which growers its advisors see.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub advisors_see: Option<AdvisorsSee>,
    /// Where the practice is: a name of the IANA time zone database. Its days and its seasons begin
    /// at midnight there.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false, max_length = 64, example = "America/Chicago")]
    pub time_zone: Option<String>,
    /// The day of the year on which a season starts, as `MM-DD`; 02-29 is 03-01 in a year without.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 5,
        pattern = r"^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$",
        example = "07-01"
    )]
    pub season_starts: Option<String>,
}

/// Checked changes to a practice.
#[derive(Debug, Clone, Default)]
pub struct PracticeChange {
    /// Which growers its advisors see.
    pub advisors_see: Option<AdvisorsSee>,
    /// The name of its time zone.
    pub time_zone: Option<String>,
    /// The day on which a season starts.
    pub season_starts: Option<String>,
}

impl PracticePatch {
    /// Checks the changes.
    pub fn parse(self) -> Result<PracticeChange, ApiError> {
        let Self { advisors_see, time_zone, season_starts } = self;
        let mut refused = Refused::default();
        let zone = time_zone.map(|name| calendar::zone("/time_zone", &name)).transpose();
        let starts =
            season_starts.map(|day| SeasonStart::parse("/season_starts", &day)).transpose();
        let (zone, starts) = (refused.take(zone).flatten(), refused.take(starts).flatten());
        refused.finish()?;
        Ok(PracticeChange {
            advisors_see,
            time_zone: zone.map(|zone| zone.name().to_owned()),
            season_starts: starts.map(|day| day.to_string()),
        })
    }
}
