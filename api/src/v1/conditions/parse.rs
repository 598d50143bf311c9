//! From the wire to the domain, every refusal named.

use chrono::{DateTime, Datelike, TimeDelta, Utc};
use domain::conditions::{Conditions, CoverCrop, TextureClass, TextureError};
use domain::quantity::{Bound, Measured, Ratio, bounds};

use super::dto::{ConditionsIn, CoverCropIn};
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
        if let Some(notes) = &self.notes {
            refused.take(text::notes("/notes", notes));
        }
        let previous_yield_bu_ac =
            self.previous_yield_bu_ac.and_then(|given| refused.take(previous_yield(given)));
        let mut read = Reader(&mut refused);
        let conditions = Conditions {
            planting_date: self.planting_date,
            texture,
            moisture: self.moisture.map(Into::into),
            ball: self.ball.map(Into::into),
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
            ..Conditions::of(self.crop.into())
        };
        refused.finish()?;
        Ok(conditions)
    }
}

impl CoverCropIn {
    fn parse(&self, refused: &mut Refused) -> CoverCrop {
        let Self { species, height, ground_cover, state } = self;
        let mut read = Reader(refused);
        CoverCrop {
            height: read.take("/cover/height", height.as_ref(), &bounds::COVER_HEIGHT),
            ground_cover: read.take("/cover/ground_cover", ground_cover.as_ref(), &bounds::SHARE),
            state: state.map(Into::into),
            ..CoverCrop::of((*species).into())
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

/// The class that was named, or the one that sand and clay make; both must agree.
fn texture(given: &ConditionsIn, refused: &mut Refused) -> Option<TextureClass> {
    let named = given.texture.map(TextureClass::from);
    let made = match (&given.sand, &given.clay) {
        (None, None) => return named,
        (Some(sand), Some(clay)) => classify(sand, clay, refused)?,
        (Some(_), None) => {
            refused.add(BadMember::new("/clay", "Sand alone makes no texture: give clay too."));
            return None;
        }
        (None, Some(_)) => {
            refused.add(BadMember::new("/sand", "Clay alone makes no texture: give sand too."));
            return None;
        }
    };
    if let Some(named) = named.filter(|named| *named != made) {
        let detail = format!(
            "Sand and clay make {}, not {}: leave one of them out.",
            made.words(),
            named.words()
        );
        refused.add(BadMember::new("/texture", detail).given(named.words()).allowed(made.words()));
        return None;
    }
    Some(made)
}

fn classify(sand: &Quantity, clay: &Quantity, refused: &mut Refused) -> Option<TextureClass> {
    let sand = refused.take(sand.parse("/sand", &bounds::SHARE));
    let clay = refused.take(clay.parse("/clay", &bounds::SHARE));
    let made = TextureClass::classify(percent(sand?), percent(clay?));
    refused.take(made.map_err(|error| {
        let pointer = match error {
            TextureError::OutsideRange { part: "sand", .. } => "/sand",
            TextureError::OutsideRange { .. } | TextureError::PassHundred { .. } => "/clay",
        };
        BadMember::new(pointer, format!("{error}."))
    }))
}

/// Without the last binary digits of the conversion, which would tip a soil on the line between
/// two classes to either side.
fn percent(share: Ratio) -> f64 {
    (share.si() * 1e11).round() / 1e9
}
