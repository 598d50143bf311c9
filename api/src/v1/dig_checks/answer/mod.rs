//! A judged dig as the caller reads it: the stored judgement in the caller's units.

mod change;
mod example;
mod finding;
mod limits;
mod missing;
mod notice;
mod proposal;
mod resistance;
mod rows;
mod spacing;
mod statistics;

pub use change::{ChangeOut, set, words};
pub use example::example;
pub use finding::FindingOut;
pub use missing::{IgnoredOut, MissingOut};
pub use notice::DigNotice;
pub use proposal::ProposalOut;
pub use resistance::ResistanceOut;
pub use rows::{RowDepthOut, SetAsideOut};
pub use spacing::{SpacingAgainstOut, SpacingOut};
pub use statistics::{AboveFloorOut, DepthOut, DepthSpreadOut, RowsMeanOut, SettledOut, ShareOut};

use chrono::{DateTime, Utc};
use domain::dig::Judgement;
use domain::quantity::System;
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::observation::DigCheckIn;
use super::store;
use crate::entities::dig_checks;
use crate::http::ApiError;
use crate::v1::dig_plan::DigPlanOut;
use crate::v1::learned::LearnedOut;
use crate::v1::recommendations::show::Show;
use crate::v1::trace::{self, Assumed, TraceStep};

/// What was found behind the planter, what it says, and the one thing to do about it.
#[derive(Debug, Serialize, ToSchema)]
#[schema(as = DigCheck, examples(json!(example())))]
pub struct DigCheck {
    /// Id of the dig check.
    pub id: Uuid,
    /// The recommendation that was dug behind.
    pub recommendation_id: Uuid,
    /// What was found, as it was entered.
    pub observation: DigCheckIn,
    /// What is to be known beside: that it came early, late or twice, and what follows from that.
    /// Empty for an ordinary dig.
    #[schema(max_items = 10)]
    pub notices: Vec<DigNotice>,
    /// What the depths say; absent when none was measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub depth: Option<DepthOut>,
    /// What the spacings say; absent when none was measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub spacing: Option<SpacingOut>,
    /// Causes that the readings point to, the first to deal with first.
    #[schema(max_items = 30)]
    pub findings: Vec<FindingOut>,
    /// The one thing to do.
    pub proposal: ProposalOut,
    /// The adjustment that waits for the advisor's decision; absent when nothing is to be changed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub adjustment_id: Option<Uuid>,
    /// The next dig, once the one thing is done; absent where this dig settles it, and for dig checks of
    /// an older engine.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub next_dig: Option<DigPlanOut>,
    /// What this dig and all earlier ones taught, and what that changed; absent for dig checks of an
    /// older engine.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub learned: Option<LearnedOut>,
    /// Resistance of the soil, where free gauge wheels on two rows or more measured it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub resistance: Option<ResistanceOut>,
    /// What nobody looked at, and what it would have told; the most telling first.
    #[schema(max_items = 100)]
    pub missing: Vec<MissingOut>,
    /// What was reported but not used, and why.
    #[schema(max_items = 100)]
    pub ignored: Vec<IgnoredOut>,
    /// What was taken in place of a report.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation, step by step. Each step stays in the units of its formula, whatever the
    /// units of the answer, so that it can be followed by hand.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
    /// When it came in.
    pub created_at: DateTime<Utc>,
    /// Account of whoever sent it.
    pub created_by: Uuid,
}

impl DigCheck {
    /// The answer for a row, in these units.
    pub(in crate::v1) fn of(
        row: &dig_checks::Model,
        adjustment_id: Option<Uuid>,
        system: System,
    ) -> Result<Self, ApiError> {
        let observation = DigCheckIn::stored(row)?;
        let judged = store::judgement_of(row)?;
        let shown = Self::shown(row, observation, judged, adjustment_id, Show(system));
        Ok(Self { notices: store::notices_of(row)?, ..shown })
    }

    fn shown(
        row: &dig_checks::Model,
        observation: DigCheckIn,
        judged: Judgement,
        adjustment_id: Option<Uuid>,
        show: Show,
    ) -> Self {
        let Judgement {
            statistics,
            findings,
            proposal,
            resistance,
            missing,
            ignored,
            trace,
            assumed,
            next_dig,
            learned,
            lesson: _,
        } = judged;
        Self {
            id: row.id,
            recommendation_id: row.recommendation_id,
            observation,
            notices: Vec::new(),
            depth: statistics.depth.map(|it| DepthOut::of(it, show)),
            spacing: statistics.spacing.map(|it| SpacingOut::of(it, show)),
            findings: findings.into_iter().map(FindingOut::of).collect(),
            proposal: ProposalOut::of(proposal, show),
            adjustment_id,
            next_dig: next_dig.map(|it| DigPlanOut::of(it, show)),
            learned: learned.map(|it| LearnedOut::of(it, show)),
            resistance: resistance.map(|it| ResistanceOut::of(it, show)),
            missing: missing.into_iter().map(MissingOut::of).collect(),
            ignored: ignored.into_iter().map(IgnoredOut::of).collect(),
            assumed: trace::assumed(assumed),
            trace: trace::steps_of(trace),
            created_at: row.created_at,
            created_by: row.created_by,
        }
    }
}
