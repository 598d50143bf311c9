//! From the wire to the domain, every refusal named.

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use domain::dig::{
    LoggedLoad, MOST_READINGS, Observation, ObservationError, RowReading, Usual, Whereabouts, usual,
};
use domain::planter::Planter;
use domain::quantity::{Bound, Measured, bounds};

use super::beyond::beyond;
use super::in_use;
use super::meant::meant;
use super::observation::{DigCheckIn, LoggedLoadIn, RowReadingIn};
use crate::http::quantity::Quantities;
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::planters::makeup::MOST_ROWS;

/// Earliest year of a dig.
const EARLIEST: i32 = 2000;

impl DigCheckIn {
    /// The only way from the wire to the domain. `now` is what `dug_at` is held against, `planter`
    /// the one of the recommendation.
    pub(crate) fn parse(
        &self,
        now: DateTime<Utc>,
        planter: &Planter,
    ) -> Result<Observation, ApiError> {
        let Self { dug_at, place, rows_as_planned, settings, rows, notes } = self;
        let mut refused = Refused::default();
        refused.take(dug(*dug_at, now));
        let place = place.as_ref().and_then(|given| refused.take(text::name("/place", given)));
        let notes = notes.as_ref().and_then(|given| refused.take(text::notes("/notes", given)));
        let settings = in_use::settings(settings, planter, &mut refused);
        let given = rows;
        if rows.len() > usize::from(MOST_ROWS) {
            refused.add(
                BadMember::new("/rows", "These are too many rows.")
                    .given(rows.len())
                    .allowed(format!("1 to {MOST_ROWS}, each row once")),
            );
            return Err(refused.into());
        }
        let readings =
            rows.iter().enumerate().map(|(at, row)| reading(at, row, planter, &mut refused));
        let readings = readings.collect();
        let dig = Observation::new(settings, readings, notes.unwrap_or_default(), planter.rows);
        let bad = refused.into_members();
        match dig {
            Ok(dig) if bad.is_empty() => {
                Ok(dig.at(Whereabouts { place, as_planned: *rows_as_planned }))
            }
            Ok(_) => Err(bad.into()),
            Err(errors) => Err(with(bad, &errors, given).into()),
        }
    }
}

fn dug(at: DateTime<Utc>, now: DateTime<Utc>) -> Result<(), BadMember> {
    let latest = now.checked_add_signed(TimeDelta::days(1)).unwrap_or(now);
    if at <= latest && at.year() >= EARLIEST {
        return Ok(());
    }
    Err(BadMember::new("/dug_at", "Nobody dug at this time.")
        .given(at.to_rfc3339())
        .allowed(format!("{EARLIEST}-01-01 to {}", latest.to_rfc3339()))
        .why("a day ahead is left for clocks that are off"))
}

fn reading(
    at: usize,
    given: &RowReadingIn,
    planter: &Planter,
    refused: &mut Refused,
) -> RowReading {
    let RowReadingIn {
        row,
        behind_tyre,
        outer,
        seed_depths,
        spacings,
        stretch,
        gauge_wheels,
        logged_load,
        print,
        wall,
        bottom,
        residue_in_furrow,
        seed_on_bottom,
        closed,
        moist_at_seed,
        cleaner,
    } = given;
    let pointer = |name: &str| format!("/rows/{at}/{name}");
    RowReading {
        row: *row,
        behind_tyre: behind_tyre.unwrap_or_else(|| planter.tyre_rows.contains(row)),
        outer: outer.unwrap_or(*row == 1 || *row == planter.rows),
        seed_depths: list(
            &pointer("seed_depths"),
            seed_depths.as_ref(),
            (&bounds::SEED_DEPTH, &usual::SEED_DEPTH),
            refused,
        ),
        spacings: list(
            &pointer("spacings"),
            spacings.as_ref(),
            (&bounds::SEED_SPACING, &usual::SEED_SPACING),
            refused,
        ),
        stretch: stretch
            .as_ref()
            .and_then(|it| refused.take(it.parse(&pointer("stretch"), &bounds::ROW_LENGTH))),
        gauge_wheels: gauge_wheels.map(Into::into),
        logged_load: logged_load.as_ref().and_then(|it| load(&pointer("logged_load"), it, refused)),
        print: print.map(Into::into),
        wall: wall.map(Into::into),
        bottom: bottom.map(Into::into),
        residue_in_furrow: *residue_in_furrow,
        seed_on_bottom: *seed_on_bottom,
        closed: closed.map(Into::into),
        moist_at_seed: *moist_at_seed,
        cleaner: cleaner.map(Into::into),
    }
}

