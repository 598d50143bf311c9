//! Boundaries as GeoJSON geometries (RFC 7946).

use serde_json::{Map, Value};

use crate::http::{BadMember, strict};
use crate::v1::fields::Boundary;

/// Reads a boundary that stands at `at`. What comes along with it, as a box around it, says nothing new
/// and is not looked at.
///
/// # Errors
/// The member, when it is no polygon and no several of them.
pub fn boundary(at: &str, geometry: &Value) -> Result<Boundary, BadMember> {
    let Value::Object(members) = geometry else {
        return Err(BadMember::new(at, "This is no GeoJSON geometry."));
    };
    let named = members.get("type").and_then(Value::as_str).unwrap_or_default();
    if !matches!(named, "Polygon" | "MultiPolygon") {
        return Err(BadMember::new(at, "This geometry is no boundary of a field.")
            .given(named.escape_debug())
            .allowed("Polygon or MultiPolygon"));
    }
    let bare: Map<String, Value> = ["type", "coordinates"]
        .into_iter()
        .filter_map(|name| members.get(name).map(|value| (name.to_owned(), value.clone())))
        .collect();
    strict::from_value(&Value::Object(bare)).map_err(|refusal| {
        let member = refusal.into_member();
        BadMember { pointer: format!("{at}{}", member.pointer), ..member }
    })
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::boundary;

    #[test]
    fn polygons_are_boundaries_and_the_rest_is_named() {
        let ring = json!([[-93.6, 42.0], [-93.5, 42.0], [-93.5, 42.1], [-93.6, 42.0]]);
        let boxed = json!({"type": "Polygon", "bbox": [0, 0, 1, 1], "coordinates": [ring]});
        assert!(boundary("", &boxed).is_ok());
        assert!(boundary("", &json!({"type": "MultiPolygon", "coordinates": [[ring]]})).is_ok());
        for (geometry, pointer) in [
            (json!(null), "/g"),
            (json!("Polygon"), "/g"),
            (json!({"type": "Point", "coordinates": [1, 2]}), "/g"),
            (json!({"type": "Polygon"}), "/g/coordinates"),
            (json!({"type": "Polygon", "coordinates": [[[1, "2"]]]}), "/g/coordinates/0/0/1"),
        ] {
            let refused = boundary("/g", &geometry).expect_err("refused");
            assert_eq!(refused.pointer, pointer, "{geometry}");
        }
    }
}
