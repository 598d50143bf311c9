//! From the wire to the store.

use chrono::NaiveDate;

use super::dto::{YieldIn, YieldPatch};
use super::store::{Change, New};
use super::water::Entered;
use crate::http::{ApiError, BadMember, Refused, text};

/// Earliest day of a harvest that is worth keeping.
const EARLIEST: NaiveDate = match NaiveDate::from_yo_opt(2000, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

impl YieldIn {
    /// The only way from the wire to the store. `today` is the last day that is taken.
    ///
    /// # Errors
    /// All members that are not valid.
    pub fn parse(&self, today: NaiveDate) -> Result<New, Vec<BadMember>> {
        let Self { harvested_on, crop, grain, basis, moisture, area, note } = self.clone();
        let entered = Entered { grain, basis, moisture, area };
        let mut refused = Refused::default();
        let harvested_on = refused.take(day(harvested_on, today));
        let dry = refused.take_all(entered.dry());
        let note = note.and_then(|given| refused.take(text::notes("/note", &given)));
        let bad = refused.into_members();
        match (harvested_on, dry) {
            (Some(harvested_on), Some(dry)) if bad.is_empty() => {
                let crop = domain::conditions::Crop::from(crop).into();
                Ok(New { harvested_on, crop, entered, dry, note })
            }
            _ => Err(bad),
        }
    }
}

impl YieldPatch {
    /// The only way from the wire to the store. `today` is the last day that is taken; numbers are
    /// checked together with those that stay.
    pub(super) fn parse(self, today: NaiveDate) -> Result<Change, ApiError> {
        let Self { harvested_on, crop, grain, basis, moisture, area, note } = self;
        let mut refused = Refused::default();
        let harvested_on = harvested_on.and_then(|given| refused.take(day(given, today)));
        let note = refused.take(note.try_map(|given| text::notes("/note", &given)));
        let Some(note) = note else { return Err(refused.into()) };
        refused.finish()?;
        let crop = crop.map(|crop| domain::conditions::Crop::from(crop).into());
        Ok(Change { harvested_on, crop, grain, basis, moisture, area, note })
    }
}

fn day(given: NaiveDate, today: NaiveDate) -> Result<NaiveDate, BadMember> {
    if (EARLIEST..=today).contains(&given) {
        return Ok(given);
    }
    let detail = "The day lies in the future, or before 2000.";
    let allowed = format!("{EARLIEST} to {today}");
    Err(BadMember::new("/harvested_on", detail).given(given).allowed(allowed))
}
