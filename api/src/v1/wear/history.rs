//! The readings of each row since its part was last new, and what becomes of it.

use chrono::{Days, NaiveDate};
use domain::planter::inspection::{
    ITEMS, Item, Measure, Rate, Reading, RowForecast, RowHistory, SeasonPlan, Until, forecast,
    new_size,
};

use super::acres::Acres;
use crate::v1::inspections::shed::{Shed, worn};

/// A planter's parts, with what was planted, on a day.
#[derive(Debug)]
pub struct Wearing<'a> {
    /// The planter in the shed.
    pub shed: &'a Shed,
    /// What it has planted.
    pub acres: &'a Acres,
    /// Today.
    pub today: NaiveDate,
}

/// What is planned, and what of it is planted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planned {
    /// The plan of the newest inspection that has one.
    pub plan: SeasonPlan,
    /// The day of that inspection.
    pub since: NaiveDate,
    /// What was planted since, m².
    pub done: f64,
}

impl Wearing<'_> {
    /// What is planned; `None` where nobody said, or when its last day has passed.
    pub fn planned(&self) -> Option<Planned> {
        let visits = self.shed.visits.iter().rev();
        let (plan, since) = visits.clone().find_map(|it| Some((it.plan?, it.on)))?;
        if plan.until.is_some_and(|until| until < self.today) {
            return None;
        }
        let done = self.acres.until(self.tomorrow()) - self.acres.until(since);
        Some(Planned { plan, since, done })
    }

    /// Area planted until now.
    fn now(&self) -> f64 {
        self.acres.until(self.tomorrow())
    }

    fn tomorrow(&self) -> NaiveDate {
        self.today.checked_add_days(Days::new(1)).unwrap_or(self.today)
    }

    /// What becomes of an item on each row that has a reading.
    pub fn forecast(&self, item: &Item) -> Vec<RowForecast> {
        let limit = self.shed.limit(item.code);
        let limit = limit.and_then(|limit| worn(item.code, limit.replace?));
        let planned = self.planned();
        let until = Until {
            plan: planned.map(|it| it.plan),
            done: planned.map_or(0.0, |it| it.done),
            today: self.today,
        };
        forecast(&self.rows(item), limit, until)
    }

    fn rows(&self, item: &Item) -> Vec<RowHistory> {
        let rows: Vec<Option<u16>> = if item.per_row {
            (1..=self.shed.planter.rows).map(Some).collect()
        } else {
            vec![None]
        };
        rows.into_iter().map(|row| self.row(item, row)).collect()
    }

    fn row(&self, item: &Item, row: Option<u16>) -> RowHistory {
        let sd = self.shed.reading_sd(item.code);
        let renewed = self.shed.mended.iter().rev().find(|it| it.covers(item.code, row));
        let mut readings = Vec::new();
        if let Some(renewed) = renewed {
            let new = match item.measure {
                Some(Measure::Since(_)) => Some(0.0),
                _ if renewed.new_part => new_size(item.code, &self.shed.planter, &self.shed.owner),
                _ => None,
            };
            let new = new.and_then(|new| worn(item.code, new));
            let area = self.acres.until(renewed.on);
            readings.extend(new.map(|worn| Reading { area, worn, sd: 0.0 }));
        }
        let later = self.shed.visits.iter().filter(|it| renewed.is_none_or(|r| it.on > r.on));
        readings.extend(later.filter_map(|visit| {
            let worn = worn(item.code, visit.value(item.code, row)?)?;
            Some(Reading { area: self.acres.until(visit.on), worn, sd })
        }));
        let since = readings.last().map_or(0.0, |last| self.now() - last.area);
        let counts_itself = matches!(item.measure, Some(Measure::Since(_)));
        let known_rate = counts_itself.then_some(Rate::exact(1.0));
        RowHistory { row, readings, since, known_rate }
    }

    /// The day of the newest reading of an item on a row.
    pub fn read_on(&self, item: &Item, row: Option<u16>) -> Option<NaiveDate> {
        let measured = self.shed.visits.iter().rev();
        let measured = measured.clone().find(|it| it.value(item.code, row).is_some());
        let renewed = self.shed.mended.iter().rev().find(|it| it.covers(item.code, row));
        measured.map(|it| it.on).max(renewed.map(|it| it.on))
    }
}

/// The items that wear or are used up.
pub fn wearing() -> impl Iterator<Item = &'static Item> {
    ITEMS.iter().filter(|it| matches!(it.measure, Some(Measure::Wear(_) | Measure::Since(_))))
}
