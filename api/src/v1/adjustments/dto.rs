//! What goes over the wire.

use chrono::{DateTime, Utc};
use domain::quantity::System;
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store::{self, Filter};
use super::words::AdjustmentStatus;
use crate::entities::adjustments;
use crate::http::page::{Asked, Total};
use crate::http::{ApiError, text};
use crate::v1::dig_checks::answer::{ProposalOut, example};
use crate::v1::recommendations::goals::GoalsIn;
use crate::v1::recommendations::show::Show;
use crate::v1::units::Units;

/// Most characters of a reason.
const LONGEST_REASON: usize = 500;

/// How an adjustment is accepted. An empty body accepts it as it is proposed.
#[derive(Debug, Default, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"issue": true})))]
pub struct AcceptIn {
    /// What to do otherwise than proposed: each member that is given goes before the change and
    /// before the goals of the revision before. `instructions`, when any are given, take the place
    /// of those of the revision before; what the change asks for is added.
    #[serde(default)]
    pub goals: GoalsIn,
    /// Whether to issue the next revision to the grower at once; a draft otherwise.
    #[serde(default)]
    #[schema(default = false)]
    pub issue: bool,
}

/// Why an adjustment is declined.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"reason": "The north end is a wet spot: dig on the ridge first."})))]
pub struct DeclineIn {
    /// The reason, for whoever dug.
    #[schema(
        min_length = 1,
        max_length = 500,
        example = "The north end is a wet spot: dig on the ridge first.",
        pattern = r"^[^\x00-\x1F\x7F-\x9F]*[^\s\x00-\x1F\x7F-\x9F][^\x00-\x1F\x7F-\x9F]*$"
    )]
    pub reason: String,
}

impl DeclineIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(self) -> Result<String, ApiError> {
        Ok(text::line("/reason", &self.reason, LONGEST_REASON)?)
    }
}

/// The one change that a dig proposes, and what was decided.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(one())))]
pub struct Adjustment {
    /// Id of the adjustment.
    pub id: Uuid,
    /// The dig check that proposes it.
    pub dig_check_id: Uuid,
    /// The recommendation that was dug behind.
    pub recommendation_id: Uuid,
    /// Where it stands.
    pub status: AdjustmentStatus,
    /// What to do, and why.
    pub proposal: ProposalOut,
    /// When it was accepted or declined.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub decided_at: Option<DateTime<Utc>>,
    /// Account that decided.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub decided_by: Option<Uuid>,
    /// Why it was declined.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "The north end is a wet spot: dig on the ridge first.")]
    pub reason: Option<String>,
    /// The revision that came of it; absent until accepted. A grower's account sees it once it is
    /// issued.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub next_recommendation_id: Option<Uuid>,
    /// When it was proposed.
    pub created_at: DateTime<Utc>,
    /// When it was proposed or decided.
    pub updated_at: DateTime<Utc>,
    /// Counts the changes; also in the header `ETag`.
    #[schema(minimum = 1, example = 1)]
    pub version: i32,
}

impl Adjustment {
    /// The answer for a row, in these units.
    pub(in crate::v1) fn of(row: adjustments::Model, system: System) -> Result<Self, ApiError> {
        let proposal = ProposalOut::of(store::proposal_of(&row)?, Show(system));
        let adjustments::Model {
            practice_id: _,
            id,
            dig_check_id,
            recommendation_id,
            status,
            proposal: _,
            decided_at,
            decided_by,
            reason,
            next_recommendation_id,
            created_at,
            version,
            updated_at,
        } = row;
        Ok(Self {
            id,
            dig_check_id,
            recommendation_id,
            status: status.into(),
            proposal,
            decided_at,
            decided_by,
            reason,
            next_recommendation_id,
            created_at,
            updated_at,
            version,
        })
    }
}

/// A page of adjustments.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "items": [one()],
    "next_cursor": "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4"
})))]
pub struct AdjustmentPage {
    /// The adjustments of this page, oldest first.
    #[schema(max_items = 200)]
    pub items: Vec<Adjustment>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
    /// How many rows the filters let through; absent unless `count=true` was asked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub total: Option<Total>,
}

/// Which adjustments.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct AdjustmentFilter {
    /// Only of this status.
    #[serde(default)]
    #[param(nullable = false, inline, example = "proposed")]
    pub status: Option<AdjustmentStatus>,
    /// Only for this field.
    #[serde(default)]
    #[param(nullable = false)]
    pub field_id: Option<Uuid>,
    /// Only from digs behind this recommendation.
    #[serde(default)]
    #[param(nullable = false)]
    pub recommendation_id: Option<Uuid>,
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

impl From<AdjustmentFilter> for Asked {
    fn from(filter: AdjustmentFilter) -> Self {
        let AdjustmentFilter { limit, cursor, updated_since, count, .. } = filter;
        Self { limit, cursor, updated_since, count }
    }
}

impl AdjustmentFilter {
    /// What the store filters by.
    pub(super) fn filter(&self) -> Filter {
        Filter {
            status: self.status.map(Into::into),
            field_id: self.field_id,
            recommendation_id: self.recommendation_id,
        }
    }
}

/// An example for the API document: the proposal of the dig check of the example.
fn one() -> serde_json::Value {
    let dig = example();
    let of_dig = |name: &str| dig.get(name).cloned().unwrap_or_default();
    serde_json::json!({
        "id": of_dig("adjustment_id"),
        "dig_check_id": of_dig("id"),
        "recommendation_id": of_dig("recommendation_id"),
        "status": "proposed",
        "proposal": of_dig("proposal"),
        "created_at": of_dig("created_at"),
        "updated_at": of_dig("created_at"),
        "version": 1
    })
}
