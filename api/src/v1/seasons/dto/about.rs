//! Of whom a report is, and how far the season is.

use chrono::{DateTime, NaiveDate, Utc};
use domain::season::report::{About, Named, ReportOf, SoFar};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use crate::v1::mirror::mirror;

mirror! {
    /// Of whom a report is.
    ReportKind = ReportOf { Practice Grower Planter Advisor }
}

/// Something with an id and a name.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = NamedThing, examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000002", "name": "North forty"
})))]
pub struct SubjectNamed {
    /// Its id.
    pub id: Uuid,
    /// Its name.
    #[schema(example = "North forty")]
    pub name: String,
}

impl From<Named> for SubjectNamed {
    fn from(it: Named) -> Self {
        let Named { id, name } = it;
        Self { id: Uuid::from_u128(id), name }
    }
}

/// How far a season is.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"days": 142, "of": 365, "words": "day 142 of 365: figures so far"})))]
pub struct SeasonSoFar {
    /// Days that have begun; 0 before the season.
    #[schema(example = 142)]
    pub days: u32,
    /// Days of the season.
    #[schema(example = 365)]
    pub of: u32,
    /// In words.
    #[schema(example = "day 142 of 365: figures so far")]
    pub words: String,
}

impl From<SoFar> for SeasonSoFar {
    fn from(it: SoFar) -> Self {
        let SoFar { days, of, words } = it;
        Self { days, of, words }
    }
}

/// Of whom, of which season, and how far that is.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "of": "practice", "practice": "Prairie Advisors", "season": 2027,
    "first_day": "2027-01-01", "last_day": "2027-12-31", "time_zone": "America/Chicago",
    "as_of": "2027-05-22T12:00:00Z",
    "so_far": {"days": 142, "of": 365, "words": "day 142 of 365: figures so far"},
    "growers": 12, "growers_left": 1, "planters": 14, "fields": 61, "digs": 148
})))]
pub struct ReportAbout {
    /// Of whom.
    pub of: ReportKind,
    /// The grower, planter or advisor; absent in the report of a practice.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub subject: Option<SubjectNamed>,
    /// Name of the practice.
    #[schema(example = "Prairie Advisors")]
    pub practice: String,
    /// The season, named by the year in which it ends.
    #[schema(example = 2027)]
    pub season: i32,
    /// Its first day.
    #[schema(example = "2027-01-01")]
    pub first_day: NaiveDate,
    /// Its last day.
    #[schema(example = "2027-12-31")]
    pub last_day: NaiveDate,
    /// The time zone of the days.
    #[schema(example = "America/Chicago")]
    pub time_zone: String,
    /// When the figures were read.
    pub as_of: DateTime<Utc>,
    /// How far the season is.
    pub so_far: SeasonSoFar,
    /// Growers with a recommendation, a planting or a dig in the season, those who left among them.
    #[schema(example = 12)]
    pub growers: u32,
    /// Those of them whose data was erased since. They count without a name.
    #[schema(example = 1)]
    pub growers_left: u32,
    /// Their planters in use.
    #[schema(example = 14)]
    pub planters: u32,
    /// Fields; one that two planters worked counts with each.
    #[schema(example = 61)]
    pub fields: u32,
    /// Digs; one that was sent twice counts once.
    #[schema(example = 148)]
    pub digs: u32,
}

impl From<About> for ReportAbout {
    fn from(it: About) -> Self {
        let About {
            of,
            subject,
            practice,
            season,
            first_day,
            last_day,
            time_zone,
            as_of,
            so_far,
            growers,
            growers_left,
            planters,
            fields,
            digs,
        } = it;
        Self {
            of: of.into(),
            subject: subject.map(Into::into),
            practice,
            season,
            first_day,
            last_day,
            time_zone,
            as_of,
            so_far: so_far.into(),
            growers,
            growers_left,
            planters,
            fields,
            digs,
        }
    }
}
