//! Where a page of the timeline ends. The ids of the objects do not follow the order of time, so
//! the place is time, kind and id together.

use chrono::{DateTime, Utc};

use super::dto::{TimelineKind, TimelineRequest};
use super::moments::{Moment, Place};
use crate::http::cursor::{self, Walk};
use crate::http::id::parse_id;
use crate::http::page::{DEFAULT_LIMIT, MOST_LIMIT};
use crate::http::{ApiError, BadMember, Refused};
use crate::v1::practice::SeasonCalendar;

/// Which page of which season is asked for.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    walk: Walk,
    /// The season; that of the newest entry when absent.
    pub season: Option<i32>,
    limit: usize,
    after: Option<Place>,
}

impl Asked {
    /// Checks season, limit and cursor.
    pub(super) fn parse(
        walk: Walk,
        request: &TimelineRequest,
        calendar: &SeasonCalendar,
    ) -> Result<Self, ApiError> {
        let mut refused = Refused::default();
        let limit = request.limit.unwrap_or(DEFAULT_LIMIT);
        if !(1..=MOST_LIMIT).contains(&limit) {
            let detail = "A page has at least 1 and at most 200 rows.";
            let allowed = format!("1 to {MOST_LIMIT}");
            refused.add(BadMember::new("?limit", detail).given(limit).allowed(allowed));
        }
        let named = request.season.filter(|year| !(2000..=2200).contains(year));
        if let Some(year) = named {
            let allowed = "a year from 2000 to 2200";
            refused
                .add(BadMember::new("?season", "This is no season.").given(year).allowed(allowed));
        }
        let after = request.cursor.as_deref().map(|cursor| place_of(&walk, cursor)).transpose();
        let after = refused.take(after).flatten();
        refused.finish()?;
        // A page goes on in the season of the page before, whatever came in meanwhile.
        let season = request.season.or_else(|| after.map(|place| calendar.season_of(place.at)));
        Ok(Self { walk, season, limit: usize::from(limit), after })
    }

    /// The moments of the page, of those in order, and the cursor of the next page.
    pub(super) fn cut(self, moments: Vec<Moment>) -> (Vec<Moment>, Option<String>) {
        let beyond = |moment: &Moment| self.after.is_none_or(|after| moment.place > after);
        let mut rest: Vec<Moment> = moments.into_iter().filter(beyond).collect();
        if rest.len() <= self.limit {
            return (rest, None);
        }
        rest.truncate(self.limit);
        let cursor = rest.last().map(|moment| self.walk.seal(write(moment.place).as_bytes()));
        (rest, cursor)
    }
}

fn place_of(walk: &Walk, cursor: &str) -> Result<Place, BadMember> {
    let place = String::from_utf8(walk.open(cursor)?).ok();
    place.as_deref().and_then(read).ok_or_else(|| cursor::refused(cursor))
}

fn write(Place { at, kind, id }: Place) -> String {
    let rank = KINDS.iter().position(|known| *known == kind).unwrap_or_default();
    format!("{}.{rank}.{id}", at.timestamp_millis())
}

fn read(text: &str) -> Option<Place> {
    let (time, rest) = text.split_once('.')?;
    let (rank, id) = rest.split_once('.')?;
    let at: DateTime<Utc> = DateTime::from_timestamp_millis(time.parse().ok()?)?;
    let kind = *KINDS.get(rank.parse::<usize>().ok()?)?;
    Some(Place { at, kind, id: parse_id(id)? })
}

const KINDS: [TimelineKind; 17] = [
    TimelineKind::PlanterCalibrated,
    TimelineKind::PlanterInspected,
    TimelineKind::PlanterRepaired,
    TimelineKind::Planted,
    TimelineKind::StandCounted,
    TimelineKind::ConditionsReported,
    TimelineKind::DigChecked,
    TimelineKind::AdjustmentProposed,
    TimelineKind::AdjustmentAccepted,
    TimelineKind::AdjustmentDeclined,
    TimelineKind::RecommendationMade,
    TimelineKind::RecommendationIssued,
    TimelineKind::RecommendationSuperseded,
    TimelineKind::RecommendationAcknowledged,
    TimelineKind::Harvested,
    TimelineKind::TrialStarted,
    TimelineKind::TrialClosed,
];

#[cfg(test)]
mod tests {
    use super::{KINDS, read, write};
    use crate::v1::timeline::moments::Place;
    use uuid::Uuid;

    #[test]
    fn a_cursor_says_the_place_again() {
        let at = "2027-04-28T13:30:00.125Z".parse().expect("time");
        for (n, kind) in (1..).zip(KINDS) {
            let place = Place { at, kind, id: Uuid::from_u128(n) };
            assert_eq!(read(&write(place)), Some(place));
        }
        assert!(KINDS.is_sorted(), "the order of the kinds is that of a moment");
    }

    #[test]
    fn what_is_no_cursor_is_none() {
        let id = Uuid::nil();
        for text in
            ["", "1", "1.2", "1.2.x", &format!("x.1.{id}"), &format!("1.{}.{id}", KINDS.len())]
        {
            assert_eq!(read(text), None, "{text}");
        }
        assert_eq!(read(&format!("{}.1.{id}", i64::MAX)), None);
    }
}
