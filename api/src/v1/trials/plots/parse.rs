//! From the wire to entries, with all that is wrong at once.

use chrono::{DateTime, Days, NaiveDate, Utc};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, bounds, unit};
use domain::trial::plot_yield::{Harvested, bushels, plot_yield};

use super::dto::{HarvestIn, PlotIn, PlotReadingIn};
use super::entry::ValuesContent;
use super::state::Found;
use crate::http::quantity::{Quantities, six_digits};
use crate::http::{BadMember, Refused, text};
use crate::v1::trials::measured::{BUSHELS, Wanted};
use crate::v1::trials::words::ResponseKind;

/// Longest reason for which a plot is lost.
const REASON_MOST: usize = 120;

/// What was sent, checked.
#[derive(Debug)]
pub(super) struct Sent {
    /// The plot.
    pub plot: u16,
    /// Readings by response.
    pub values: Vec<(String, ValuesContent)>,
    /// The treatment that it got.
    pub planted: Option<u16>,
    /// Why it is lost.
    pub lost: Option<String>,
    /// What else was seen.
    pub note: Option<String>,
    /// Whether it takes the place of what is there.
    pub correction: bool,
}

impl PlotIn {
    /// The only way from the wire to the store.
    pub(super) fn parse(
        &self,
        found: &Found,
        now: DateTime<Utc>,
        k: &Coefficients,
    ) -> Result<Sent, Vec<BadMember>> {
        let mut refused = Refused::default();
        let most = found.layout.plots.len();
        if found.layout.plot(self.plot).is_none() {
            let detail = format!("The trial has no plot {}.", self.plot);
            refused.add(
                BadMember::new("/plot", detail).given(self.plot).allowed(format!("1 to {most}")),
            );
        }
        if let Some(day) = self.observed_on {
            refused.take(day_within("/observed_on", day, now));
        }
        let note = self.note.as_ref().and_then(|it| refused.take(text::notes("/note", it)));
        let lost =
            self.lost.as_ref().and_then(|it| refused.take(text::line("/lost", it, REASON_MOST)));
        let planted = self.as_planted.as_ref().and_then(|it| refused.take(treatment(found, it)));
        let mut values = Vec::new();
        for (place, it) in self.readings.iter().enumerate() {
            let at = format!("/readings/{place}");
            let before = self.readings.iter().take(place);
            if before.clone().any(|other| other.response == it.response) {
                let detail = "A response is given once for a plot; put all values into one list.";
                refused.add(BadMember::new(format!("{at}/response"), detail).given(&it.response));
                continue;
            }
            values.extend(refused.take_all(self.reading(found, it, &at)));
        }
        if let Some(harvest) = &self.harvest {
            values.extend(refused.take_all(self.harvested(found, harvest, k)));
        }
        let nothing = self.readings.is_empty()
            && self.harvest.is_none()
            && self.as_planted.is_none()
            && self.lost.is_none();
        if nothing {
            let detail = "Give at least one of readings, harvest, as_planted and lost.";
            refused.add(BadMember::new("", detail));
        }
        if self.lost.is_some() && !(self.readings.is_empty() && self.harvest.is_none()) {
            let detail = "A plot that is lost gives no readings.";
            refused.add(
                BadMember::new("/lost", detail).why("leave it out, or leave the readings out"),
            );
        }
        let bad = refused.into_members();
        if !bad.is_empty() {
            return Err(bad);
        }
        let (plot, correction) = (self.plot, self.correction);
        Ok(Sent { plot, values, planted, lost, note, correction })
    }

    fn reading(
        &self,
        found: &Found,
        it: &PlotReadingIn,
        at: &str,
    ) -> Result<(String, ValuesContent), Vec<BadMember>> {
        let Some(wanted) = found.response(&it.response) else {
            let words: Vec<&str> = found.wanted.iter().map(|it| it.key.as_str()).collect();
            let member =
                BadMember::new(format!("{at}/response"), "The trial does not measure this.");
            return Err(vec![member.given(&it.response).allowed(words.join(", "))]);
        };
        for (member, many) in [
            ("dig_check_ids", it.dig_check_ids.len()),
            ("stand_count_ids", it.stand_count_ids.len()),
        ] {
            if many > 20 {
                let member = BadMember::new(format!("{at}/{member}"), "These are too many.");
                return Err(vec![member.given(many).allowed("at most 20")]);
            }
        }
        let numbers = wanted.numbers(&format!("{at}/values"), &it.values)?;
        let content = ValuesContent {
            entered: it.values.clone(),
            numbers,
            observed_on: self.observed_on,
            dig_check_ids: it.dig_check_ids.clone(),
            stand_count_ids: it.stand_count_ids.clone(),
            harvest: None,
            steps: Vec::new(),
            note: self.note.clone(),
        };
        Ok((wanted.key.clone(), content))
    }

