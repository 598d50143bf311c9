//! What goes over the wire, but for the result itself: that is in `answer`.

use chrono::{DateTime, Utc};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::compute::Wanted;
use super::goals::GoalsIn;
use super::show::Show;
use super::store::{self, Filter};
use super::words::{RecommendationStatus, Verdict};
use crate::entities::recommendations;
use crate::http::page::{Asked, Total};
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember};
use crate::v1::practice::SeasonCalendar;
use crate::v1::units::Units;

/// Which planter in which field, and what is wanted.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "field_id": "01964f1e-6a00-7000-8000-000000000011",
    "planter_id": "01964f1e-6a00-7000-8000-000000000012",
    "goals": {
        "depth": {"value": 2, "unit": "[in_i]"},
        "speed": {"value": 5, "unit": "[mi_i]/h"},
        "seeding": {"kind": "rate", "seeds": {"value": 34000, "unit": "1/[acr_us]"}}
    }
})))]
pub struct RecommendationIn {
    /// The field.
    pub field_id: Uuid,
    /// The planter, of the same grower.
    pub planter_id: Uuid,
    /// The conditions report to work from; the newest of the field when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub conditions_id: Option<Uuid>,
    /// The calibration to work from; the newest of the planter when absent, if there is one.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub calibration_id: Option<Uuid>,
    /// What is wanted; the engine's own choice when absent.
    #[serde(default)]
    pub goals: GoalsIn,
}

impl RecommendationIn {
    /// Which rows, and which goals.
    pub(super) fn split(self) -> (Wanted, GoalsIn) {
        let Self { field_id, planter_id, conditions_id, calibration_id, goals } = self;
        (Wanted { field_id, planter_id, conditions_id, calibration_id }, goals)
    }
}

/// What changes from one revision to the next.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "goals": {"down_force": {"value": 260, "unit": "[lbf_av]"}},
    "conditions_id": "01964f1e-6a00-7000-8000-000000000022"
})))]
pub struct RevisionIn {
    /// The new goals, all of them; those of the revision before when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub goals: Option<GoalsIn>,
    /// The conditions report to work from; that of the revision before when absent.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub conditions_id: Option<Uuid>,
    /// The calibration to work from; that of the revision before when absent, or the newest of the
    /// planter if it had none.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub calibration_id: Option<Uuid>,
}

/// A recommendation in a list: where it stands, and the two things that are asked first.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000031",
    "field_id": "01964f1e-6a00-7000-8000-000000000011",
    "planter_id": "01964f1e-6a00-7000-8000-000000000012",
    "series_id": "01964f1e-6a00-7000-8000-000000000031",
    "revision": 1,
    "status": "issued",
    "verdict": "plant",
    "down_force": {"value": 285, "unit": "[lbf_av]"},
    "open_replacements": 0,
    "engine": "2026.1",
    "version": 2,
    "created_at": "2027-04-20T11:40:00Z",
    "updated_at": "2027-04-20T11:45:00Z",
    "issued_at": "2027-04-20T11:45:00Z"
})))]
pub struct RecommendationSummary {
    /// Id of the recommendation.
    pub id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The series that the revisions of one recommendation share.
    pub series_id: Uuid,
    /// Counts the revisions of the series.
    #[schema(minimum = 1, example = 1)]
    pub revision: i32,
    /// Where it stands.
    pub status: RecommendationStatus,
    /// Whether to plant.
    pub verdict: Verdict,
    /// Down force on each row.
    pub down_force: Quantity,
    /// How many items inspections found worn out on the planter and nobody has mended; as it is now.
    #[schema(minimum = 0, maximum = 100, example = 0)]
    pub open_replacements: u16,
    /// Version of the engine that worked it out.
    #[schema(example = "2026.1")]
    pub engine: String,
    /// Counts the changes; also in the header `ETag` of the recommendation.
    #[schema(minimum = 1, example = 2)]
    pub version: i32,
    /// When it was made.
    pub created_at: DateTime<Utc>,
    /// When it was made or went to another status.
    pub updated_at: DateTime<Utc>,
    /// When it was issued.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub issued_at: Option<DateTime<Utc>>,
    /// When it was acknowledged.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub acknowledged_at: Option<DateTime<Utc>>,
}

