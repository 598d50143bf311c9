//! Lines and features to records.

use std::collections::BTreeMap;
use std::sync::Arc;

use domain::provenance::Coefficients;
use serde_json::Value;

use super::cell;
use super::columns::{self, Column, Decimal, Takes};
use super::table::{Line, Table};
use crate::exchange::geometry;
use crate::exchange::intake::{Columns, Incoming, Kind, Member, Parent, Place};
use crate::http::quantity::Quantity;
use crate::http::strict::reader;
use crate::http::{ApiError, BadMember};
use crate::v1::conditions::Crop;
use crate::v1::yields::dto::GrainBasis;

/// What a file says.
#[derive(Debug, Default)]
pub struct Records {
    /// Its records.
    pub incoming: Vec<Incoming>,
    /// Columns or properties that say nothing here.
    pub ignored: Vec<String>,
}

/// Most names of columns that are said back.
pub(super) const MOST_IGNORED: usize = 100;

/// The records of a table.
///
/// # Errors
/// When the header says too little, or something twice. A line that can't be read is a record with
/// reasons in `unread`.
pub fn of_table(kind: Kind, table: &Table, decimal: Decimal) -> Result<Records, ApiError> {
    let header = Header::of(kind, &table.header)?;
    let incoming = table.lines.iter().map(|line| header.record(kind, line, decimal)).collect();
    Ok(Records { incoming, ignored: header.ignored })
}

struct Header {
    known: Vec<(usize, &'static Column)>,
    places: Arc<Columns>,
    ignored: Vec<String>,
    width: usize,
}

impl Header {
    fn of(kind: Kind, names: &[String]) -> Result<Self, Vec<BadMember>> {
        let (mut known, mut ignored, mut bad) = (Vec::new(), Vec::new(), Vec::new());
        let mut said: BTreeMap<Member, usize> = BTreeMap::new();
        for (at, name) in names.iter().enumerate() {
            let Some(column) = columns::named(kind, name) else {
                if ignored.len() < MOST_IGNORED && !name.is_empty() {
                    ignored.push(name.chars().take(100).collect());
                }
                continue;
            };
            if let Some(first) = said.insert(column.member, at) {
                let other = names.get(first).map(String::as_str).unwrap_or_default();
                let detail = format!("`{name}` says the same as `{other}`: give one of them.");
                bad.push(BadMember::new(format!("#cell=1,{}", at + 1), detail));
            }
            known.push((at, column));
        }
        if !said.contains_key(&Member::Id) {
            let detail =
                "The header names no column `id`: without your id a record can't be known again.";
            bad.push(
                BadMember::new("#line=1", detail)
                    .given(names.join(", "))
                    .allowed(columns::names(kind)),
            );
        }
        let places = known.iter().map(|(at, column)| {
            let name = names.get(*at).map(String::as_str).unwrap_or_default();
            (column.member, format!(", column {name:?}"))
        });
        let mut places: BTreeMap<Member, String> = places.collect();
        // Which of wet and dry it is, and whose id, stands in the name of the column.
        for (named, also) in [(Member::Grain, Member::Basis), (Member::Parent, Member::OurParent)] {
            if let Some(place) = places.get(&named).cloned() {
                places.insert(also, place);
            }
        }
        let places = Arc::new(places.into_iter().collect());
        if bad.is_empty() {
            Ok(Self { known, places, ignored, width: names.len() })
        } else {
            Err(bad)
        }
    }

