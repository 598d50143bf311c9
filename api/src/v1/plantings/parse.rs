//! From the wire to the store.

use chrono::NaiveDate;
use domain::quantity::bounds;

use super::dto::{PlantingIn, PlantingPatch};
use super::store::{Change, Entered, New};
use crate::http::quantity::Quantity;
use crate::http::{ApiError, BadMember, Refused, text};

/// Earliest day of a planting that is worth keeping.
const EARLIEST: NaiveDate = match NaiveDate::from_yo_opt(2000, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

impl PlantingIn {
    /// The only way from the wire to the store. `today` is the last day that is taken.
    pub(super) fn parse(&self, today: NaiveDate) -> Result<New, ApiError> {
        let Self {
            planter_id,
            planted_on,
            crop,
            recommendation_id,
            seeds,
            depth,
            area,
            hours,
            cost,
            note,
        } = self.clone();
        let mut refused = Refused::default();
        let planted_on = refused.take(day(planted_on, today));
        let seeds = seeds.and_then(|given| refused.take(seeds_of(given)));
        let depth = depth.and_then(|given| refused.take(depth_of(given)));
        let area = area.and_then(|given| refused.take(area_of(given)));
        let hours = hours.and_then(|given| refused.take(hours_of(given)));
        let cost = cost.and_then(|given| refused.take(given.parse("/cost")));
        let note = note.and_then(|given| refused.take(text::notes("/note", &given)));
        let Some(planted_on) = planted_on else { return Err(refused.into()) };
        refused.finish()?;
        Ok(New {
            planter_id,
            recommendation_id,
            planted_on,
            crop: domain::conditions::Crop::from(crop).into(),
            entered: Entered { seeds, depth, area },
            hours,
            cost,
            note,
        })
    }
}

impl PlantingPatch {
    /// The only way from the wire to the store. `today` is the last day that is taken.
    pub(super) fn parse(self, today: NaiveDate) -> Result<Change, ApiError> {
        let Self {
            planter_id,
            planted_on,
            crop,
            recommendation_id,
            seeds,
            depth,
            area,
            hours,
            cost,
            note,
        } = self;
        let mut refused = Refused::default();
        let planted_on = planted_on.and_then(|given| refused.take(day(given, today)));
        let seeds = refused.take(seeds.try_map(seeds_of));
        let depth = refused.take(depth.try_map(depth_of));
        let area = refused.take(area.try_map(area_of));
        let hours = refused.take(hours.try_map(hours_of));
        let cost = refused.take(cost.try_map(|given| given.parse("/cost")));
        let note = refused.take(note.try_map(|given| text::notes("/note", &given)));
        let (Some(seeds), Some(depth), Some(area), Some(hours), Some(cost), Some(note)) =
            (seeds, depth, area, hours, cost, note)
        else {
            return Err(refused.into());
        };
        refused.finish()?;
        let crop = crop.map(|crop| domain::conditions::Crop::from(crop).into());
        Ok(Change {
            planter_id,
            planted_on,
            crop,
            recommendation_id,
            seeds,
            depth,
            area,
            hours,
            cost,
            note,
        })
    }
}

fn day(given: NaiveDate, today: NaiveDate) -> Result<NaiveDate, BadMember> {
    if (EARLIEST..=today).contains(&given) {
        return Ok(given);
    }
    let detail = "The day lies in the future, or before 2000.";
    let allowed = format!("{EARLIEST} to {today}");
    Err(BadMember::new("/planted_on", detail).given(given).allowed(allowed))
}

fn seeds_of(given: Quantity) -> Result<Quantity, BadMember> {
    given.parse("/seeds", &bounds::SEED_POPULATION)?;
    Ok(given)
}

fn depth_of(given: Quantity) -> Result<Quantity, BadMember> {
    given.parse("/depth", &bounds::PLANTING_DEPTH)?;
    Ok(given)
}

fn area_of(given: Quantity) -> Result<Quantity, BadMember> {
    given.parse("/area", &bounds::FIELD_AREA)?;
    Ok(given)
}

fn hours_of(given: f64) -> Result<f64, BadMember> {
    if (0.1..=1000.0).contains(&given) {
        return Ok(given);
    }
    let member = BadMember::new("/hours", "The hours are out of range.").given(given);
    Err(member.allowed("0.1 to 1000").why("planting takes minutes at least, and ends in a season"))
}
