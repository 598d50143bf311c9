//! From the wire to the domain.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use domain::conditions::Crop;
use domain::quantity::{ArealNumberDensity, Length, Measured, bounds};
use domain::stand::{CountMethod, Counted, StandObservation, WHEEL_PLANTS};

use super::observation::{HoopCountIn, RowCountIn, StandMethodIn, StandReportIn, WheelCountIn};
use crate::http::quantity::Quantities;
use crate::http::{ApiError, BadMember, Refused, text};

/// Most counts of one stand count.
const MOST_COUNTS: usize = 200;
/// Highest number of a place.
const MOST_PLACES: u16 = 200;
/// Most plants of one count.
const MOST_PLANTS: u32 = 10_000;
/// Nothing comes up sooner after planting, days.
const SOONEST: i64 = 4;
/// A count is of this season, days after planting.
const LATEST: i64 = 250;
/// Rounding of a unit.
const SLACK: f64 = 1e-6;

/// What a count is held against.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sown {
    /// The crop.
    pub crop: Crop,
    /// The day of planting.
    pub planted_on: NaiveDate,
    /// Rows of the planter.
    pub rows: u16,
    /// Distance between rows.
    pub row_width: Length,
    /// Seeds that were planted.
    pub seeds: Option<ArealNumberDensity>,
}

impl StandReportIn {
    /// The only way from the wire to the domain. `today` is the last day that is taken.
    pub(super) fn parse(
        &self,
        sown: &Sown,
        today: NaiveDate,
    ) -> Result<StandObservation, ApiError> {
        let Self { planting_id: _, counted_on, count, late_by_days, note } = self;
        let mut refused = Refused::default();
        refused.take(day(*counted_on, sown.planted_on, today));
        let days_late = late_by_days.and_then(|days| refused.take(days_late(days)));
        if let Some(note) = note {
            refused.take(text::notes("/note", note));
        }
        let (method, hoop, counts) = counted(count, sown.rows, &mut refused);
        refused.finish()?;
        Ok(StandObservation {
            crop: sown.crop,
            method,
            row_width: sown.row_width,
            hoop,
            seeds: sown.seeds,
            days_late,
            counts,
        })
    }
}

/// The day of the count: after emergence can have begun, and not in the future.
pub(super) fn day(
    counted_on: NaiveDate,
    planted_on: NaiveDate,
    today: NaiveDate,
) -> Result<(), BadMember> {
    let after = counted_on.signed_duration_since(planted_on).num_days();
    let bad = |detail: String| BadMember::new("/counted_on", detail).given(counted_on);
    if counted_on > today {
        return Err(bad("The day lies in the future.".to_owned()).allowed(format!("up to {today}")));
    }
    if after < SOONEST {
        let detail = format!(
            "The field was planted on {planted_on}: nothing has come up before the {SOONEST}th day."
        );
        return Err(bad(detail).why("a stand is counted after emergence"));
    }
    if after > LATEST {
        let detail = format!("The field was planted on {planted_on}: that is another season.");
        return Err(bad(detail).allowed(format!("at most {LATEST} days after planting")));
    }
    Ok(())
}

fn days_late(given: f64) -> Result<f64, BadMember> {
    if (1.0..=60.0).contains(&given) {
        return Ok(given);
    }
    let member = BadMember::new("/late_by_days", "The delay is out of range.").given(given);
    Err(member.allowed("1 to 60 days"))
}

type Parts = (CountMethod, Option<Length>, Vec<Counted>);

