//! All that is known of a planter in the shed: inspections that count, what the manual says, what was
//! mended.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use domain::planter::Planter;
use domain::planter::inspection::{
    Direction, ItemCode, Judged, Limit, Measure, OwnerLimits, SeasonPlan, Status, direction, judge,
    limit_in_force,
};
use domain::provenance::Coefficients;
use domain::quantity::{Area, Measured, bounds};
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder};
use uuid::Uuid;

use super::found::{Found, on_rows};
use super::store::{self, Entered};
use crate::auth::Scope;
use crate::entities::{inspections, planters, repairs};
use crate::http::ApiError;
use crate::v1::coefficients::figures_in_force;
use crate::v1::planters::store::makeup;
use crate::v1::wear_limits;

/// A planter in the shed.
#[derive(Debug)]
pub struct Shed {
    /// The planter.
    pub planter: Planter,
    /// What the owner entered from the manual.
    pub owner: OwnerLimits,
    /// The figures in force.
    pub k: Box<Coefficients>,
    /// Inspections that count, oldest first.
    pub visits: Vec<Visit>,
    /// What was mended, oldest first.
    pub mended: Vec<Mended>,
}

/// An inspection that counts.
#[derive(Debug, Clone)]
pub struct Visit {
    /// Its id.
    pub id: Uuid,
    /// The day.
    pub on: NaiveDate,
    /// What was found, row by row.
    pub found: Vec<Found>,
    /// What the counter of the planter showed, m².
    pub counter: Option<f64>,
    /// What was to be planted from then on.
    pub plan: Option<SeasonPlan>,
}

/// What was mended.
#[derive(Debug, Clone)]
pub struct Mended {
    /// The item.
    pub item: ItemCode,
    /// Rows; empty for what the planter has once.
    pub rows: Vec<u16>,
    /// The day.
    pub on: NaiveDate,
    /// Whether a new part was put in.
    pub new_part: bool,
}

/// Something that is to be replaced.
#[derive(Debug, Clone, PartialEq)]
pub struct Open {
    /// The item.
    pub item: ItemCode,
    /// Rows; empty for what the planter has once.
    pub rows: Vec<u16>,
    /// The inspection that found it.
    pub inspection_id: Uuid,
    /// Its day.
    pub since: NaiveDate,
}

impl Shed {
    /// Reads all of it. The caller may see the planter.
    pub async fn load(db: &impl ConnectionTrait, row: &planters::Model) -> Result<Self, ApiError> {
        let scope = Scope::of_practice(row.practice_id);
        let planter = planter_of(row)?;
        let owner = wear_limits::store::in_force(db, scope, row.id).await?.owner(&planter);
        let visits = store::counting(db, scope, row.id).await?;
        let visits = visits.iter().map(|row| Visit::of(row, &planter)).collect::<Result<_, _>>()?;
        let mended = scope
            .repairs()
            .filter(repairs::Column::PlanterId.eq(row.id))
            .order_by_asc(repairs::Column::RepairedOn)
            .order_by_asc(repairs::Column::Id)
            .all(db)
            .await?;
        let mended = mended.iter().map(Mended::of).collect::<Result<_, _>>()?;
        let k = figures_in_force(db, scope).await?;
        Ok(Self { planter, owner, k, visits, mended })
    }

    /// The limit of an item that counts.
    pub fn limit(&self, item: ItemCode) -> Option<Limit> {
        limit_in_force(item, &self.planter, &self.owner, &self.k)
    }

    /// What the planter was found to be at an item, judged by the limits in force.
    pub fn judged(&self, found: &Found) -> Judged {
        judge(found.by_eye, found.value, self.limit(found.item).as_ref())
    }

    /// Whether an item was mended on a row after a day, or on it, and not after another.
    pub fn mended(
        &self,
        item: ItemCode,
        row: Option<u16>,
        (from, until): (NaiveDate, NaiveDate),
    ) -> bool {
        self.mended.iter().any(|it| it.covers(item, row) && (from..=until).contains(&it.on))
    }

    /// How far a reading of an item scatters, SI.
    pub fn reading_sd(&self, item: ItemCode) -> f64 {
        match item.item().and_then(|item| item.measure) {
            Some(Measure::Wear(_)) => self.k.wear_reading.value / 1000.0,
            Some(Measure::Set(_) | Measure::Since(_)) | None => 0.0,
        }
    }

    /// What is to be replaced: what the newest look at each row says, unless it was mended since.
    pub fn open(&self) -> Vec<Open> {
        let mut seen = BTreeSet::new();
        let mut open: BTreeMap<(ItemCode, NaiveDate, Uuid), Vec<u16>> = BTreeMap::new();
        for visit in self.visits.iter().rev() {
            for found in &visit.found {
                let status = self.judged(found).status;
                if status == Status::NotChecked || !seen.insert((found.item, found.row)) {
                    continue;
                }
                let mended = self.mended(found.item, found.row, (visit.on, NaiveDate::MAX));
                if status == Status::Replace && !mended {
                    let rows = open.entry((found.item, visit.on, visit.id)).or_default();
                    rows.extend(found.row);
                }
            }
        }
        let listed = open.into_iter().map(|((item, since, inspection_id), mut rows)| {
            rows.sort_unstable();
            Open { item, rows, inspection_id, since }
        });
        listed.collect()
    }
}

impl Visit {
    /// From its row.
    pub fn of(row: &inspections::Model, planter: &Planter) -> Result<Self, ApiError> {
        let entered = Entered::stored(row)?;
        let found = entered.findings.iter().enumerate();
        let found = found.flat_map(|(place, it)| on_rows(place, it, planter.rows)).collect();
        let counter = entered.area_counter.as_ref();
        let counter = counter.and_then(|it| it.parse("", &bounds::PLANTED_AREA).ok());
        let plan = entered.season_plan.as_ref();
        let plan = plan.and_then(|plan| plan.parse("", row.inspected_on).ok());
        Ok(Self { id: row.id, on: row.inspected_on, found, counter: counter.map(Area::si), plan })
    }

    /// What was measured at an item on a row.
    pub fn value(&self, item: ItemCode, row: Option<u16>) -> Option<f64> {
        self.found.iter().find(|it| it.item == item && it.row == row)?.value
    }
}

impl Mended {
    fn of(row: &repairs::Model) -> Result<Self, ApiError> {
        let item = ItemCode::named(&row.item).ok_or_else(|| {
            ApiError::internal(format!("{} is no item of the checklist", row.item))
        })?;
        let rows = serde_json::from_value(row.rows.clone()).map_err(ApiError::internal)?;
        Ok(Self { item, rows, on: row.repaired_on, new_part: row.new_part })
    }

    /// Whether it was this item on this row.
    pub fn covers(&self, item: ItemCode, row: Option<u16>) -> bool {
        self.item == item && row.is_none_or(|row| self.rows.contains(&row))
    }
}

/// The planter in the domain.
pub fn planter_of(row: &planters::Model) -> Result<Planter, ApiError> {
    makeup(row)?
        .parse("/makeup", None)
        .map_err(|bad| ApiError::internal(format!("planter {}: {bad:?}", row.id)))
}

/// A value turned so that wear makes it larger; `None` where the item does not wear.
pub fn worn(item: ItemCode, value: f64) -> Option<f64> {
    match direction(item)? {
        Direction::Falls => Some(-value),
        Direction::Rises => Some(value),
        Direction::Between => None,
    }
}
