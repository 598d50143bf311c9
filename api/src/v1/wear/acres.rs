//! What a planter has planted, day by day: by its counter between two inspections that read it, else
//! by the plantings that were reported.

use chrono::NaiveDate;
use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QuerySelect};
use uuid::Uuid;

use crate::auth::Scope;
use crate::entities::plantings::Column;
use crate::http::ApiError;
use crate::v1::inspections::shed::Visit;

/// What a planter has planted.
#[derive(Debug, Clone, Default)]
pub struct Acres {
    /// Day and area, m².
    plantings: Vec<(NaiveDate, f64)>,
    /// Days of the inspections, oldest first, with the area from the first one to each, m².
    at_visits: Vec<(NaiveDate, f64)>,
    /// Plantings whose area nobody knows.
    pub without_area: u32,
    /// Stretches between two inspections that the counter of the planter measured.
    pub by_counter: u32,
}

impl Acres {
    /// Reads what was reported of a planter.
    pub async fn load(
        db: &impl ConnectionTrait,
        scope: Scope,
        planter_id: Uuid,
        visits: &[Visit],
    ) -> Result<Self, ApiError> {
        let rows: Vec<(NaiveDate, Option<f64>)> = scope
            .plantings()
            .filter(Column::PlanterId.eq(planter_id))
            .select_only()
            .columns([Column::PlantedOn, Column::AreaM2])
            .into_tuple()
            .all(db)
            .await?;
        Ok(Self::of(&rows, visits))
    }

    /// From plantings with their areas, and inspections, oldest first.
    pub fn of(rows: &[(NaiveDate, Option<f64>)], visits: &[Visit]) -> Self {
        let plantings = rows.iter().filter_map(|(day, area)| Some((*day, (*area)?))).collect();
        let unknown = rows.iter().filter(|(_, area)| area.is_none()).count();
        let without_area = u32::try_from(unknown).unwrap_or(u32::MAX);
        let mut acres = Self { plantings, without_area, ..Self::default() };
        let mut before: Option<&Visit> = None;
        let mut area = 0.0;
        for visit in visits {
            if let Some(before) = before {
                let counted = before.counter.zip(visit.counter);
                acres.by_counter += u32::from(counted.is_some());
                let counted = counted.map(|(first, last)| (last - first).max(0.0));
                area += counted.unwrap_or_else(|| acres.planted(before.on, visit.on));
            }
            acres.at_visits.push((visit.on, area));
            before = Some(visit);
        }
        acres
    }

    /// What was planted from a day on and before another, m².
    pub fn planted(&self, from: NaiveDate, before: NaiveDate) -> f64 {
        let days = self.plantings.iter().filter(|(day, _)| (from..before).contains(day));
        days.map(|(_, area)| area).sum()
    }

    /// Area from the first inspection until the morning of a day, m².
    pub fn until(&self, day: NaiveDate) -> f64 {
        let before = self.at_visits.iter().rposition(|(on, _)| *on <= day);
        let Some((on, area)) = before.and_then(|at| self.at_visits.get(at)) else {
            return -self.at_visits.first().map_or(0.0, |(first, _)| self.planted(day, *first));
        };
        let reported = area + self.planted(*on, day);
        // The counter knows better how much it was until the next inspection.
        let next = before.and_then(|at| self.at_visits.get(at + 1));
        next.map_or(reported, |(_, most)| reported.min(*most))
    }
}

#[cfg(test)]
mod tests {
    use chrono::NaiveDate;
    use uuid::Uuid;

    use super::Acres;
    use crate::v1::inspections::shed::Visit;

    fn day(day: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 5, day).expect("a day")
    }

    fn visit(on: u32, counter: Option<f64>) -> Visit {
        Visit { id: Uuid::nil(), on: day(on), found: vec![], counter, plan: None }
    }

    #[test]
    fn plantings_count_from_the_day_of_the_inspection_on() {
        let planted = [(day(1), Some(50.0)), (day(5), Some(100.0)), (day(9), Some(30.0))];
        let acres = Acres::of(&planted, &[visit(3, None), visit(9, None)]);
        assert_eq!(acres.until(day(3)).to_string(), "0");
        assert_eq!(acres.until(day(5)).to_string(), "0");
        assert_eq!(acres.until(day(6)).to_string(), "100");
        assert_eq!(acres.until(day(9)).to_string(), "100");
        assert_eq!(acres.until(day(10)).to_string(), "130");
        assert_eq!(acres.until(day(1)).to_string(), "-50");
    }

    #[test]
    fn the_counter_wins_between_inspections_that_read_it() {
        let planted = [(day(5), Some(100.0)), (day(7), None), (day(12), Some(10.0))];
        let visits = [visit(3, Some(1000.0)), visit(9, Some(1250.0)), visit(20, None)];
        let acres = Acres::of(&planted, &visits);
        assert_eq!((acres.by_counter, acres.without_area), (1, 1));
        assert_eq!(acres.until(day(9)).to_string(), "250");
        assert_eq!(acres.until(day(20)).to_string(), "260");
        assert_eq!(acres.until(day(6)).to_string(), "100");
    }
}
