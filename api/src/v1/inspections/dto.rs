//! What is entered.

use chrono::NaiveDate;
use domain::planter::inspection::SeasonPlan;
use domain::quantity::{Area, Measured, bounds};
use serde::{Deserialize, Serialize};
use utoipa::{IntoParams, ToSchema};
use uuid::Uuid;

use super::codes::{InspectionItemCode, InspectionStatus};
use super::store::Entered;
use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::units::Units;

/// Earliest day of an inspection.
pub const EARLIEST: NaiveDate = match NaiveDate::from_yo_opt(1950, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

/// Most findings of an inspection: every item on every row of the widest planter.
const MOST_FINDINGS: usize = 2500;

/// An inspection in the shed.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "inspected_on": "2027-03-12",
    "findings": [
        {"item": "opener_diameter", "rows": [1, 2, 3], "measured": {"value": 14.75, "unit": "[in_i]"}},
        {"item": "opener_diameter", "rows": [4], "status": "pass", "measured": {"value": 14.4, "unit": "[in_i]"}},
        {"item": "seed_tube", "rows": [4], "status": "replace", "notes": "Frayed at the end."},
        {"item": "hitch_level", "status": "pass"}
    ],
    "season_plan": {
        "area": {"value": 600, "unit": "[acr_us]"}, "from": "2027-04-20", "until": "2027-05-20"
    }
})))]
pub struct InspectionIn {
    /// The day; not in the future.
    #[schema(example = "2027-03-12")]
    pub inspected_on: NaiveDate,
    /// What was found. What is not named counts as not checked.
    #[schema(min_items = 1, max_items = 2500)]
    pub findings: Vec<FindingIn>,
    /// What the planter's own counter of area shows. Where two inspections have it, it says what was
    /// planted between them; otherwise the plantings do. Bound: `planted_area`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub area_counter: Option<Quantity>,
    /// What is to be planted from now on, this season.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub season_plan: Option<SeasonPlanIn>,
    /// The inspection that this one corrects, of the same planter. Both are kept; the old one no
    /// longer counts.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub replaces_id: Option<Uuid>,
    /// Notes.
    #[serde(default, deserialize_with = "present")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Cold shed, bar on blocks.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

/// What was found at an item: a person's word, a measurement, or both.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "item": "opener_diameter", "rows": [4], "status": "pass",
    "measured": {"value": 14.4, "unit": "[in_i]"}
})))]
pub struct FindingIn {
    /// The item.
    pub item: InspectionItemCode,
    /// Rows for which it holds, counted from 1 at the left end; every row when absent. Not for items
    /// that the planter has once.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schema(max_items = 64, example = json!([4]))]
    pub rows: Vec<u16>,
    /// What whoever looked says. Needed where nothing was measured.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub status: Option<InspectionStatus>,
    /// What was measured, for items that have a measure; `GET /v1/inspection-items` names its bound.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub measured: Option<Quantity>,
    /// A note.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(
        nullable = false,
        max_length = 4000,
        example = "Frayed at the end.",
        pattern = r"^[^\x00-\x08\x0B\x0C\x0E-\x1F\x7F-\x9F]*$"
    )]
    pub notes: Option<String>,
}

/// What a planter is to plant this season, from the inspection on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "area": {"value": 600, "unit": "[acr_us]"}, "from": "2027-04-20", "until": "2027-05-20"
})))]
pub struct SeasonPlanIn {
    /// Area that is still to be planted. Bound: `planted_area`.
    pub area: Quantity,
    /// First day of planting. Days of the forecast need both.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-04-20")]
    pub from: Option<NaiveDate>,
    /// Last day of planting, not before the first and not before the inspection.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "2027-05-20")]
    pub until: Option<NaiveDate>,
}

/// An inspection, checked as far as that goes without its planter.
#[derive(Debug)]
pub struct NewInspection {
    /// The day.
    pub inspected_on: NaiveDate,
    /// What is stored.
    pub entered: Entered,
    /// The inspection that this one corrects.
    pub replaces_id: Option<Uuid>,
}

impl InspectionIn {
    /// The only way from the wire to the store. `today` is the last day that is taken.
    pub(super) fn parse(self, today: NaiveDate) -> Result<NewInspection, ApiError> {
        let Self { inspected_on, findings, area_counter, season_plan, replaces_id, notes } = self;
        let mut refused = Refused::default();
        refused.take(day("/inspected_on", inspected_on, today));
        if !(1..=MOST_FINDINGS).contains(&findings.len()) {
            let member = BadMember::new("/findings", "The number of findings is out of range.");
            let allowed = format!("1 to {MOST_FINDINGS}");
            refused.add(member.given(findings.len()).allowed(allowed));
        }
        if let Some(counter) = &area_counter {
            refused.take(counter.parse("/area_counter", &bounds::PLANTED_AREA));
        }
        if let Some(plan) = &season_plan {
            refused.take_all(plan.parse("/season_plan", inspected_on));
        }
        let notes = notes.and_then(|given| refused.take(text::notes("/notes", &given)));
        refused.finish()?;
        let entered = Entered { findings, area_counter, season_plan, notes };
        Ok(NewInspection { inspected_on, entered, replaces_id })
    }
}

/// A day of the past, or today.
pub(in crate::v1) fn day(
    pointer: &str,
    given: NaiveDate,
    today: NaiveDate,
) -> Result<NaiveDate, BadMember> {
    if (EARLIEST..=today).contains(&given) {
        return Ok(given);
    }
    let detail = "The day lies in the future, or before there were such planters.";
    Err(BadMember::new(pointer, detail).given(given).allowed(format!("{EARLIEST} to {today}")))
}

impl SeasonPlanIn {
    /// In the domain. `on` is the day of the inspection.
    pub(super) fn parse(&self, pointer: &str, on: NaiveDate) -> Result<SeasonPlan, Vec<BadMember>> {
        let Self { area, from, until } = self;
        let mut refused = Refused::default();
        let area = refused.take(area.parse(&format!("{pointer}/area"), &bounds::PLANTED_AREA));
        let first = from.map_or(on, |from| from.max(on));
        if let Some(until) = until.filter(|until| *until < first) {
            let member =
                BadMember::new(format!("{pointer}/until"), "Planting ends before it begins.");
            refused.add(member.given(until).allowed(format!("{first} or later")));
        }
        let bad = refused.into_members();
        match area {
            Some(area) if bad.is_empty() => {
                Ok(SeasonPlan { area: Area::si(area), from: *from, until: *until })
            }
            _ => Err(bad),
        }
    }
}

/// Which inspections.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct InspectionFilter {
    /// Units of computed values; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline)]
    pub units: Option<Units>,
    /// Rows of a page; 50 when absent.
    #[serde(default)]
    #[param(nullable = false, minimum = 1, maximum = 200, example = 50)]
    pub limit: Option<u16>,
    /// `next_cursor` of the page before.
    #[serde(default)]
    #[param(nullable = false, max_length = 120)]
    pub cursor: Option<String>,
}
