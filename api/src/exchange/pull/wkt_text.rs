//! Boundaries as well-known text (OGC 06-103r4): `POLYGON ((-93.6 42, …))`, longitude first, WGS 84.

use wkt::Wkt;
use wkt::types::{Coord, LineString};

use crate::v1::fields::{Boundary, Position};

/// Longest text, in bytes.
const LONGEST: usize = 1_000_000;

/// Reads a boundary.
///
/// # Errors
/// In words, when the text is none.
pub fn boundary(text: &str) -> Result<Boundary, String> {
    let text = without_reference(text.trim())?;
    // Collections may stand in each other without end, and enclose no field.
    let is =
        |word: &str| text.get(..word.len()).is_some_and(|begin| begin.eq_ignore_ascii_case(word));
    if text.len() > LONGEST || !(is("POLYGON") || is("MULTIPOLYGON")) {
        return Err("The text is no POLYGON and no MULTIPOLYGON.".to_owned());
    }
    match text.parse::<Wkt<f64>>() {
        Ok(Wkt::Polygon(polygon)) => Ok(Boundary::Polygon { coordinates: rings(polygon.rings()) }),
        Ok(Wkt::MultiPolygon(many)) => Ok(Boundary::MultiPolygon {
            coordinates: many.polygons().iter().map(|polygon| rings(polygon.rings())).collect(),
        }),
        Ok(_) => Err("The text is no POLYGON and no MULTIPOLYGON.".to_owned()),
        Err(why) => Err(format!("The text can't be read: {why}.")),
    }
}

/// Some databases put the number of the reference system before it; only WGS 84 is taken.
fn without_reference(text: &str) -> Result<&str, String> {
    let Some((reference, rest)) = text.split_once(';') else { return Ok(text) };
    if reference.eq_ignore_ascii_case("SRID=4326") {
        Ok(rest.trim())
    } else {
        Err("Only longitude and latitude on WGS 84 (SRID 4326) are taken.".to_owned())
    }
}

fn rings(lines: &[LineString<f64>]) -> Vec<Vec<Position>> {
    lines.iter().map(|line| line.coords().iter().map(position).collect()).collect()
}

fn position(point: &Coord<f64>) -> Position {
    Position(vec![point.x, point.y])
}

#[cfg(test)]
mod tests {
    use super::boundary;
    use serde_json::json;

    #[test]
    fn polygons_are_read_longitude_first() {
        let ring = json!([[-93.6, 42.0], [-93.5, 42.0], [-93.5, 42.1], [-93.6, 42.0]]);
        for text in [
            "POLYGON ((-93.6 42, -93.5 42, -93.5 42.1, -93.6 42))",
            "polygon((-93.6 42,-93.5 42,-93.5 42.1,-93.6 42))",
            " SRID=4326; POLYGON ((-93.6 42, -93.5 42, -93.5 42.1, -93.6 42)) ",
            "POLYGON Z ((-93.6 42 300, -93.5 42 301, -93.5 42.1 302, -93.6 42 300))",
        ] {
            let read = boundary(text).expect(text);
            let said = serde_json::to_value(read).expect("JSON");
            assert_eq!(said, json!({"type": "Polygon", "coordinates": [ring]}), "{text}");
        }
        let many = boundary("MULTIPOLYGON (((-93.6 42, -93.5 42, -93.5 42.1, -93.6 42)))");
        let said = serde_json::to_value(many.expect("read")).expect("JSON");
        assert_eq!(said, json!({"type": "MultiPolygon", "coordinates": [[ring]]}));
    }

    #[test]
    fn other_texts_are_refused() {
        for text in [
            "",
            "POINT (1 2)",
            "POLYGON",
            "POLYGON (1 2, 3 4)",
            "POLYGON ((1 2, x 4))",
            "SRID=3857;POLYGON ((1 2, 3 4, 5 6, 1 2))",
            "GEOMETRYCOLLECTION (POLYGON ((1 2, 3 4, 5 6, 1 2)))",
            &format!("GEOMETRYCOLLECTION ({}", "GEOMETRYCOLLECTION (".repeat(100_000)),
        ] {
            assert!(boundary(text).is_err(), "{text}");
        }
    }
}
