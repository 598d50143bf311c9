//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::external::ExportedExternalId;
use super::shed::ExportedWearLimits;
use super::stands::ExportedTemperature;
use super::trials::ExportedTrial;
use crate::entities::{attention_marks, dig_lessons};
use crate::v1::access_links::dto::AccessLink;
use crate::v1::accounts::dto::Account;
use crate::v1::adjustments::dto::Adjustment;
use crate::v1::calendar_feeds::dto::CalendarFeed;
use crate::v1::calibrations::dto::Calibration;
use crate::v1::conditions::dto::ConditionsReport;
use crate::v1::dig_checks::answer::DigCheck;
use crate::v1::farms::dto::Farm;
use crate::v1::fields::dto::Field;
use crate::v1::growers::dto::Grower;
use crate::v1::inspections::show::Inspection;
use crate::v1::jobs::dto::Job;
use crate::v1::mail_wishes::dto::GrowerMail;
use crate::v1::planters::dto::Planter;
use crate::v1::plantings::dto::Planting;
use crate::v1::recommendations::answer::Recommendation;
use crate::v1::record_conflicts::dto::RecordConflict;
use crate::v1::record_matches::dto::RecordMatch;
use crate::v1::repairs::dto::Repair;
use crate::v1::stand_counts::answer::StandCount;
use crate::v1::yields::dto::Yield;

/// All that is known of a grower.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "exported_at": "2027-04-20T12:00:00Z",
    "grower": {
        "id": "01964f1e-6a00-7000-8000-000000000002",
        "name": "Miller Brothers",
        "version": 1,
        "created_at": "2027-04-20T12:00:00Z",
        "updated_at": "2027-04-20T12:00:00Z"
    },
    "farms": [],
    "fields": [],
    "planters": [],
    "calibrations": [],
    "conditions": [],
    "recommendations": [],
    "dig_checks": [],
    "adjustments": [],
    "lessons": [],
    "accounts": [],
    "access_links": [],
    "trials": [],
    "inspections": [],
    "repairs": [],
    "wear_limits": [],
    "plantings": [],
    "temperatures": [],
    "stand_counts": [],
    "yields": [],
    "external_ids": [],
    "record_matches": [],
    "record_conflicts": [],
    "attention_marks": [],
    "calendar_feeds": [],
    "mail": {"sheets": false, "has_address": false},
    "jobs": []
})))]
pub struct GrowerExport {
    /// When the document was made.
    pub exported_at: DateTime<Utc>,
    /// The grower.
    pub grower: Grower,
    /// The farms.
    #[schema(max_items = 1_000_000)]
    pub farms: Vec<Farm>,
    /// The fields of the farms.
    #[schema(max_items = 1_000_000)]
    pub fields: Vec<Field>,
    /// The planters.
    #[schema(max_items = 1_000_000)]
    pub planters: Vec<Planter>,
    /// The calibrations of the planters.
    #[schema(max_items = 1_000_000)]
    pub calibrations: Vec<Calibration>,
    /// What was reported of the fields.
    #[schema(max_items = 1_000_000)]
    pub conditions: Vec<ConditionsReport>,
    /// The recommendations for the fields, drafts too.
    #[schema(max_items = 1_000_000)]
    pub recommendations: Vec<Recommendation>,
    /// The digs behind the planters.
    #[schema(max_items = 1_000_000)]
    pub dig_checks: Vec<DigCheck>,
    /// What the digs proposed, and what was decided.
    #[schema(max_items = 1_000_000)]
    pub adjustments: Vec<Adjustment>,
    /// Where the digs count in what the practice has learned.
    #[schema(max_items = 1_000_000)]
    pub lessons: Vec<ExportedLesson>,
    /// The accounts of the grower.
    #[schema(max_items = 1_000_000)]
    pub accounts: Vec<Account>,
    /// The links that let the grower in.
    #[schema(max_items = 1_000_000)]
    pub access_links: Vec<AccessLink>,
    /// The trials in the fields, with what was found on their plots.
    #[schema(max_items = 1_000_000)]
    pub trials: Vec<ExportedTrial>,
    /// What was found on the planters in the shed.
    #[schema(max_items = 1_000_000)]
    pub inspections: Vec<Inspection>,
    /// What was mended on the planters.
    #[schema(max_items = 1_000_000)]
    pub repairs: Vec<Repair>,
    /// What was entered from the manuals of the planters, every version.
    #[schema(max_items = 1_000_000)]
    pub wear_limits: Vec<ExportedWearLimits>,
    /// What was planted in the fields.
    #[schema(max_items = 1_000_000)]
    pub plantings: Vec<Planting>,
    /// Highest and lowest air temperatures at the farms.
    #[schema(max_items = 1_000_000)]
    pub temperatures: Vec<ExportedTemperature>,
    /// What was counted after emergence.
    #[schema(max_items = 1_000_000)]
    pub stand_counts: Vec<StandCount>,
    /// What was harvested from the fields.
    #[schema(max_items = 1_000_000)]
    pub yields: Vec<Yield>,
    /// The ids that records systems give to all this, and what they said last.
    #[schema(max_items = 1_000_000)]
    pub external_ids: Vec<ExportedExternalId>,
    /// What records systems said that waits for a person.
    #[schema(max_items = 1_000_000)]
    pub record_matches: Vec<RecordMatch>,
    /// What records systems and the practice both changed.
    #[schema(max_items = 1_000_000)]
    pub record_conflicts: Vec<RecordConflict>,
    /// What people said about entries of the attention list.
    #[schema(max_items = 1_000_000)]
    pub attention_marks: Vec<ExportedMark>,
    /// The calendar feeds of the grower, and of accounts of his.
    #[schema(max_items = 1_000_000)]
    pub calendar_feeds: Vec<CalendarFeed>,
    /// What the grower gets by mail.
    pub mail: GrowerMail,
    /// Mail to the grower that waits, went out in the last days, or was given up.
    #[schema(max_items = 1_000_000)]
    pub jobs: Vec<Job>,
}

