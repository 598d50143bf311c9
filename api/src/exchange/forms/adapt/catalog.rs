//! What documents refer to.

use serde_json::{Map, Value, json};

use domain::conditions::Crop;
use domain::quantity::Measured;

use super::definitions::ten_digits;
use super::ids;
use crate::entities::{farms, fields, growers, planters, practices};
use crate::exchange::forms::external::ExternalIds;
use crate::exchange::forms::rings::{Ring, corner, pieces};
use crate::exchange::forms::settings::LiquidKind;
use crate::http::ApiError;
use crate::v1::fields::store::area_of;
use crate::v1::practice::SeasonCalendar;

/// A crop in a field in a season.
pub(super) type Zone = (uuid::Uuid, &'static str, i32);

/// A crop as a word: part of ids.
pub(super) fn word(crop: Crop) -> &'static str {
    match crop {
        Crop::Corn => "corn",
        Crop::Soybean => "soybean",
    }
}

pub(super) fn grower(row: &growers::Model, external: &ExternalIds) -> Value {
    json!({
        "id": ids::ours(row.id, external),
        "name": row.name,
        "partyId": ids::grower_party(row.id),
    })
}

/// Nobody said whether a grower is a person or a business.
pub(super) fn grower_as_party(row: &growers::Model) -> Value {
    json!({
        "id": ids::local(&ids::grower_party(row.id)),
        "name": row.name,
        "partyTypeCode": "UNKNOWN",
    })
}

pub(super) fn practice_as_party(row: &practices::Model) -> Value {
    json!({
        "id": {
            "referenceId": ids::PRACTICE_PARTY,
            "uniqueIds": [{"idText": row.id, "idTypeCode": "UUID"}],
        },
        "name": row.name,
        "partyTypeCode": "ORGANIZATION",
    })
}

pub(super) fn farm(row: &farms::Model, external: &ExternalIds) -> Value {
    json!({"id": ids::ours(row.id, external), "name": row.name, "growerId": row.grower_id})
}

pub(super) fn field(row: &fields::Model, external: &ExternalIds) -> Result<Value, ApiError> {
    let mut made = Map::new();
    made.insert("id".into(), ids::ours(row.id, external));
    made.insert("name".into(), row.name.clone().into());
    made.insert("farmId".into(), json!(row.farm_id));
    if let Some(area) = area_of(row)? {
        made.insert("arableArea".into(), hectares(area.si()));
    }
    if row.boundary.is_some() {
        made.insert("activeBoundaryId".into(), ids::boundary(row.id).into());
    }
    Ok(made.into())
}

/// Of square metres.
fn hectares(area: f64) -> Value {
    json!({"numericValue": ten_digits(area / 1e4), "unitOfMeasureCode": "ha"})
}

pub(super) fn boundary(row: &fields::Model) -> Result<Option<Value>, ApiError> {
    let Some(boundary) = row.boundary.clone() else { return Ok(None) };
    let boundary = serde_json::from_value(boundary).map_err(ApiError::internal)?;
    Ok(Some(json!({
        "id": ids::local(&ids::boundary(row.id)),
        "name": row.name,
        "fieldId": row.id,
        "boundary": {
            "geometry": well_known(&pieces(boundary)),
            "boundaryCreationMethodCode": "UNKNOWN",
        },
    })))
}

/// Well-known text with the seven decimals that the standard's committee recommends: about a centimetre.
fn well_known(pieces: &[Vec<Ring>]) -> String {
    let several = pieces.len() != 1;
    let polygons: Vec<String> = pieces
        .iter()
        .map(|rings| {
            let rings: Vec<String> = rings.iter().map(|ring| text_of(ring)).collect();
            format!("({})", rings.join(", "))
        })
        .collect();
    let polygons = polygons.join(", ");
    if several { format!("MULTIPOLYGON ({polygons})") } else { format!("POLYGON {polygons}") }
}

fn text_of(ring: &[crate::v1::fields::Position]) -> String {
    let corners: Vec<String> = ring
        .iter()
        .filter_map(corner)
        .map(|(longitude, latitude)| format!("{longitude:.7} {latitude:.7}"))
        .collect();
    format!("({})", corners.join(", "))
}

