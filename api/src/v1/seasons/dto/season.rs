//! Which seasons there are.

use chrono::NaiveDate;
use serde::Serialize;
use utoipa::ToSchema;

use super::SeasonSoFar;

/// A season.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "season": 2027, "first_day": "2027-01-01", "last_day": "2027-12-31",
    "so_far": {"days": 142, "of": 365, "words": "day 142 of 365: figures so far"},
    "growers": 12, "planters": 14, "fields": 61
})))]
pub struct Season {
    /// The season, named by the year in which it ends.
    #[schema(example = 2027)]
    pub season: i32,
    /// Its first day.
    #[schema(example = "2027-01-01")]
    pub first_day: NaiveDate,
    /// Its last day.
    #[schema(example = "2027-12-31")]
    pub last_day: NaiveDate,
    /// How far it is.
    pub so_far: SeasonSoFar,
    /// Growers with a recommendation, a planting or a dig.
    #[schema(example = 12)]
    pub growers: u32,
    /// Their planters in use.
    #[schema(example = 14)]
    pub planters: u32,
    /// Fields; one that two planters worked counts with each.
    #[schema(example = 61)]
    pub fields: u32,
}

/// The seasons.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": [{
    "season": 2027, "first_day": "2027-01-01", "last_day": "2027-12-31",
    "so_far": {"days": 142, "of": 365, "words": "day 142 of 365: figures so far"},
    "growers": 12, "planters": 14, "fields": 61
}]})))]
pub struct SeasonList {
    /// The seasons, the newest first.
    pub items: Vec<Season>,
}
