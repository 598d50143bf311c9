//! The first look at all records: ids, what could not be read, what came twice.

use std::collections::HashMap;

use crate::exchange::intake::columns::Member;
use crate::exchange::intake::incoming::{Incoming, Kind, Parent};
use crate::exchange::intake::outcome::{Outcome, PlannedRow};
use crate::exchange::intake::system;
use crate::http::{ApiError, BadMember};
use crate::v1::fingerprint;

/// Most places that are named where one id comes again and again: each of them is told.
const MOST_PLACES: usize = 5;

/// Each record with what can be said of it at once.
pub(super) fn rows(incoming: Vec<Incoming>) -> Result<Vec<PlannedRow>, ApiError> {
    let mut rows = Vec::with_capacity(incoming.len());
    for record in incoming {
        let hash = fingerprint::of(&record.said)?;
        rows.push(PlannedRow::begin(record, hash));
    }
    refuse_unreadable(&mut rows);
    find_repeated(&mut rows);
    Ok(rows)
}

fn refuse_unreadable(rows: &mut [PlannedRow]) {
    for row in rows {
        let mut bad = row.incoming.unread.clone();
        let place = row.incoming.place.of(Member::Id);
        match &row.incoming.their_id {
            Some(id) => bad.extend(system::their_id(&place, id).err()),
            None => bad.push(
                BadMember::new(place, "The record has no id.")
                    .why("without its id it could not be known again"),
            ),
        }
        if let Some(Parent::Theirs(id)) = &row.incoming.said.parent {
            bad.extend(system::their_id(&row.incoming.place.of(Member::Parent), id).err());
        }
        if !bad.is_empty() {
            row.refuse(bad);
        }
    }
}

/// A page that comes twice does no harm; two records under one id that say different things are
/// refused both, since nobody knows which holds.
fn find_repeated(rows: &mut [PlannedRow]) {
    let mut by_id: HashMap<(Kind, String), Vec<usize>> = HashMap::new();
    for (index, row) in rows.iter().enumerate() {
        if let Some(id) = &row.incoming.their_id {
            by_id.entry((row.incoming.kind, id.clone())).or_default().push(index);
        }
    }
    for ((kind, id), same) in by_id.into_iter().filter(|(_, same)| same.len() > 1) {
        let of = |index: &usize| rows.get(*index);
        let mut hashes = same.iter().filter_map(of).map(|row| (&row.work.hash, row.work.open));
        let first = hashes.next();
        if hashes.all(|next| Some(next) == first) {
            for index in same.iter().skip(1) {
                if let Some(row) = rows.get_mut(*index).filter(|row| row.work.open) {
                    row.work.repeats = true;
                    row.settle(Outcome::Unchanged);
                }
            }
        } else {
            refuse_all(rows, &same, &format!("The {} {id:?}", kind.word()));
        }
    }
}

fn refuse_all(rows: &mut [PlannedRow], same: &[usize], what: &str) {
    let places: Vec<String> = same
        .iter()
        .take(MOST_PLACES)
        .filter_map(|index| rows.get(*index))
        .map(|row| row.incoming.place.record().to_owned())
        .collect();
    let more = match same.len().saturating_sub(MOST_PLACES) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    let places = places.join("; ") + &more;
    for index in same {
        if let Some(row) = rows.get_mut(*index).filter(|row| row.work.open) {
            let detail =
                format!("{what} comes more than once and says different things: {places}.");
            row.refuse_member(Member::Id, detail);
        }
    }
}