fn counted(count: &StandMethodIn, rows: u16, refused: &mut Refused) -> Parts {
    match count {
        StandMethodIn::RowLength { length, counts } => {
            let length = refused.take(length.parse("/count/length", &bounds::ROW_LENGTH));
            refused.take(entries(counts.len()));
            refused.take_all(once(counts.iter().map(|it| (it.place, it.row))));
            let each = counts.iter().take(MOST_COUNTS).enumerate();
            let parsed = each.filter_map(|(at, it)| refused.take_all(in_row(at, it, length, rows)));
            (CountMethod::RowLength, None, parsed.collect())
        }
        StandMethodIn::Hoop { diameter, counts } => {
            let hoop = refused.take(diameter.parse("/count/diameter", &bounds::HOOP_DIAMETER));
            refused.take(entries(counts.len()));
            let each = counts.iter().take(MOST_COUNTS).enumerate();
            let parsed = each.filter_map(|(at, it)| refused.take_all(in_hoop(at, it)));
            (CountMethod::Hoop, hoop, parsed.collect())
        }
        StandMethodIn::Wheel { counts } => {
            refused.take(entries(counts.len()));
            refused.take_all(once(counts.iter().map(|it| (it.place, it.row))));
            let each = counts.iter().take(MOST_COUNTS).enumerate();
            let parsed = each.filter_map(|(at, it)| refused.take_all(walked(at, it, rows)));
            (CountMethod::Wheel, None, parsed.collect())
        }
    }
}

fn in_row(
    at: usize,
    it: &RowCountIn,
    length: Option<Length>,
    rows: u16,
) -> Result<Counted, Vec<BadMember>> {
    let RowCountIn { place, row, plants, gaps, positions, late } = it;
    let mut refused = Refused::default();
    let pointer = |name: &str| format!("/count/counts/{at}/{name}");
    refused.take(place_of(&pointer("place"), *place));
    refused.take(row_of(&pointer("row"), *row, rows));
    refused.take(plants_of(&pointer("plants"), *plants));
    refused.take(late_of(&pointer("late"), *late, *plants));
    let gaps = gaps_of(&pointer("gaps"), gaps.as_ref(), length, &mut refused);
    let positions = positions.as_ref().and_then(|given| {
        let place = pointer("positions");
        let parsed = refused.take_all(given.parse(&place, &bounds::TAPE_POSITION))?;
        refused.take(along(&place, &parsed, *plants, length))?;
        Some(parsed)
    });
    let bad = refused.into_members();
    if !bad.is_empty() {
        return Err(bad);
    }
    Ok(Counted { place: *place, plants: *plants, row: length, gaps, positions, late: *late })
}

fn in_hoop(at: usize, it: &HoopCountIn) -> Result<Counted, Vec<BadMember>> {
    let HoopCountIn { place, plants, late } = it;
    let mut refused = Refused::default();
    let pointer = |name: &str| format!("/count/counts/{at}/{name}");
    refused.take(place_of(&pointer("place"), *place));
    refused.take(plants_of(&pointer("plants"), *plants));
    refused.take(late_of(&pointer("late"), *late, *plants));
    let bad = refused.into_members();
    if !bad.is_empty() {
        return Err(bad);
    }
    let (gaps, positions) = (None, None);
    Ok(Counted { place: *place, plants: *plants, row: None, gaps, positions, late: *late })
}

fn walked(at: usize, it: &WheelCountIn, rows: u16) -> Result<Counted, Vec<BadMember>> {
    let WheelCountIn { place, row, distance, gaps, late } = it;
    let mut refused = Refused::default();
    let pointer = |name: &str| format!("/count/counts/{at}/{name}");
    refused.take(place_of(&pointer("place"), *place));
    refused.take(row_of(&pointer("row"), *row, rows));
    refused.take(late_of(&pointer("late"), *late, WHEEL_PLANTS));
    let length = refused.take(distance.parse(&pointer("distance"), &bounds::ROW_LENGTH));
    let gaps = gaps_of(&pointer("gaps"), gaps.as_ref(), length, &mut refused);
    let bad = refused.into_members();
    if !bad.is_empty() {
        return Err(bad);
    }
    let (plants, late) = (WHEEL_PLANTS, *late);
    Ok(Counted { place: *place, plants, row: length, gaps, positions: None, late })
}