    fn record(&self, kind: Kind, line: &Line, decimal: Decimal) -> Incoming {
        let mut record =
            Incoming::new(kind, Place::new(format!("line {}", line.number), &self.places));
        // Spreadsheets leave out, or add, empty cells at the end.
        let more = line.cells.get(self.width..).unwrap_or_default();
        if line.cells.len() < self.width || more.iter().any(|cell| !cell.is_empty()) {
            let detail =
                format!("The line has {} cells, the header {}.", line.cells.len(), self.width);
            record.unread.push(BadMember::new(record.place.record(), detail).why(
                "a separator inside of a text moves what comes after it: put the text in quotes",
            ));
            return record;
        }
        let cells = self.known.iter().filter_map(|(at, column)| {
            let text = line.cells.get(*at).map(String::as_str).filter(|text| !text.is_empty())?;
            Some((*column, text))
        });
        fill(&mut record, cells.collect(), decimal);
        record
    }
}

/// Takes what a record says, by column.
pub(super) fn fill(record: &mut Incoming, cells: Vec<(&'static Column, &str)>, decimal: Decimal) {
    let crop = cells.iter().find(|(column, _)| column.member == Member::Crop);
    let crop = crop.and_then(|(_, text)| cell::crop("", text).ok());
    for (column, text) in cells {
        let at = record.place.of(column.member);
        if let Err(bad) = take(record, column, (&at, text), crop, decimal) {
            record.unread.push(bad);
        }
    }
}

fn take(
    record: &mut Incoming,
    column: &Column,
    (at, text): (&str, &str),
    crop: Option<Crop>,
    decimal: Decimal,
) -> Result<(), BadMember> {
    let said = &mut record.said;
    match column.takes {
        Takes::TheirParent => said.parent = Some(Parent::Theirs(text.to_owned())),
        Takes::NamedParent => said.parent = Some(Parent::Named(text.to_owned())),
        Takes::OurParent => {
            let id = text.parse().map_err(|_no_id| {
                BadMember::new(at, "This is none of our ids.").given(text.escape_debug())
            })?;
            said.parent = Some(Parent::Ours(id));
        }
        Takes::Number(code) => {
            let value = Quantity::new(cell::number(at, text, decimal)?, code);
            quantity(record, column.member, value);
        }
        Takes::Wet(code) => {
            said.grain = Some(Quantity::new(cell::number(at, text, decimal)?, code));
            said.basis = Some(GrainBasis::AtMoisture);
        }
        Takes::Bushels => {
            let pounds = cell::number(at, text, decimal)? * pounds_of_a_bushel(at, crop)?;
            said.grain = Some(Quantity::new(pounds, "[lb_av]/[acr_us]"));
            said.basis = Some(GrainBasis::AtMoisture);
        }
        Takes::Dry(code) => {
            said.grain = Some(Quantity::new(cell::number(at, text, decimal)?, code));
            said.basis = Some(GrainBasis::Dry);
        }
        Takes::Crop => said.crop = Some(cell::crop(at, text)?),
        Takes::Whole => said.rows = Some(cell::whole(at, text)?),
        Takes::Day => said.harvested_on = Some(cell::day(at, text)?),
        Takes::Time => record.updated_at = Some(cell::time(at, text)?),
        Takes::Geometry => {
            let geometry: Value = reader::parse(text.as_bytes())
                .map_err(|_no_json| BadMember::new(at, "This is no GeoJSON geometry."))?;
            said.boundary = match geometry {
                Value::Null => None,
                geometry => Some(geometry::boundary(at, &geometry)?),
            };
        }
        Takes::Text => self::text(record, column.member, text.to_owned()),
    }
    Ok(())
}

fn text(record: &mut Incoming, member: Member, text: String) {
    let said = &mut record.said;
    match member {
        Member::Id => record.their_id = Some(text),
        Member::Version => record.their_version = Some(text),
        Member::Name => said.name = Some(text),
        Member::Phone => said.phone = Some(text),
        Member::Email => said.email = Some(text),
        Member::Note => said.note = Some(text),
        _ => {}
    }
}

fn quantity(record: &mut Incoming, member: Member, value: Quantity) {
    let said = &mut record.said;
    match member {
        Member::Area => said.area = Some(value),
        Member::RowSpacing => said.row_spacing = Some(value),
        Member::Moisture => said.moisture = Some(value),
        Member::HarvestedArea => said.harvested_area = Some(value),
        _ => {}
    }
}

/// A traded bushel is a weight of grain.
fn pounds_of_a_bushel(at: &str, crop: Option<Crop>) -> Result<f64, BadMember> {
    let k = &Coefficients::STANDARD;
    match crop {
        Some(Crop::Corn) => Ok(k.seed_density_corn.value),
        Some(Crop::Soybean) => Ok(k.seed_density_soybean.value),
        None => Err(BadMember::new(at, "What a bushel weighs depends on the crop.").allowed(
            "the crop `corn` or `soybean` on the same line, or a yield in lb_ac, kg_ha or t_ha",
        )),
    }
}
