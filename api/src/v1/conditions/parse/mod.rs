//! From the wire to the domain, every refusal named.

mod cover;
mod texture;

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use domain::conditions::{Conditions, Pests, SoilMakeup};
use domain::quantity::{Bound, Measured, bounds};

use self::cover::ended;
use self::texture::texture;
use super::dto::ConditionsIn;
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused, text};

/// Greatest yield of the crop before, bushels per acre.
const MOST_YIELD: f64 = 400.0;

impl ConditionsIn {
    /// The only way from the wire to the domain. `now` is what `observed_at` is held against.
    pub(crate) fn parse(&self, now: DateTime<Utc>) -> Result<Conditions, ApiError> {
        let mut refused = Refused::default();
        refused.take(observed(self.observed_at, now));
        let texture = texture(self, &mut refused);
        let cover = self.cover.as_ref().map(|cover| cover.parse(&mut refused));
        let cover_ended = ended(self, &mut refused);
        let pests = self.pests.as_ref().map_or(Pests::NOT_COUNTED, |it| it.parse(&mut refused));
        let start_hour = self.start_hour.and_then(|hour| refused.take(start_hour(hour)));
        if let Some(notes) = &self.notes {
            refused.take(text::notes("/notes", notes));
        }
        let previous_yield_bu_ac =
            self.previous_yield_bu_ac.and_then(|given| refused.take(previous_yield(given)));
        let mut read = Reader(&mut refused);
        let soil = self.soil(&mut read);
        let conditions = Conditions {
            soil,
            planting_date: self.planting_date,
            texture,
            moisture: self.moisture.map(Into::into),
            ball: self.ball.map(Into::into),
            toss: self.toss.map(Into::into),
            ribbon: read.take("/ribbon", self.ribbon.as_ref(), &bounds::RIBBON_LENGTH),
            soil_temperature: read.take(
                "/soil_temperature",
                self.soil_temperature.as_ref(),
                &bounds::SOIL_TEMPERATURE,
            ),
            read_outside_cover: self.read_outside_cover,
            soil_low: read.take("/soil_low", self.soil_low.as_ref(), &bounds::SOIL_TEMPERATURE),
            rain: read.take("/rain", self.rain.as_ref(), &bounds::RAIN),
            penetration: read.take(
                "/penetration",
                self.penetration.as_ref(),
                &bounds::PENETRATION_RESISTANCE,
            ),
            cover,
            previous_crop: self.previous_crop.map(Into::into),
            previous_yield_bu_ac,
            residue_cover: read.take("/residue_cover", self.residue_cover.as_ref(), &bounds::SHARE),
            residue_feel: self.residue_feel.map(Into::into),
            strength_class: self.strength_class.map(Into::into),
            temperature_depth: read.take(
                "/temperature_depth",
                self.temperature_depth.as_ref(),
                &bounds::TEMPERATURE_DEPTH,
            ),
            residue_spread: self.residue_spread.map(Into::into),
            row_position: self.row_position.map(Into::into),
            cover_ended,
            termination_zone: self.termination_zone.map(Into::into),
            irrigated: self.irrigated,
            pests,
            start_hour,
            ..Conditions::of(self.crop.into())
        };
        refused.finish()?;
        Ok(conditions)
    }

    /// Clay was refused before where it was wrong; here it only counts beside sand.
    fn soil(&self, read: &mut Reader<'_>) -> SoilMakeup {
        let clay = self.clay.as_ref().filter(|_| self.sand.is_some());
        SoilMakeup {
            clay: clay.and_then(|clay| clay.parse("/clay", &bounds::SHARE).ok()),
            organic_carbon: read.take(
                "/organic_carbon",
                self.organic_carbon.as_ref(),
                &bounds::ORGANIC_CARBON,
            ),
            bulk_density: read.take(
                "/bulk_density",
                self.bulk_density.as_ref(),
                &bounds::BULK_DENSITY,
            ),
            water: read.take("/water", self.water.as_ref(), &bounds::SOIL_WATER),
        }
    }
}

/// Reads optional quantities and notes what was refused.
struct Reader<'a>(&'a mut Refused);

impl Reader<'_> {
    fn take<Q: Measured>(
        &mut self,
        pointer: &str,
        given: Option<&Quantity>,
        bound: &Bound<Q>,
    ) -> Option<Q> {
        given.and_then(|quantity| self.0.take(quantity.parse(pointer, bound)))
    }
}

/// First year that a report may come from.
const EARLIEST: i32 = 2000;

fn observed(at: DateTime<Utc>, now: DateTime<Utc>) -> Result<(), BadMember> {
    let latest = now.checked_add_signed(TimeDelta::days(1)).unwrap_or(now);
    if at.year() < EARLIEST {
        return Err(BadMember::new("/observed_at", "This time lies too far back.")
            .given(at.to_rfc3339())
            .allowed(format!("{EARLIEST}-01-01 to {}", latest.to_rfc3339()))
            .why("a report from before that is a slip of the year"));
    }
    if at <= latest {
        return Ok(());
    }
    Err(BadMember::new("/observed_at", "This time lies ahead.")
        .given(at.to_rfc3339())
        .allowed(format!("at most {}", latest.to_rfc3339()))
        .why("nobody has seen a field tomorrow; a day is left for clocks that are off"))
}

fn previous_yield(given: f64) -> Result<f64, BadMember> {
    if (0.0..=MOST_YIELD).contains(&given) {
        return Ok(given);
    }
    Err(BadMember::new("/previous_yield_bu_ac", "This yield is outside the range.")
        .given(given)
        .allowed(format!("0 to {MOST_YIELD} bushels per acre"))
        .why("corn yields up to about 300 bushels an acre"))
}

/// Hours of the day.
const LAST_HOUR: u8 = 23;

fn start_hour(given: u8) -> Result<u8, BadMember> {
    if given <= LAST_HOUR {
        return Ok(given);
    }
    Err(BadMember::new("/start_hour", "There is no such hour.")
        .given(given)
        .allowed(format!("0 to {LAST_HOUR}"))
        .why("a day has 24 hours"))
}
