//! From a record of theirs to a record of the intake.

use std::sync::Arc;

use chrono::{DateTime, NaiveDate, Utc};
use serde_json::Value;

use super::profile::{BoundaryForm, Resource};
use super::wkt_text;
use crate::exchange::intake::{Columns, Incoming, Member, Parent, Place};
use crate::exchange::{crops, geometry};
use crate::http::BadMember;
use crate::http::quantity::Quantity;
use crate::v1::conditions::Crop;
use crate::v1::fields::Boundary;

/// Reads the records of a resource.
#[derive(Debug)]
pub struct Reader<'a> {
    resource: &'a Resource,
    columns: Arc<Columns>,
}

impl<'a> Reader<'a> {
    /// Of this resource.
    pub fn of(resource: &'a Resource) -> Self {
        let members = resource.members.iter();
        let columns = members.map(|(member, pointer)| (*member, pointer.as_str().to_owned()));
        Self { resource, columns: Arc::new(columns.collect()) }
    }

    /// Reads a record; `place` says where it stands. What can't be read is noted in it.
    pub fn read(&self, place: String, record: &Value) -> Incoming {
        let mut incoming = Incoming::new(self.resource.kind, Place::new(place, &self.columns));
        if !record.is_object() {
            let member = BadMember::new(incoming.place.record(), "The record is no JSON object.");
            incoming.unread.push(member);
            return incoming;
        }
        for (member, pointer) in &self.resource.members {
            let Some(value) = pointer.find(record) else { continue };
            if let Err(why) = self.take(&mut incoming, *member, value) {
                let bad = BadMember::new(incoming.place.of(*member), why).given(shortly(value));
                incoming.unread.push(bad);
            }
        }
        incoming
    }

    fn take(&self, into: &mut Incoming, member: Member, value: &Value) -> Result<(), String> {
        let said = &mut into.said;
        match member {
            Member::Id => into.their_id = Some(id(value)?),
            Member::Version => into.their_version = Some(id(value)?),
            Member::UpdatedAt => into.updated_at = Some(time(value)?),
            Member::Parent => said.parent = Some(Parent::Theirs(id(value)?)),
            Member::Name => said.name = text(value)?,
            Member::Phone => said.phone = text(value)?,
            Member::Email => said.email = text(value)?,
            Member::Boundary => said.boundary = Some(self.boundary(value)?),
            Member::Rows => said.rows = Some(count(value)?),
            Member::HarvestedOn => said.harvested_on = Some(day(value)?),
            Member::Crop => said.crop = Some(crop(value)?),
            Member::Note => said.note = text(value)?,
            Member::Area => said.area = self.quantity(member, value)?,
            Member::RowSpacing => said.row_spacing = self.quantity(member, value)?,
            Member::Grain => {
                said.grain = self.quantity(member, value)?;
                said.basis = self.resource.basis;
            }
            Member::Moisture => said.moisture = self.quantity(member, value)?,
            Member::HarvestedArea => said.harvested_area = self.quantity(member, value)?,
            Member::OurParent | Member::Makeup | Member::Basis => {
                return Err("This is not fetched.".to_owned());
            }
        }
        Ok(())
    }

    /// A number in the unit of the profile.
    fn quantity(&self, member: Member, value: &Value) -> Result<Option<Quantity>, String> {
        let unit = self.resource.unit_of(member).ok_or("The profile has no unit for this.")?;
        Ok(number(value)?.map(|number| Quantity::new(number, unit)))
    }

    fn boundary(&self, value: &Value) -> Result<Boundary, String> {
        match (self.resource.boundary_in, value) {
            (BoundaryForm::Wkt, Value::String(text)) => wkt_text::boundary(text),
            (BoundaryForm::Wkt, _) => Err("This is no text.".to_owned()),
            (BoundaryForm::GeoJson, value) => geometry(value),
        }
    }
}

/// A GeoJSON geometry.
fn geometry(value: &Value) -> Result<Boundary, String> {
    geometry::boundary("", value).map_err(|bad| match bad.pointer.as_str() {
        "" => bad.detail,
        within => format!("{within}: {}", bad.detail),
    })
}

/// An id: a text, or a whole number, which is then a text.
fn id(value: &Value) -> Result<String, String> {
    match value {
        Value::String(text) => Ok(text.clone()),
        Value::Number(number) if number.is_i64() || number.is_u64() => Ok(number.to_string()),
        _ => Err("An id is a text or a whole number of at most 19 digits.".to_owned()),
    }
}

/// A text; an empty one says nothing.
fn text(value: &Value) -> Result<Option<String>, String> {
    match value {
        Value::String(text) => Ok(Some(text.trim().to_owned()).filter(|text| !text.is_empty())),
        Value::Number(number) => Ok(Some(number.to_string())),
        _ => Err("This is no text.".to_owned()),
    }
}

/// A number, or a text that is one with a decimal point; an empty text says nothing.
fn number(value: &Value) -> Result<Option<f64>, String> {
    match value {
        Value::Number(number) => Ok(number.as_f64()),
        Value::String(text) if text.trim().is_empty() => Ok(None),
        Value::String(text) => {
            let text = text.trim();
            let plain = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '-' | '+');
            let read = text.parse().ok().filter(|_| text.chars().all(plain));
            read.map(Some).ok_or_else(|| "This is no number with a decimal point.".to_owned())
        }
        _ => Err("This is no number.".to_owned()),
    }
}

fn count(value: &Value) -> Result<u16, String> {
    let whole = match value {
        Value::Number(number) => number.as_u64().and_then(|number| u16::try_from(number).ok()),
        Value::String(text) => text.trim().parse().ok(),
        _ => None,
    };
    whole.ok_or_else(|| "This is no whole number.".to_owned())
}

fn crop(value: &Value) -> Result<Crop, String> {
    let crop = value.as_str().and_then(crops::crop);
    crop.ok_or_else(|| format!("This crop is not known here. What is: {}.", crops::ALLOWED))
}

/// A day, or a time that begins with one (RFC 3339): the day as it is written there.
fn day(value: &Value) -> Result<NaiveDate, String> {
    let no = || "This is no day, as 2027-10-04.".to_owned();
    let text = value.as_str().map(str::trim).ok_or_else(no)?;
    if let Ok(day) = text.parse() {
        return Ok(day);
    }
    DateTime::parse_from_rfc3339(text).map(|time| time.date_naive()).map_err(|_bad| no())
}

fn time(value: &Value) -> Result<DateTime<Utc>, String> {
    let text = value.as_str().map(str::trim).unwrap_or_default();
    let time = DateTime::parse_from_rfc3339(text);
    time.map(|time| time.to_utc()).map_err(|_bad| "This is no time of RFC 3339.".to_owned())
}

/// The beginning of a value, for people.
fn shortly(value: &Value) -> String {
    match value {
        Value::Array(list) => format!("a list of {}", list.len()),
        Value::Object(members) => format!("an object of {} members", members.len()),
        plain => plain.to_string(),
    }
}
