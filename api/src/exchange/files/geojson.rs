//! A GeoJSON `FeatureCollection` (RFC 7946) of fields to records.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde_json::{Map, Value};

use super::columns::{self, Column, Decimal};
use super::record::{MOST_IGNORED, Records, fill};
use crate::exchange::geometry;
use crate::exchange::intake::{Columns, Incoming, Kind, Member, Place};
use crate::http::{ApiError, BadMember};

/// Names of WGS 84 with the longitude first, as older files have them in `crs`.
const LONGITUDE_FIRST: &[&str] =
    &["urn:ogc:def:crs:OGC:1.3:CRS84", "urn:ogc:def:crs:OGC::CRS84", "OGC:CRS84"];

/// The fields of a collection.
///
/// # Errors
/// When it is no `FeatureCollection`, has more than `most` features, or is not in longitude and latitude
/// on WGS 84. A feature that can't be read is a record with reasons in `unread`.
pub fn fields(document: &Value, most: usize) -> Result<Records, ApiError> {
    let whole = collection(document)?;
    check_reference(whole.get("crs"))?;
    let Some(Value::Array(features)) = whole.get("features") else {
        return Err(BadMember::new("/features", "The collection has no list of features.").into());
    };
    if features.len() > most {
        let bad = BadMember::new("/features", "The collection is too large: send it in parts.");
        return Err(bad.given(features.len()).allowed(format!("at most {most} features")).into());
    }
    let places = Arc::new(places());
    let mut ignored = BTreeSet::new();
    let incoming = features
        .iter()
        .enumerate()
        .map(|(at, feature)| {
            let place = Place::new(format!("/features/{at}"), &places);
            field(place, feature, &mut ignored)
        })
        .collect();
    Ok(Records { incoming, ignored: ignored.into_iter().take(MOST_IGNORED).collect() })
}

fn collection(document: &Value) -> Result<&Map<String, Value>, BadMember> {
    let named = document.get("type").and_then(Value::as_str).unwrap_or_default();
    match document {
        Value::Object(members) if named == "FeatureCollection" => Ok(members),
        _ => Err(BadMember::new("/type", "This is no GeoJSON FeatureCollection.")
            .given(named.escape_debug())
            .allowed("FeatureCollection, with the fields as its features")),
    }
}

/// RFC 7946 knows one reference system. Older files name theirs.
fn check_reference(crs: Option<&Value>) -> Result<(), BadMember> {
    let Some(crs) = crs.filter(|crs| !crs.is_null()) else { return Ok(()) };
    let name = crs.pointer("/properties/name").and_then(Value::as_str).unwrap_or_default();
    if LONGITUDE_FIRST.contains(&name) {
        return Ok(());
    }
    Err(BadMember::new("/crs", "The file is in another reference system than GeoJSON has.")
        .given(name.escape_debug())
        .allowed("no `crs`, or urn:ogc:def:crs:OGC:1.3:CRS84: WGS 84, longitude first")
        .why("other systems have other numbers or another order, and nothing is turned round on a guess"))
}

/// Where each member of a feature stands.
fn places() -> Columns {
    let properties = columns::COLUMNS.iter().filter(|column| column.kinds.contains(&Kind::Field));
    // Which of several names a feature uses is not known here; the first stands for all.
    let mut named: std::collections::BTreeMap<Member, String> = std::collections::BTreeMap::new();
    for column in properties {
        named.entry(column.member).or_insert_with(|| format!("/properties/{}", column.name));
    }
    named.insert(Member::Boundary, "/geometry".to_owned());
    named.insert(Member::Id, "/id".to_owned());
    named.insert(Member::OurParent, "/properties/our_farm_id".to_owned());
    named.into_iter().collect()
}

fn field(place: Place, feature: &Value, ignored: &mut BTreeSet<String>) -> Incoming {
    let mut record = Incoming::new(Kind::Field, place);
    let at = record.place.record().to_owned();
    if feature.get("type").and_then(Value::as_str) != Some("Feature") {
        let bad = BadMember::new(format!("{at}/type"), "This is no feature.");
        record.unread.push(bad.allowed("Feature"));
        return record;
    }
    let shape = feature.get("geometry").filter(|shape| !shape.is_null());
    let at_shape = record.place.of(Member::Boundary);
    match shape.map(|shape| geometry::boundary(&at_shape, shape)).transpose() {
        Ok(boundary) => record.said.boundary = boundary,
        Err(bad) => record.unread.push(bad),
    }
    let none = Map::new();
    let properties = match feature.get("properties") {
        Some(Value::Object(properties)) => properties,
        None | Some(Value::Null) => &none,
        Some(_) => {
            record.unread.push(BadMember::new(format!("{at}/properties"), "This is no object."));
            &none
        }
    };
    let (texts, bad) = said(&at, feature.get("id"), properties, ignored);
    record.unread.extend(bad);
    let cells = texts.iter().map(|(column, text)| (*column, text.as_str())).collect();
    fill(&mut record, cells, Decimal::Point);
    record
}