    fn harvested(
        &self,
        found: &Found,
        given: &HarvestIn,
        k: &Coefficients,
    ) -> Result<(String, ValuesContent), Vec<BadMember>> {
        let Some(wanted) = found.wanted.iter().find(|it| it.kind == ResponseKind::Yield) else {
            return Err(vec![BadMember::new("/harvest", "The trial does not measure yield.")]);
        };
        if found.design.by_rows() {
            let member =
                BadMember::new("/harvest", "Some rows of a pass can't be weighed by wagon.");
            return Err(vec![member.why("a combine takes all rows of the pass at once")]);
        }
        if self.readings.iter().any(|it| it.response == wanted.key) {
            return Err(vec![BadMember::new(
                "/harvest",
                "Give the yield or what was weighed, not both.",
            )]);
        }
        let harvested = given.parse(found)?;
        let (number, steps) = in_unit(&harvested, found, wanted, k);
        let number = six_digits(number);
        let content = ValuesContent {
            entered: Quantities { unit: wanted.unit.clone(), values: vec![number] },
            numbers: vec![number],
            observed_on: self.observed_on,
            dig_check_ids: Vec::new(),
            stand_count_ids: Vec::new(),
            harvest: Some(given.clone()),
            steps,
            note: self.note.clone(),
        };
        Ok((wanted.key.clone(), content))
    }
}

impl HarvestIn {
    fn parse(&self, found: &Found) -> Result<Harvested, Vec<BadMember>> {
        let mut refused = Refused::default();
        let weight = refused.take(self.weight.parse("/harvest/weight", &bounds::PLOT_WEIGHT));
        let moisture =
            refused.take(self.moisture.parse("/harvest/moisture", &bounds::GRAIN_MOISTURE));
        let width = match &self.width {
            Some(given) => refused.take(given.parse("/harvest/width", &bounds::HARVESTED_WIDTH)),
            None => Some(whole_passes(found)),
        };
        let planned = found.design.strip_length.as_ref();
        let length = match self.length.as_ref().or(planned) {
            Some(given) => refused.take(given.parse("/harvest/length", &bounds::STRIP_LENGTH)),
            None => None,
        };
        match (weight, moisture, width, length) {
            (Some(weight), Some(moisture), Some(width), Some(length)) => {
                Ok(Harvested { weight, moisture, width, length })
            }
            _ => Err(refused.into_members()),
        }
    }
}

/// The passes of the harvester that fit between the borders of a plot; all rows between them where
/// nobody said how many it takes.
fn whole_passes(found: &Found) -> Length {
    let left = found.layout.rows_to_look_at;
    let rows = match found.design.harvest_rows.filter(|rows| (1..=left).contains(rows)) {
        Some(rows) => left / rows * rows,
        None => left,
    };
    Length::from_si(f64::from(rows) * found.layout.row_width.si())
}

fn in_unit(
    harvested: &Harvested,
    found: &Found,
    wanted: &Wanted,
    k: &Coefficients,
) -> (f64, Vec<domain::provenance::Step>) {
    let crop = found.design.crop.into();
    let (grain, step) = plot_yield(harvested, crop, k);
    if wanted.unit == BUSHELS {
        let (number, last) = bushels(grain, crop, k);
        return (number, vec![step, last]);
    }
    (unit(&wanted.unit).map_or(0.0, |unit| unit.read(grain)), vec![step])
}

fn treatment(found: &Found, name: &str) -> Result<u16, BadMember> {
    found.design.treatment_place(name).ok_or_else(|| {
        let names: Vec<&str> = found.design.treatments.iter().map(|it| it.name.trim()).collect();
        BadMember::new("/as_planted", "The trial has no such treatment.")
            .given(name)
            .allowed(names.join(", "))
    })
}

fn day_within(pointer: &str, day: NaiveDate, now: DateTime<Utc>) -> Result<(), BadMember> {
    let first = NaiveDate::from_ymd_opt(2000, 1, 1).unwrap_or(NaiveDate::MIN);
    let last = now.date_naive().checked_add_days(Days::new(1)).unwrap_or(NaiveDate::MAX);
    if (first..=last).contains(&day) {
        return Ok(());
    }
    Err(BadMember::new(pointer, "Nobody looked on that day.")
        .given(day)
        .allowed(format!("{first} to {last}")))
}
