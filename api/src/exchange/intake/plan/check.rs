//! The values of what is new or changed, checked; all that is wrong with a record is said at once.

use sea_orm::ConnectionTrait;
use serde_json::Value;

use super::area;
use super::known::Known;
use super::land::{self, Whereabouts};
use super::ours::members_of;
use crate::exchange::intake::columns::Member;
use crate::exchange::intake::harvest;
use crate::exchange::intake::incoming::{Incoming, Kind, Said};
use crate::exchange::intake::outcome::PlannedRow;
use crate::exchange::intake::work::{Land, Members};
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::planters::makeup::MOST_ROWS;
use domain::quantity::{Measured, bounds};

/// Checks the records that are still open; refuses those that are not right.
pub(super) async fn values<C: ConnectionTrait>(
    known: &Known<'_, C>,
    rows: &mut [PlannedRow],
    open: &[usize],
) -> Result<(), ApiError> {
    let with_land = open
        .iter()
        .any(|index| rows.get(*index).is_some_and(|row| row.incoming.said.boundary.is_some()));
    let whereabouts =
        if with_land { Whereabouts::read(known).await? } else { Whereabouts::default() };
    for index in open {
        let Some(row) = rows.get_mut(*index) else { continue };
        let mut refused = Refused::default();
        one(row, &whereabouts, &mut refused);
        if row.incoming.kind == Kind::Yield {
            harvest::check(row, known.source.today, &mut refused);
        }
        let bad = refused.into_members();
        if bad.is_empty() {
            row.work.theirs = said(&row.incoming)?;
        } else {
            row.refuse(bad);
        }
    }
    Ok(())
}

fn one(row: &mut PlannedRow, whereabouts: &Whereabouts, refused: &mut Refused) {
    let (kind, is_new) = (row.incoming.kind, row.work.tie.is_none());
    if kind != Kind::Yield {
        name(&mut row.incoming, is_new, refused);
    }
    match kind {
        Kind::Grower => contacts(&mut row.incoming, refused),
        Kind::Field => field(row, whereabouts, refused),
        Kind::Planter => planter(&row.incoming, refused),
        Kind::Farm | Kind::Yield => {}
    }
}

fn name(record: &mut Incoming, is_new: bool, refused: &mut Refused) {
    let at = record.place.of(Member::Name);
    match &record.said.name {
        Some(given) => record.said.name = refused.take(text::name(&at, given)),
        None if is_new => {
            let detail = format!("The {} has no name.", record.kind.word());
            refused.add(BadMember::new(at, detail));
        }
        None => {}
    }
}

fn contacts(record: &mut Incoming, refused: &mut Refused) {
    let Incoming { place, said: Said { phone, email, .. }, .. } = record;
    if let Some(given) = phone {
        *phone = refused.take(text::phone(&place.of(Member::Phone), given));
    }
    if let Some(given) = email {
        *email = refused.take(text::email(&place.of(Member::Email), given));
    }
}

fn field(row: &mut PlannedRow, whereabouts: &Whereabouts, refused: &mut Refused) {
    let Incoming { place, said, .. } = &row.incoming;
    let land = said
        .boundary
        .as_ref()
        .and_then(|given| refused.take(land::measure(place, given, whereabouts)));
    if let Some(area) = &said.area {
        let theirs = land.as_ref().map(|land: &Land| land.area.si());
        let ours = row.ours().and_then(|ours| ours.area_m2);
        // A boundary that is refused says nothing about the area.
        let inside = theirs.or(ours.filter(|_| said.boundary.is_none()));
        refused.take(area::check(&place.of(Member::Area), area, inside));
    }
    row.work.land = land;
}

fn planter(record: &Incoming, refused: &mut Refused) {
    let Incoming { place, said: Said { rows, row_spacing, makeup, .. }, .. } = record;
    if rows.is_some_and(|rows| !(1..=MOST_ROWS).contains(&rows)) {
        let member = BadMember::new(place.of(Member::Rows), "No planter has so many rows.");
        let given = rows.unwrap_or_default();
        refused.add(member.given(given).allowed(format!("1 to {MOST_ROWS}")));
    }
    if let Some(given) = row_spacing {
        refused.take(given.parse(&place.of(Member::RowSpacing), &bounds::ROW_WIDTH));
    }
    if let Some(given) = makeup {
        refused.take_all(given.parse(&place.of(Member::Makeup), None));
    }
}

/// What a record says in the members of its kind. A whole make-up says rows and row spacing too.
fn said(record: &Incoming) -> Result<Members, ApiError> {
    let all = serde_json::to_value(&record.said).map_err(ApiError::internal)?;
    let Value::Object(mut all) = all else {
        return Err(ApiError::internal("a record that says nothing readable"));
    };
    if record.said.makeup.is_some() {
        all.remove(Member::Rows.word());
        all.remove(Member::RowSpacing.word());
    }
    let mut members = Members::new();
    for member in members_of(record.kind) {
        if let Some(value) = all.remove(member.word()) {
            members.insert(member.word().to_owned(), value);
        }
    }
    Ok(members)
}
