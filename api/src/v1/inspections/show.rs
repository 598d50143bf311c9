//! An inspection as it goes out: what was entered, and how it is judged by the limits in force.

use chrono::{DateTime, NaiveDate, Utc};
use domain::planter::inspection::{ITEMS, Status};
use domain::quantity::System;
use serde::Serialize;
use utoipa::ToSchema;
use uuid::Uuid;

use super::codes::{InspectionItemCode, InspectionStatus};
use super::dto::{FindingIn, SeasonPlanIn};
use super::found::{Found, shown};
use super::shed::{Shed, Visit};
use super::store::Entered;
use crate::entities::inspections;
use crate::http::ApiError;
use crate::http::quantity::Quantity;
use crate::v1::wear_limits::limit_out::LimitOut;

/// An inspection, judged by the limits in force today.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000071",
    "planter_id": "01964f1e-6a00-7000-8000-000000000005",
    "inspected_on": "2027-03-12",
    "findings": [{
        "item": "opener_diameter", "rows": [4], "status": "pass",
        "measured": {"value": 14.4, "unit": "[in_i]"}
    }],
    "judged": [{
        "item": "opener_diameter", "name": "Diameter of the opener discs", "row": 4,
        "by_eye": "pass", "measured": {"value": 14.4, "unit": "[in_i]"},
        "by_measure": "replace", "status": "replace", "disagree": true,
        "words": "Whoever looked says pass, the measurement says replace or mend: the worse counts."
    }],
    "limits": [],
    "counts": {"replace": 1, "watch": 0, "pass": 0, "not_checked": 35},
    "not_checked": ["toolbar_height"],
    "created_at": "2027-03-12T15:00:00Z",
    "created_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct Inspection {
    /// Id of the inspection.
    pub id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The day.
    #[schema(example = "2027-03-12")]
    pub inspected_on: NaiveDate,
    /// What was found, as it was entered.
    #[schema(max_items = 2500)]
    pub findings: Vec<FindingIn>,
    /// The same row by row, judged by the limits that are in force today.
    #[schema(max_items = 2500)]
    pub judged: Vec<JudgedFinding>,
    /// The limits by which measurements were judged.
    #[schema(max_items = 100)]
    pub limits: Vec<LimitOut>,
    /// How many items came out how, each by its worst row.
    pub counts: StatusCounts,
    /// Items that the planter has and nobody looked at.
    #[schema(max_items = 100, example = json!(["toolbar_height"]))]
    pub not_checked: Vec<InspectionItemCode>,
    /// What the planter's own counter of area showed, as it was entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area_counter: Option<Quantity>,
    /// What was to be planted from then on, as it was entered.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub season_plan: Option<SeasonPlanIn>,
    /// The inspection that this one corrects.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub replaces_id: Option<Uuid>,
    /// The inspection that corrects this one, which then no longer counts.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub replaced_by_id: Option<Uuid>,
    /// Notes.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Cold shed, bar on blocks.")]
    pub notes: Option<String>,
    /// When it was entered.
    pub created_at: DateTime<Utc>,
    /// Account that entered it.
    pub created_by: Uuid,
}

/// What was found at an item on one row.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "item": "opener_diameter", "name": "Diameter of the opener discs", "row": 3,
    "measured": {"value": 14.75, "unit": "[in_i]"},
    "by_measure": "pass", "status": "pass", "disagree": false, "words": "By the measurement: pass."
})))]
pub struct JudgedFinding {
    /// The item.
    pub item: InspectionItemCode,
    /// Its name.
    #[schema(example = "Diameter of the opener discs")]
    pub name: String,
    /// The row, counted from 1 at the left end; absent for what the planter has once.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 64, example = 3)]
    pub row: Option<u16>,
    /// What whoever looked says; absent where it was only measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub by_eye: Option<InspectionStatus>,
    /// What was measured.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub measured: Option<Quantity>,
    /// What the measurement says by the limit; absent where no limit is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub by_measure: Option<InspectionStatus>,
    /// The worse of the two.
    pub status: InspectionStatus,
    /// Whether the two say different things.
    #[schema(example = false)]
    pub disagree: bool,
    /// All that in a sentence.
    #[schema(example = "By the measurement: pass.")]
    pub words: String,
}

