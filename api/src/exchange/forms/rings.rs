//! Rings of a boundary: outer edges against the clock, holes with it (RFC 7946, section 3.1.6).

use crate::v1::fields::{Boundary, Position};

/// A ring.
pub type Ring = Vec<Position>;

/// The pieces of a boundary, each an outer ring and its holes, wound as RFC 7946 asks. Positions stay as
/// they were entered.
pub fn pieces(boundary: Boundary) -> Vec<Vec<Ring>> {
    let pieces = match boundary {
        Boundary::Polygon { coordinates } => vec![coordinates],
        Boundary::MultiPolygon { coordinates } => coordinates,
    };
    pieces.into_iter().map(wound).collect()
}

/// The same boundary, wound as RFC 7946 asks.
pub fn oriented(boundary: Boundary) -> Boundary {
    match boundary {
        Boundary::Polygon { coordinates } => Boundary::Polygon { coordinates: wound(coordinates) },
        Boundary::MultiPolygon { coordinates } => {
            Boundary::MultiPolygon { coordinates: coordinates.into_iter().map(wound).collect() }
        }
    }
}

fn wound(rings: Vec<Ring>) -> Vec<Ring> {
    let turned = |(place, mut ring): (usize, Ring)| {
        let against = twice_the_area(&ring) > 0.0;
        if against != (place == 0) {
            ring.reverse();
        }
        ring
    };
    rings.into_iter().enumerate().map(turned).collect()
}

/// Twice the area in square degrees, positive against the clock. Taken from the first corner, so that a
/// small field far from the meridian loses nothing to large products.
fn twice_the_area(ring: &[Position]) -> f64 {
    let corners: Vec<(f64, f64)> = ring.iter().filter_map(corner).collect();
    let Some(&(x0, y0)) = corners.first() else { return 0.0 };
    let pairs = corners.iter().zip(corners.iter().skip(1));
    pairs.map(|(a, b)| (a.0 - x0) * (b.1 - y0) - (b.0 - x0) * (a.1 - y0)).sum()
}

/// Longitude and latitude.
pub fn corner(position: &Position) -> Option<(f64, f64)> {
    match position.0.as_slice() {
        [longitude, latitude, ..] => Some((*longitude, *latitude)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{oriented, pieces, twice_the_area};
    use crate::v1::fields::Boundary;
    use serde_json::{Value, json};

    fn boundary(value: Value) -> Boundary {
        serde_json::from_value(value).expect("a boundary")
    }

    #[test]
    fn outer_rings_run_against_the_clock_and_holes_with_it() {
        let outer =
            json!([[-93.6, 42.0], [-93.6, 42.1], [-93.5, 42.1], [-93.5, 42.0], [-93.6, 42.0]]);
        let hole = json!([
            [-93.58, 42.02],
            [-93.56, 42.02],
            [-93.56, 42.04],
            [-93.58, 42.04],
            [-93.58, 42.02]
        ]);
        let back = |ring: &Value| {
            json!(ring.as_array().expect("a ring").iter().rev().cloned().collect::<Vec<_>>())
        };
        for rings in [json!([outer, hole]), json!([back(&outer), back(&hole)])] {
            let wound = pieces(boundary(json!({"type": "Polygon", "coordinates": rings})));
            let areas: Vec<f64> = wound[0].iter().map(|ring| twice_the_area(ring)).collect();
            assert!(areas[0] > 0.0 && areas[1] < 0.0, "{areas:?}");
            assert!((areas[0] - 0.02).abs() < 1e-9, "{areas:?}");
        }
    }

    #[test]
    fn several_pieces_stay_several() {
        let ring = json!([[0.0, 0.0], [0.0, 1.0], [1.0, 1.0], [0.0, 0.0]]);
        let shape = boundary(json!({"type": "MultiPolygon", "coordinates": [[ring], [ring]]}));
        assert_eq!(pieces(shape.clone()).len(), 2);
        let told = serde_json::to_value(oriented(shape)).expect("JSON");
        assert_eq!(
            told["coordinates"][1][0],
            json!([[0.0, 0.0], [1.0, 1.0], [0.0, 1.0], [0.0, 0.0]])
        );
    }
}