type Said = (Vec<(&'static Column, String)>, Vec<BadMember>);

/// What the properties of a feature and its id say, as a line of a CSV file would.
fn said(
    at: &str,
    id: Option<&Value>,
    properties: &Map<String, Value>,
    ignored: &mut BTreeSet<String>,
) -> Said {
    let (mut texts, mut bad) = (Vec::new(), Vec::new());
    let mut members: BTreeSet<Member> = BTreeSet::new();
    let own = id.map(|id| ("id", "/id".to_owned(), id));
    let all = own
        .into_iter()
        .chain(properties.iter().map(|(name, value)| (name.as_str(), pointer(name), value)));
    for (name, pointer, value) in all {
        let known = columns::named(Kind::Field, name).filter(|it| it.name == name);
        let Some(column) = known.filter(|it| it.member != Member::Boundary) else {
            if ignored.len() < MOST_IGNORED {
                ignored.insert(name.chars().take(100).collect());
            }
            continue;
        };
        let text = match value {
            Value::Null => continue,
            Value::String(text) if text.trim().is_empty() => continue,
            Value::String(text) => text.trim().to_owned(),
            Value::Number(number) => number.to_string(),
            _ => {
                bad.push(BadMember::new(
                    format!("{at}{pointer}"),
                    "This is no text and no number.",
                ));
                continue;
            }
        };
        let again = texts.iter().any(|(there, said): &(&Column, String)| {
            there.member == column.member && *said == text
        });
        if members.insert(column.member) {
            texts.push((column, text));
        } else if !again {
            let detail = format!("`{name}` says again, and otherwise, what was said before.");
            bad.push(BadMember::new(format!("{at}{pointer}"), detail).given(text));
        }
    }
    (texts, bad)
}

/// The JSON Pointer (RFC 6901) of a property.
fn pointer(name: &str) -> String {
    format!("/properties/{}", name.replace('~', "~0").replace('/', "~1"))
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::fields;
    use crate::exchange::intake::Parent;

    fn square() -> Value {
        json!({"type": "Polygon", "bbox": [0, 0, 1, 1], "coordinates": [[
            [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]]]})
    }

    fn one(feature: &Value) -> Value {
        json!({"type": "FeatureCollection", "features": [feature]})
    }

    #[test]
    fn a_feature_is_a_field() {
        let feature = json!({"type": "Feature", "id": 12, "geometry": square(), "properties": {
            "name": "North forty", "farm_id": "FARM-1", "area_ac": 227.5, "soil": "deep"}});
        let mut found = fields(&one(&feature), 10).expect("read");
        assert_eq!(found.ignored, ["soil"]);
        let field = found.incoming.pop().expect("a field");
        assert_eq!(field.unread, []);
        assert_eq!(field.their_id.as_deref(), Some("12"));
        assert_eq!(field.said.name.as_deref(), Some("North forty"));
        assert_eq!(field.said.parent, Some(Parent::Theirs("FARM-1".to_owned())));
        assert!(field.said.boundary.is_some());
        assert_eq!(field.place.record(), "/features/0");
    }

    #[test]
    fn a_feature_that_can_not_be_read_says_where() {
        let line = json!({"type": "LineString", "coordinates": [[0, 0], [1, 1]]});
        for (feature, pointer) in [
            (
                json!({"type": "Feature", "geometry": line, "properties": {}}),
                "/features/0/geometry",
            ),
            (json!({"type": "Thing"}), "/features/0/type"),
            (json!({"type": "Feature", "properties": 7}), "/features/0/properties"),
            (
                json!({"type": "Feature", "properties": {"name": ["a"]}}),
                "/features/0/properties/name",
            ),
            (
                json!({"type": "Feature", "id": "a", "properties": {"id": "b"}}),
                "/features/0/properties/id",
            ),
        ] {
            let found = fields(&one(&feature), 10).expect("read");
            let unread = &found.incoming[0].unread;
            assert_eq!(unread.first().map(|it| it.pointer.as_str()), Some(pointer), "{feature}");
        }
    }

    #[test]
    fn what_is_no_collection_in_degrees_is_refused_as_a_whole() {
        let crs = |name: &str| {
            json!({"type": "FeatureCollection", "features": [],
                "crs": {"type": "name", "properties": {"name": name}}})
        };
        assert!(fields(&crs("urn:ogc:def:crs:OGC:1.3:CRS84"), 10).is_ok());
        for (document, pointer) in [
            (crs("urn:ogc:def:crs:EPSG::26915"), "/crs"),
            (crs("urn:ogc:def:crs:EPSG::4326"), "/crs"),
            (json!({"type": "Feature"}), "/type"),
            (json!([]), "/type"),
            (json!({"type": "FeatureCollection"}), "/features"),
            (json!({"type": "FeatureCollection", "features": [1, 2]}), "/features"),
        ] {
            let error = fields(&document, 1).expect_err("refused");
            assert_eq!(error.members()[0].pointer, pointer, "{document}");
        }
    }
}