/// What people said about an entry of the attention list.
#[derive(Debug, Serialize, ToSchema)]
pub struct ExportedMark {
    /// The entry.
    #[schema(example = "dig_overdue.01964f1e-6a00-7000-8000-000000000031")]
    pub key: String,
    /// Until when it was put off.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub snoozed_until: Option<NaiveDate>,
    /// Why.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "The field is under water.")]
    pub reason: Option<String>,
    /// Who looks after it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub assigned_to: Option<Uuid>,
    /// When this was said.
    pub updated_at: DateTime<Utc>,
}

impl From<attention_marks::Model> for ExportedMark {
    fn from(row: attention_marks::Model) -> Self {
        let attention_marks::Model {
            entry_key,
            snoozed_until,
            snooze_reason,
            assigned_to,
            updated_at,
            ..
        } = row;
        Self { key: entry_key, snoozed_until, reason: snooze_reason, assigned_to, updated_at }
    }
}

/// Where a dig counts in what the practice has learned.
#[derive(Debug, Serialize, ToSchema)]
pub struct ExportedLesson {
    /// The dig check.
    pub dig_check_id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The field.
    pub field_id: Uuid,
    /// The year.
    #[schema(minimum = 1970, maximum = 9999, example = 2027)]
    pub season: i32,
    /// When it was dug.
    pub dug_at: DateTime<Utc>,
    /// Whether it teaches anything.
    #[schema(example = true)]
    pub teaches: bool,
}

impl From<dig_lessons::Model> for ExportedLesson {
    fn from(row: dig_lessons::Model) -> Self {
        let dig_lessons::Model { id, planter_id, field_id, season, dug_at, event, .. } = row;
        Self { dig_check_id: id, planter_id, field_id, season, dug_at, teaches: event.is_some() }
    }
}
