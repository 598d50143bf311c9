//! What can't be true of a planter, or of what was found on it before.

use std::collections::BTreeSet;

use domain::planter::inspection::{ItemCode, Measure, NoRate, may_differ, new_size};

use super::dto::FindingIn;
use super::found::{Found, on_rows, read, shown};
use super::shed::{Shed, Visit};
use crate::http::{ApiError, BadMember, Refused, text};
use crate::v1::plain::quantity;
use crate::v1::planters::rows_behind_tyres as rows_of;

/// The findings, row by row, if they can be true of this planter.
pub(super) fn findings(given: &[FindingIn], shed: &Shed) -> Result<Vec<Found>, ApiError> {
    let mut refused = Refused::default();
    let mut seen = BTreeSet::new();
    let mut all = Vec::new();
    for (place, finding) in given.iter().enumerate() {
        if refused.take_all(one(place, finding, shed)).is_none() {
            continue;
        }
        for found in on_rows(place, finding, shed.planter.rows) {
            if !seen.insert((found.item, found.row)) {
                let row = found.row.map_or_else(String::new, |row| format!(" on row {row}"));
                let detail = format!("This item was entered before{row}.");
                let member = BadMember::new(format!("/findings/{place}/item"), detail);
                refused.add(member.given(found.item.code()));
                break;
            }
            all.push(found);
        }
    }
    refused.finish()?;
    Ok(all)
}

fn one(place: usize, finding: &FindingIn, shed: &Shed) -> Result<(), Vec<BadMember>> {
    let at = |member: &str| format!("/findings/{place}/{member}");
    let code = ItemCode::from(finding.item);
    let Some(item) = code.item() else {
        return Err(vec![BadMember::new(at("item"), "There is no such item.")]);
    };
    let mut refused = Refused::default();
    if !item.needs.has(&shed.planter) {
        let detail = format!("The planter has no {}.", item.needs.words());
        refused.add(
            BadMember::new(at("item"), detail)
                .given(code.code())
                .why("the make-up of the planter says what it has"),
        );
    }
    if !item.per_row && !finding.rows.is_empty() {
        refused.add(
            BadMember::new(at("rows"), "The planter has this once, so it has no rows.")
                .given(code.code()),
        );
    } else {
        refused.take_all(rows_of(&at("rows"), &finding.rows, shed.planter.rows));
    }
    if finding.status.is_none() && finding.measured.is_none() {
        refused.add(BadMember::new(
            at("status"),
            "Say how it was found, or what was measured, or leave the item out.",
        ));
    }
    if let Some(notes) = &finding.notes {
        refused.take(text::notes(&at("notes"), notes));
    }
    refused.take(measured(&at("measured"), finding, shed));
    let bad = refused.into_members();
    if bad.is_empty() { Ok(()) } else { Err(bad) }
}

/// A measurement in range, and not above what the part measured when new.
fn measured(pointer: &str, finding: &FindingIn, shed: &Shed) -> Result<(), BadMember> {
    let code = ItemCode::from(finding.item);
    let Some(given) = &finding.measured else {
        return Ok(());
    };
    let Some(measure) = code.item().and_then(|item| item.measure) else {
        return Err(BadMember::new(pointer, "This item has no measure.")
            .given(quantity(given))
            .allowed("a status"));
    };
    let value = read(&measure, given, pointer)?;
    match new_size(code, &shed.planter, &shed.owner) {
        Some(new) if matches!(measure, Measure::Wear(_)) && value > new + 1e-9 => {
            let new = quantity(&shown(&measure, new, domain::quantity::System::Us));
            Err(BadMember::new(pointer, "This is more than the part measured when new.")
                .given(quantity(given))
                .allowed(format!("at most {new}"))
                .why("a part does not grow"))
        }
        _ => Ok(()),
    }
}

/// Against the inspection before: a part that became better than readings may differ was replaced,
/// which somebody must have recorded; a counter does not run back.
pub(super) fn against_before(new: &Visit, shed: &Shed) -> Result<(), ApiError> {
    let mut refused = Refused::default();
    let before = || shed.visits.iter().rev().filter(|visit| visit.on <= new.on);
    for found in &new.found {
        let earlier = before().find_map(|visit| Some((visit, visit.value(found.item, found.row)?)));
        if let Some((visit, value)) = earlier {
            refused.take(not_better(found, value, (visit, new), shed));
        }
    }
    let last = before().find_map(|visit| visit.counter);
    if let Some((last, counter)) = last.zip(new.counter)
        && counter < last
    {
        refused.add(
            BadMember::new(
                "/area_counter",
                "The counter shows less than at the inspection before.",
            )
            .why("a counter does not run back; leave it out where it was renewed"),
        );
    }
    refused.finish()
}

fn not_better(
    found: &Found,
    before: f64,
    (earlier, new): (&Visit, &Visit),
    shed: &Shed,
) -> Result<(), BadMember> {
    let Some((value, measure)) = found.value.zip(found.item.item().and_then(|it| it.measure))
    else {
        return Ok(());
    };
    let Some(wear) =
        super::shed::worn(found.item, value).zip(super::shed::worn(found.item, before))
    else {
        return Ok(());
    };
    let (worn, earlier_worn) = wear;
    let sd = shed.reading_sd(found.item);
    let mended = shed.mended(found.item, found.row, (earlier.on, new.on));
    if mended || worn >= earlier_worn - may_differ(sd, sd) - 1e-9 {
        return Ok(());
    }
    let us = domain::quantity::System::Us;
    let row = found.row.map_or_else(String::new, |row| format!(" on row {row}"));
    let before = quantity(&shown(&measure, before, us));
    Err(BadMember::new(found.pointer(), format!("Not worn but better{row}: {}.", NoRate::Grew))
        .given(quantity(&shown(&measure, value, us)))
        .allowed(format!("about {before}, as on {}, or more worn", earlier.on))
        .why("record what was replaced at POST /v1/planters/{id}/repairs first"))
}