fn gaps_of(
    pointer: &str,
    given: Option<&Quantities>,
    length: Option<Length>,
    refused: &mut Refused,
) -> Option<Vec<Length>> {
    let parsed = refused.take_all(given?.parse(pointer, &bounds::ROW_GAP))?;
    let sum: f64 = parsed.iter().map(|gap| gap.si()).sum();
    if length.is_some_and(|length| sum > length.si() * (1.0 + SLACK)) {
        let detail = "The gaps together are longer than the row that was counted.";
        refused.add(BadMember::new(format!("{pointer}/values"), detail));
        return None;
    }
    Some(parsed)
}

/// One position for each plant, ascending, within the row.
fn along(
    pointer: &str,
    positions: &[Length],
    plants: u32,
    length: Option<Length>,
) -> Result<(), BadMember> {
    let place = format!("{pointer}/values");
    if u32::try_from(positions.len()) != Ok(plants) {
        let member = BadMember::new(place, "There is not one position for each plant.");
        return Err(member.given(positions.len()).allowed(plants.to_string()));
    }
    let back = positions.iter().zip(positions.iter().skip(1)).position(|(a, b)| b < a);
    if let Some(at) = back {
        let detail = "A plant stands before the one before it: go along the tape.";
        return Err(BadMember::new(format!("{place}/{}", at + 1), detail));
    }
    let span = positions.last().zip(positions.first()).map(|(last, first)| *last - *first);
    match (span, length) {
        (Some(span), Some(length)) if span.si() > length.si() * (1.0 + SLACK) => {
            Err(BadMember::new(place, "The plants stand further apart than the row is long."))
        }
        _ => Ok(()),
    }
}

/// A row of a place is counted once.
fn once(all: impl Iterator<Item = (u16, Option<u16>)>) -> Result<(), Vec<BadMember>> {
    let mut seen = BTreeSet::new();
    let mut bad = Vec::new();
    for (at, (place, row)) in all.enumerate() {
        if let Some(row) = row
            && !seen.insert((place, row))
        {
            let detail = format!("Row {row} at place {place} stands there twice.");
            bad.push(BadMember::new(format!("/count/counts/{at}/row"), detail).given(row));
        }
    }
    if bad.is_empty() { Ok(()) } else { Err(bad) }
}

fn entries(count: usize) -> Result<(), BadMember> {
    if (1..=MOST_COUNTS).contains(&count) {
        return Ok(());
    }
    let member = BadMember::new("/count/counts", "The number of counts is out of range.");
    Err(member.given(count).allowed(format!("1 to {MOST_COUNTS}")))
}

fn place_of(pointer: &str, place: u16) -> Result<(), BadMember> {
    if (1..=MOST_PLACES).contains(&place) {
        return Ok(());
    }
    let member = BadMember::new(pointer, "This is no number of a place.").given(place);
    Err(member.allowed(format!("1 to {MOST_PLACES}")))
}

fn row_of(pointer: &str, row: Option<u16>, rows: u16) -> Result<(), BadMember> {
    match row {
        Some(row) if !(1..=rows).contains(&row) => {
            let member = BadMember::new(pointer, "The planter has no such row.").given(row);
            Err(member.allowed(format!("1 to {rows}")))
        }
        Some(_) | None => Ok(()),
    }
}

fn plants_of(pointer: &str, plants: u32) -> Result<(), BadMember> {
    if plants <= MOST_PLANTS {
        return Ok(());
    }
    let member = BadMember::new(pointer, "These are too many plants.").given(plants);
    Err(member.allowed(format!("0 to {MOST_PLANTS}")))
}

fn late_of(pointer: &str, late: Option<u32>, plants: u32) -> Result<(), BadMember> {
    match late {
        Some(late) if late > plants => {
            let member = BadMember::new(pointer, "More plants are late than there are.");
            Err(member.given(late).allowed(format!("0 to {plants}")))
        }
        Some(_) | None => Ok(()),
    }
}
