//! Yields: what a record says, as the yields of the API take it.

use chrono::NaiveDate;

use super::columns::{Member, Place};
use super::incoming::Said;
use super::outcome::PlannedRow;
use super::work::Members;
use crate::http::{BadMember, Patch, Refused};
use crate::v1::yields::dto::YieldIn;
use crate::v1::yields::store::Change;

/// Checks a yield as a whole: what it says, and what we have where it says nothing.
pub(super) fn check(row: &PlannedRow, today: NaiveDate, refused: &mut Refused) {
    let there = row.ours().map(|ours| &ours.members);
    match whole(&row.incoming.said, there, &row.incoming.place) {
        Ok(given) => {
            let parsed = given.parse(today).map_err(|bad| {
                bad.into_iter().map(|bad| placed(bad, &row.incoming.place)).collect()
            });
            refused.take_all(parsed);
        }
        Err(bad) => bad.into_iter().for_each(|bad| refused.add(bad)),
    }
}

/// The yield as it would be.
///
/// # Errors
/// The members that are missing.
pub(super) fn whole(
    said: &Said,
    there: Option<&Members>,
    place: &Place,
) -> Result<YieldIn, Vec<BadMember>> {
    let mut refused = Refused::default();
    let kept = Kept(there);
    let needed = |member: Member, what: &str| {
        BadMember::new(place.of(member), format!("The record does not say {what}."))
    };
    let harvested_on = said.harvested_on.or_else(|| kept.read(Member::HarvestedOn));
    let harvested_on = refused
        .take(harvested_on.ok_or_else(|| needed(Member::HarvestedOn, "when it was harvested")));
    let crop = said.crop.or_else(|| kept.read(Member::Crop));
    let crop = refused.take(crop.ok_or_else(|| needed(Member::Crop, "of which crop it is")));
    let grain = said.grain.clone().or_else(|| kept.read(Member::Grain));
    let grain = refused.take(grain.ok_or_else(|| needed(Member::Grain, "how much there was")));
    let basis = said.basis.or_else(|| kept.read(Member::Basis));
    let basis = refused
        .take(basis.ok_or_else(|| needed(Member::Basis, "whether the grain is dry matter or wet")));
    match (harvested_on, crop, grain, basis) {
        (Some(harvested_on), Some(crop), Some(grain), Some(basis)) => Ok(YieldIn {
            harvested_on,
            crop,
            grain,
            basis,
            moisture: said.moisture.clone().or_else(|| kept.read(Member::Moisture)),
            area: said.harvested_area.clone().or_else(|| kept.read(Member::HarvestedArea)),
            note: said.note.clone().or_else(|| kept.read(Member::Note)),
        }),
        _ => Err(refused.into_members()),
    }
}

/// What we have already.
struct Kept<'a>(Option<&'a Members>);

impl Kept<'_> {
    fn read<T: serde::de::DeserializeOwned>(&self, member: Member) -> Option<T> {
        let value = self.0?.get(member.word())?.clone();
        serde_json::from_value(value).ok()
    }
}

/// A member of a yield, named where it stands in the record.
fn placed(bad: BadMember, place: &Place) -> BadMember {
    let member = match bad.pointer.as_str() {
        "/harvested_on" => Member::HarvestedOn,
        "/crop" => Member::Crop,
        "/basis" => Member::Basis,
        "/moisture" => Member::Moisture,
        "/area" => Member::HarvestedArea,
        "/note" => Member::Note,
        _ => Member::Grain,
    };
    BadMember { pointer: place.of(member), ..bad }
}

/// The change of a yield in these members.
pub(super) fn change(said: &Said, members: &[Member]) -> Change {
    let takes = |member: Member| members.contains(&member);
    let crop = said.crop.filter(|_| takes(Member::Crop));
    Change {
        harvested_on: said.harvested_on.filter(|_| takes(Member::HarvestedOn)),
        crop: crop.map(|crop| domain::conditions::Crop::from(crop).into()),
        grain: said.grain.clone().filter(|_| takes(Member::Grain)),
        basis: said.basis.filter(|_| takes(Member::Basis)),
        moisture: patch(said.moisture.clone().filter(|_| takes(Member::Moisture))),
        area: patch(said.harvested_area.clone().filter(|_| takes(Member::HarvestedArea))),
        note: patch(said.note.clone().filter(|_| takes(Member::Note))),
    }
}

fn patch<T>(value: Option<T>) -> Patch<T> {
    value.map_or(Patch::Absent, Patch::Value)
}
