//! What one dig check taught, and its row.

use chrono::{DateTime, Utc};
use domain::conditions::Conditions;
use domain::learning::{CoverClass, DigEvent, DugBalance, Place, RowSeen, SoilClass, SoilGroup};
use sea_orm::ActiveValue::Set;
use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::entities::dig_lessons::{ActiveModel, Cover, Model, Soil};
use crate::entities::recommendations;
use crate::http::ApiError;
use crate::v1::practice::SeasonCalendar;

/// What one dig check taught.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// The dig check.
    pub dig_check_id: Uuid,
    /// When it was dug.
    pub dug_at: DateTime<Utc>,
    /// Where it is pooled.
    pub place: Place,
    /// What it says; none where a cleaner carried the units, or no row speaks for the planter.
    pub event: Option<DigEvent>,
}

/// The season of a dig or of a question.
pub fn season_of(calendar: &SeasonCalendar, time: DateTime<Utc>) -> u16 {
    u16::try_from(calendar.season_of(time)).unwrap_or_default()
}

/// Where a dig behind a sheet is pooled; `field` is the field as the sheet knew it.
pub fn place_of(
    sheet: &recommendations::Model,
    field: &Conditions,
    dug_at: DateTime<Utc>,
    calendar: &SeasonCalendar,
) -> Place {
    Place {
        class: SoilClass::of(field),
        planter: sheet.planter_id.as_u128(),
        field: sheet.field_id.as_u128(),
        season: season_of(calendar, dug_at),
    }
}

/// What is kept as JSON: an event without what has a column of its own.
#[derive(Debug, Serialize, Deserialize)]
struct Said {
    balance: DugBalance,
    rows: Vec<RowSeen>,
}

impl Lesson {
    /// The row of the lesson.
    pub(super) fn row(
        &self,
        practice_id: Uuid,
        seq: i64,
        now: DateTime<Utc>,
    ) -> serde_json::Result<ActiveModel> {
        let Self { dig_check_id, dug_at, place, event } = self;
        let said = event.as_ref().map(|event| {
            let DigEvent { dig: _, place: _, balance, rows } = event;
            serde_json::to_value(Said { balance: *balance, rows: rows.clone() })
        });
        Ok(ActiveModel {
            practice_id: Set(practice_id),
            id: Set(*dig_check_id),
            seq: Set(seq),
            planter_id: Set(Uuid::from_u128(place.planter)),
            field_id: Set(Uuid::from_u128(place.field)),
            season: Set(i32::from(place.season)),
            soil: Set(soil_of(place.class)),
            cover: Set(cover_of(place.class)),
            dug_at: Set(*dug_at),
            event: Set(said.transpose()?),
            created_at: Set(now),
        })
    }
}

/// The event of a row; none where the dig check teaches nothing.
pub(super) fn event_of(row: Model) -> Result<Option<DigEvent>, ApiError> {
    let Model { id, planter_id, field_id, season, soil, cover, event, .. } = row;
    let Some(event) = event else { return Ok(None) };
    let Said { balance, rows } = serde_json::from_value(event).map_err(ApiError::internal)?;
    let place = Place {
        class: class_of(soil, cover),
        planter: planter_id.as_u128(),
        field: field_id.as_u128(),
        season: u16::try_from(season).map_err(ApiError::internal)?,
    };
    Ok(Some(DigEvent { dig: id.as_u128(), place, balance, rows }))
}

/// The class that a row names.
pub fn class_of(soil: Soil, cover: Cover) -> SoilClass {
    let soil = match soil {
        Soil::Unknown => SoilGroup::Unknown,
        Soil::Coarse => SoilGroup::Coarse,
        Soil::Medium => SoilGroup::Medium,
        Soil::Fine => SoilGroup::Fine,
    };
    let cover = match cover {
        Cover::NoCover => CoverClass::NoCover,
        Cover::Living => CoverClass::Living,
        Cover::Dead => CoverClass::Dead,
    };
    SoilClass { soil, cover }
}

/// The soil of a class, as a row names it.
pub fn soil_of(class: SoilClass) -> Soil {
    match class.soil {
        SoilGroup::Unknown => Soil::Unknown,
        SoilGroup::Coarse => Soil::Coarse,
        SoilGroup::Medium => Soil::Medium,
        SoilGroup::Fine => Soil::Fine,
    }
}

/// The cover of a class, as a row names it.
pub fn cover_of(class: SoilClass) -> Cover {
    match class.cover {
        CoverClass::NoCover => Cover::NoCover,
        CoverClass::Living => Cover::Living,
        CoverClass::Dead => Cover::Dead,
    }
}

#[cfg(test)]
mod tests {
    use super::{Lesson, event_of};
    use crate::entities::dig_lessons::Model;
    use domain::dig::{PrintDepth, WheelFeel};
    use domain::learning::{
        CoverClass, DigEvent, DugBalance, Place, RowSeen, SoilClass, SoilGroup, WheelEdges,
    };
    use sea_orm::TryIntoModel;
    use uuid::Uuid;

    fn place(soil: SoilGroup, cover: CoverClass) -> Place {
        let id = |last: u128| Uuid::max().as_u128() - last;
        Place { class: SoilClass { soil, cover }, planter: id(1), field: id(2), season: 2027 }
    }

    fn event(place: Place) -> DigEvent {
        let edges = WheelEdges { free: 0.1 + 0.2, locked: 1e-300 };
        let balance = DugBalance {
            pushes: 1e4 / 7.0,
            metal: f64::MAX,
            steepness: 1.0 / 3.0,
            stop: 0.050_8,
            edges,
        };
        let row = RowSeen {
            behind_tyre: true,
            wheels: Some(WheelFeel::TurnWithEffort),
            print: Some(PrintDepth::Light),
            shiny: Some(false),
            logged: Some(std::f64::consts::PI),
            depths: vec![0.041_275, 0.1 * 3.0],
        };
        DigEvent { dig: Uuid::max().as_u128(), place, balance, rows: vec![row, RowSeen::default()] }
    }

    #[test]
    fn an_event_comes_back_from_its_row_to_the_last_bit() {
        use CoverClass::{Dead, Living, NoCover};
        use SoilGroup::{Coarse, Fine, Medium, Unknown};
        let time = "2027-04-20T11:45:00Z".parse().expect("time");
        for soil in [Unknown, Coarse, Medium, Fine] {
            for cover in [NoCover, Living, Dead] {
                let place = place(soil, cover);
                for event in [Some(event(place)), None] {
                    let dig_check_id = Uuid::max();
                    let lesson = Lesson { dig_check_id, dug_at: time, place, event };
                    let row = lesson.row(Uuid::nil(), 7, time).expect("a row");
                    let row: Model = row.try_into_model().expect("whole");
                    assert_eq!(event_of(row).expect("readable"), lesson.event);
                }
            }
        }
    }
}