fn list<Q: Measured>(
    pointer: &str,
    given: Option<&Quantities>,
    (bound, usual): (&Bound<Q>, &Usual<Q>),
    refused: &mut Refused,
) -> Vec<Q> {
    let Some(given) = given else { return Vec::new() };
    let parsed = given.parse(pointer, bound).map_err(|bad| {
        let with_guess = |member: BadMember| match value_at(&member.pointer, given) {
            Some(value) => meant(member, usual, value, &given.unit),
            None => member,
        };
        bad.into_iter().map(with_guess).collect()
    });
    refused.take_all(parsed).unwrap_or_default()
}

/// The value that a pointer into a list means.
fn value_at(pointer: &str, list: &Quantities) -> Option<f64> {
    let (_, index) = pointer.rsplit_once('/')?;
    list.values.get(index.parse::<usize>().ok()?).copied()
}

fn load(pointer: &str, given: &LoggedLoadIn, refused: &mut Refused) -> Option<LoggedLoad> {
    let LoggedLoadIn { mean, sd, contact } = given;
    let at = |name: &str| format!("{pointer}/{name}");
    let mean = refused.take(mean.parse(&at("mean"), &bounds::GAUGE_WHEEL_LOAD));
    let sd = sd.as_ref().map(|it| it.parse(&at("sd"), &bounds::GAUGE_WHEEL_LOAD));
    let contact = contact.as_ref().map(|it| it.parse(&at("contact"), &bounds::SHARE));
    let sd = sd.and_then(|it| refused.take(it));
    let contact = contact.and_then(|it| refused.take(it));
    mean.map(|mean| LoggedLoad { mean, sd, contact })
}

/// Joins what the wire and the domain refused. A list that was refused came out empty, so where
/// anything was refused already, a lack of readings is not said on top.
fn with(
    mut bad: Vec<BadMember>,
    errors: &[ObservationError],
    rows: &[RowReadingIn],
) -> Vec<BadMember> {
    let refused_already = !bad.is_empty();
    for error in errors {
        let nothing = matches!(error, ObservationError::NoRows | ObservationError::NothingRead);
        if !(nothing && refused_already) {
            bad.push(member(error, rows));
        }
    }
    bad
}

fn member(error: &ObservationError, rows: &[RowReadingIn]) -> BadMember {
    let detail = format!("{error}.");
    match error {
        ObservationError::NoRows | ObservationError::NothingRead => BadMember::new("/rows", detail),
        ObservationError::NotOnPlanter { index, row, rows } => {
            BadMember::new(format!("/rows/{index}/row"), detail)
                .given(row)
                .allowed(format!("1 to {rows}"))
        }
        ObservationError::Twice { index, row } => {
            BadMember::new(format!("/rows/{index}/row"), detail).given(row)
        }
        ObservationError::TooMany { index, what, count } => {
            BadMember::new(format!("/rows/{index}/{what}/values"), detail)
                .given(count)
                .allowed(format!("at most {MOST_READINGS}"))
        }
        ObservationError::BeyondStretch { index, sum, stretch, row: _ } => {
            let unit = rows.get(*index).and_then(|row| row.stretch.as_ref()).map(|it| &*it.unit);
            beyond(
                BadMember::new(format!("/rows/{index}/spacings"), detail),
                (*sum, *stretch),
                unit,
            )
        }
        ObservationError::Impossible { pointer, refusal } => {
            crate::http::quantity::refused(pointer, refusal)
        }
    }
}