impl RecommendationSummary {
    /// The summary of a row.
    pub(super) fn of(
        row: &recommendations::Model,
        show: Show,
        open_replacements: u16,
    ) -> Result<Self, ApiError> {
        let result = store::result_of(row)?;
        Ok(Self {
            id: row.id,
            field_id: row.field_id,
            planter_id: row.planter_id,
            series_id: row.series_id,
            revision: row.revision,
            status: row.status.into(),
            verdict: result.today.choice.into(),
            down_force: show.down_force(result.down_force.per_row),
            open_replacements,
            engine: row.engine_version.clone(),
            version: row.version,
            created_at: row.created_at,
            updated_at: row.updated_at,
            issued_at: row.issued_at,
            acknowledged_at: row.acknowledged_at,
        })
    }
}

/// A page of recommendations.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [{
        "id": "01964f1e-6a00-7000-8000-000000000031",
        "field_id": "01964f1e-6a00-7000-8000-000000000011",
        "planter_id": "01964f1e-6a00-7000-8000-000000000012",
        "series_id": "01964f1e-6a00-7000-8000-000000000031",
        "revision": 1,
        "status": "draft",
        "verdict": "plant",
        "down_force": {"value": 285, "unit": "[lbf_av]"},
        "open_replacements": 0,
        "engine": "2026.1",
        "version": 1,
        "created_at": "2027-04-20T11:40:00Z",
        "updated_at": "2027-04-20T11:40:00Z"
    }],
    "next_cursor": "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4"
})))]
pub struct RecommendationPage {
    /// The recommendations of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<RecommendationSummary>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which recommendations.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct RecommendationFilter {
    /// Only for the fields of this grower.
    #[serde(default)]
    #[param(nullable = false)]
    pub grower_id: Option<Uuid>,
    /// Only for this field.
    #[serde(default)]
    #[param(nullable = false)]
    pub field_id: Option<Uuid>,
    /// Only for this planter.
    #[serde(default)]
    #[param(nullable = false)]
    pub planter_id: Option<Uuid>,
    /// Only of this status.
    #[serde(default)]
    #[param(nullable = false, inline, example = "issued")]
    pub status: Option<RecommendationStatus>,
    /// Only those made in this season, which is named by the year in which it ends.
    #[serde(default)]
    #[param(nullable = false, minimum = 2000, maximum = 2200, example = 2027)]
    pub season: Option<i32>,
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
    /// Only what was made or changed at this time or later, in the order of changes. Ask five
    /// minutes before the time of the walk before: a change may be seen a little late.
    #[serde(default)]
    #[param(nullable = false, example = "2027-04-20T12:00:00Z")]
    pub updated_since: Option<DateTime<Utc>>,
    /// Whether to count the rows that the filters let through.
    #[serde(default)]
    #[param(nullable = false, example = true)]
    pub count: Option<bool>,
}

impl From<RecommendationFilter> for Asked {
    fn from(filter: RecommendationFilter) -> Self {
        let RecommendationFilter { limit, cursor, updated_since, count, .. } = filter;
        Self { limit, cursor, updated_since, count }
    }
}

impl RecommendationFilter {
    /// What the store filters by.
    pub(super) fn parse(&self, calendar: &SeasonCalendar) -> Result<Filter, BadMember> {
        if self.season.is_some_and(|year| !(2000..=2200).contains(&year)) {
            return Err(BadMember::new("?season", "This is no season.")
                .given(self.season.unwrap_or_default())
                .allowed("a year from 2000 to 2200"));
        }
        Ok(Filter {
            grower_id: self.grower_id,
            field_id: self.field_id,
            planter_id: self.planter_id,
            status: self.status.map(Into::into),
            made_within: self.season.map(|season| calendar.span(season)),
        })
    }
}
