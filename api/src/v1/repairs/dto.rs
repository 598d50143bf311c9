//! What goes over the wire.

use chrono::{DateTime, NaiveDate, Utc};
use domain::planter::Planter;
use domain::planter::inspection::ItemCode;
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::store::NewRepair;
use crate::entities::repairs;
use crate::http::patch::present;
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::cost::Cost;
use crate::v1::inspections::InspectionItemCode;
use crate::v1::inspections::dto::day;
use crate::v1::planters::rows_behind_tyres as rows_of;

/// Something that was mended.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "item": "opener_diameter", "rows": [4], "repaired_on": "2027-03-20", "new_part": true,
    "cost": {"amount": 386.5, "currency": "USD"}, "notes": "Pair of discs with bearings."
})))]
pub struct RepairIn {
    /// The item of the checklist.
    pub item: InspectionItemCode,
    /// Rows on which it was done; every row when absent. Not for what the planter has once.
    #[serde(default)]
    #[schema(max_items = 64, example = json!([4]))]
    pub rows: Vec<u16>,
    /// The day; not in the future.
    #[schema(example = "2027-03-20")]
    pub repaired_on: NaiveDate,
    /// Whether a new part was put in: its wear begins anew at its size when new. Otherwise it was set,
    /// tightened, shimmed or tested.
    #[schema(example = true)]
    pub new_part: bool,
    /// What it cost: parts and work.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub cost: Option<Cost>,
    /// Notes.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Pair of discs with bearings.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

impl RepairIn {
    /// The only way from the wire to the store. `today` is the last day that is taken.
    pub(super) fn parse(self, planter: &Planter, today: NaiveDate) -> Result<NewRepair, ApiError> {
        let Self { item, rows, repaired_on, new_part, cost, notes } = self;
        let code = ItemCode::from(item);
        let mut refused = Refused::default();
        refused.take(day("/repaired_on", repaired_on, today));
        let rows = refused.take_all(on(code, &rows, planter));
        let cost = cost.and_then(|given| refused.take(given.parse("/cost")));
        let notes = notes.and_then(|given| refused.take(text::notes("/notes", &given)));
        match rows {
            Some(rows) => {
                refused.finish()?;
                Ok(NewRepair { item: code, rows, repaired_on, new_part, cost, notes })
            }
            None => Err(refused.into()),
        }
    }
}

/// The rows of a repair, each of them named.
fn on(code: ItemCode, given: &[u16], planter: &Planter) -> Result<Vec<u16>, Vec<BadMember>> {
    let Some(item) = code.item() else {
        return Err(vec![BadMember::new("/item", "There is no such item.")]);
    };
    if !item.needs.has(planter) {
        let detail = format!("The planter has no {}.", item.needs.words());
        return Err(vec![BadMember::new("/item", detail).given(code.code())]);
    }
    match (item.per_row, given.is_empty()) {
        (false, true) => Ok(Vec::new()),
        (false, false) => {
            Err(vec![BadMember::new("/rows", "The planter has this once, so it has no rows.")])
        }
        (true, true) => Ok((1..=planter.rows).collect()),
        (true, false) => rows_of("/rows", given, planter.rows),
    }
}

/// Something that was mended.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "id": "01964f1e-6a00-7000-8000-000000000072",
    "planter_id": "01964f1e-6a00-7000-8000-000000000005",
    "item": "opener_diameter", "name": "Diameter of the opener discs", "rows": [4],
    "repaired_on": "2027-03-20", "new_part": true,
    "created_at": "2027-03-20T17:00:00Z",
    "created_by": "01964f1e-6a00-7000-8000-000000000001"
})))]
pub struct Repair {
    /// Id of the repair.
    pub id: Uuid,
    /// The planter.
    pub planter_id: Uuid,
    /// The item of the checklist.
    pub item: InspectionItemCode,
    /// Its name.
    #[schema(example = "Diameter of the opener discs")]
    pub name: String,
    /// Rows on which it was done; empty for what the planter has once.
    #[schema(max_items = 64, example = json!([4]))]
    pub rows: Vec<u16>,
    /// The day.
    #[schema(example = "2027-03-20")]
    pub repaired_on: NaiveDate,
    /// Whether a new part was put in.
    #[schema(example = true)]
    pub new_part: bool,
    /// What it cost: parts and work.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cost: Option<Cost>,
    /// Notes.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "Pair of discs with bearings.")]
    pub notes: Option<String>,
    /// When it was entered.
    pub created_at: DateTime<Utc>,
    /// Account that entered it.
    pub created_by: Uuid,
}

impl Repair {
    /// A row as it goes out.
    pub fn show(row: repairs::Model) -> Result<Self, ApiError> {
        let repairs::Model {
            practice_id: _,
            id,
            planter_id,
            item,
            rows,
            repaired_on,
            new_part,
            notes,
            created_at,
            created_by,
            cost_amount,
            cost_currency,
        } = row;
        let code = ItemCode::named(&item)
            .ok_or_else(|| ApiError::internal(format!("{item} is no item of the checklist")))?;
        Ok(Self {
            id,
            planter_id,
            item: code.into(),
            name: code.item().map_or("", |item| item.name).to_owned(),
            rows: serde_json::from_value(rows).map_err(ApiError::internal)?,
            repaired_on,
            new_part,
            cost: Cost::of_columns(cost_amount, cost_currency),
            notes,
            created_at,
            created_by,
        })
    }
}

/// A page of repairs.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"items": []})))]
pub struct RepairPage {
    /// The repairs of this page, in the order in which they were entered.
    #[schema(max_items = 200)]
    pub items: Vec<Repair>,
    /// Send it as `cursor` for the next page; absent on the last one.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "AZZPHmoAcACAAAAAAAAAAu1vQtLNE5w4")]
    pub next_cursor: Option<String>,
}

/// Which repairs.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct RepairFilter {
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