pub(super) fn device(row: &planters::Model, external: &ExternalIds) -> Value {
    json!({"id": ids::ours(row.id, external), "name": row.name})
}

pub(super) fn crop(word: &str) -> Value {
    let (name, concept) = match word {
        "corn" => ("Corn", "http://aims.fao.org/aos/agrovoc/c_12332"),
        _ => ("Soybean", "http://aims.fao.org/aos/agrovoc/c_14477"),
    };
    json!({
        "id": {
            "referenceId": crop_id(word),
            "uniqueIds": [{"idText": concept, "idTypeCode": "URI"}],
        },
        "name": name,
    })
}

pub(super) fn crop_id(word: &str) -> String {
    format!("crop-{word}")
}

pub(super) fn season(number: i32, calendar: &SeasonCalendar) -> Value {
    let (from, to) = calendar.span(number);
    json!({
        "id": ids::local(&ids::season(number)),
        "name": number.to_string(),
        "start": utc(from),
        "end": utc(to),
    })
}

/// A time in UTC.
pub(super) fn utc(at: chrono::DateTime<chrono::Utc>) -> String {
    at.to_rfc3339_opts(chrono::SecondsFormat::AutoSi, true)
}

pub(super) fn zone_id((field, crop, season): Zone) -> String {
    format!("zone-{field}-{crop}-{season}")
}

pub(super) fn zone(zone: Zone) -> Value {
    let (field, crop, season) = zone;
    json!({
        "id": ids::local(&zone_id(zone)),
        "name": format!("{crop} {season}"),
        "fieldId": field,
        "cropId": crop_id(crop),
        "seasonIds": [ids::season(season)],
    })
}

pub(super) fn seed_id(crop: &str) -> String {
    format!("product-seed-{crop}")
}

/// A sheet knows the crop, not the variety.
pub(super) fn seed(crop: &str) -> Value {
    json!({
        "id": ids::local(&seed_id(crop)),
        "name": format!("{crop} seed"),
        "productTypeCode": "SEED",
        "productFormCode": "SOLID",
        "cropId": crop_id(crop),
    })
}

pub(super) fn liquid_id(kind: LiquidKind) -> &'static str {
    match kind {
        LiquidKind::Starter => "product-starter",
        LiquidKind::Inoculant => "product-inoculant",
        LiquidKind::ByLabel => "product-by-label",
    }
}

pub(super) fn liquid(kind: LiquidKind) -> Value {
    let product_type = match kind {
        LiquidKind::Starter => "FERTILIZER_CHEMICAL",
        LiquidKind::Inoculant | LiquidKind::ByLabel => "NOT_SPECIFIED",
    };
    json!({
        "id": ids::local(liquid_id(kind)),
        "name": kind.name(),
        "productTypeCode": product_type,
        "productFormCode": "LIQUID",
    })
}

#[cfg(test)]
mod tests {
    use super::well_known;
    use crate::exchange::forms::rings::pieces;
    use serde_json::json;

    #[test]
    fn text_has_seven_decimals_and_longitude_first() {
        let ring =
            json!([[-93.6, 42.0], [-93.595_17, 42.0], [-93.595_17, 42.003_597], [-93.6, 42.0]]);
        let polygon = serde_json::from_value(json!({"type": "Polygon", "coordinates": [ring]}));
        assert_eq!(
            well_known(&pieces(polygon.expect("a boundary"))),
            "POLYGON ((-93.6000000 42.0000000, -93.5951700 42.0000000, -93.5951700 42.0035970, \
             -93.6000000 42.0000000))"
        );
        let both = json!({"type": "MultiPolygon", "coordinates": [[ring], [ring]]});
        let text = well_known(&pieces(serde_json::from_value(both).expect("a boundary")));
        assert!(
            text.starts_with("MULTIPOLYGON (((-93.6")
                && text.ends_with(
                    ")), ((-93.6000000 \
             42.0000000, -93.5951700 42.0000000, -93.5951700 42.0035970, -93.6000000 42.0000000)))"
                )
        );
    }
}