/// How many items came out how.
#[derive(Debug, Default, Serialize, ToSchema)]
#[schema(examples(json!({"replace": 1, "watch": 2, "pass": 30, "not_checked": 3})))]
pub struct StatusCounts {
    /// To be replaced or mended.
    #[schema(minimum = 0, maximum = 100, example = 1)]
    pub replace: u16,
    /// To be looked at again soon.
    #[schema(minimum = 0, maximum = 100, example = 2)]
    pub watch: u16,
    /// As they should be.
    #[schema(minimum = 0, maximum = 100, example = 30)]
    pub pass: u16,
    /// Not looked at.
    #[schema(minimum = 0, maximum = 100, example = 3)]
    pub not_checked: u16,
}

impl Inspection {
    /// The answer for a row. `newer` is the inspection that corrects it.
    pub fn show(
        row: &inspections::Model,
        shed: &Shed,
        newer: Option<Uuid>,
        system: System,
    ) -> Result<Self, ApiError> {
        let visit = Visit::of(row, &shed.planter)?;
        let Entered { findings, area_counter, season_plan, notes } = Entered::stored(row)?;
        let judged: Vec<JudgedFinding> =
            visit.found.iter().map(|it| JudgedFinding::of(it, shed, system)).collect();
        let (counts, not_checked) = counted(&visit, shed);
        let limits = ITEMS.iter().filter(|item| visit.found.iter().any(|it| it.item == item.code));
        let limits = limits.filter_map(|item| LimitOut::of(item, shed, system)).collect();
        Ok(Self {
            id: row.id,
            planter_id: row.planter_id,
            inspected_on: row.inspected_on,
            findings,
            judged,
            limits,
            counts,
            not_checked,
            area_counter,
            season_plan,
            replaces_id: row.replaces_id,
            replaced_by_id: newer,
            notes,
            created_at: row.created_at,
            created_by: row.created_by,
        })
    }
}

impl JudgedFinding {
    fn of(found: &Found, shed: &Shed, system: System) -> Self {
        let judged = shed.judged(found);
        let item = found.item.item();
        let measured = found.value.zip(item.and_then(|item| item.measure));
        let by_eye = (judged.by_eye != Status::NotChecked).then_some(judged.by_eye);
        Self {
            item: found.item.into(),
            name: item.map_or("", |item| item.name).to_owned(),
            row: found.row,
            by_eye: by_eye.map(Into::into),
            measured: measured.map(|(value, measure)| shown(&measure, value, system)),
            by_measure: judged.by_measure.map(Into::into),
            status: judged.status.into(),
            disagree: judged.disagree,
            words: words(by_eye, judged.by_measure, measured.is_some()),
        }
    }
}

fn words(by_eye: Option<Status>, by_measure: Option<Status>, measured: bool) -> String {
    match (by_eye, by_measure) {
        (Some(eye), Some(measure)) if eye != measure => format!(
            "Whoever looked says {}, the measurement says {}: the worse counts.",
            eye.words(),
            measure.words()
        ),
        (Some(eye), Some(_)) => format!("By eye and by the measurement: {}.", eye.words()),
        (None, Some(measure)) => format!("By the measurement: {}.", measure.words()),
        (Some(eye), None) if measured => format!(
            "By eye: {}. No limit is known for the measurement: enter that of the manual.",
            eye.words()
        ),
        (Some(eye), None) => format!("By eye: {}.", eye.words()),
        (None, None) if measured => {
            "Measured, but no limit is known: enter that of the manual.".to_owned()
        }
        (None, None) => "Not checked.".to_owned(),
    }
}

/// Each item by its worst row; and the items that the planter has and nobody looked at.
fn counted(visit: &Visit, shed: &Shed) -> (StatusCounts, Vec<InspectionItemCode>) {
    let mut counts = StatusCounts::default();
    let mut unseen = Vec::new();
    for item in ITEMS.iter().filter(|item| item.needs.has(&shed.planter)) {
        let rows = visit.found.iter().filter(|found| found.item == item.code);
        let worst = rows.map(|found| shed.judged(found).status).max().unwrap_or_default();
        let count = match worst {
            Status::Replace => &mut counts.replace,
            Status::Watch => &mut counts.watch,
            Status::Pass => &mut counts.pass,
            Status::NotChecked => &mut counts.not_checked,
        };
        *count += 1;
        if worst == Status::NotChecked {
            unseen.push(item.code.into());
        }
    }
    (counts, unseen)
}

/// A page of inspections.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct InspectionPage {
    /// The inspections of this page, in the order in which they were entered.
    #[schema(max_items = 200)]
    pub items: Vec<Inspection>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}
