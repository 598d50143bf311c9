//! The boundary of a field: GeoJSON (RFC 7946) in and out, checked, with its area on the ellipsoid.

use domain::quantity::{Area, Measured, bounds};
use geo::algorithm::validation::Validation;
use geo::{GeodesicArea, LineString, MultiPolygon, Orient, Polygon, orient::Direction};
use serde::{Deserialize, Serialize};
use serde_json::json;
use utoipa::openapi::{ArrayBuilder, ObjectBuilder, RefOr, Schema, Type};
use utoipa::{PartialSchema, ToSchema};

use crate::http::BadMember;
use crate::http::quantity::refused;

/// Longitude and latitude in degrees on WGS 84, and if need be a height in m, which is not used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Position(pub Vec<f64>);

impl PartialSchema for Position {
    fn schema() -> RefOr<Schema> {
        let array = ArrayBuilder::new()
            .items(ObjectBuilder::new().schema_type(Type::Number))
            .min_items(Some(2))
            .max_items(Some(3))
            .description(Some(
                "Longitude and latitude in degrees on WGS 84, and if need be a height in m, which \
                 is not used.",
            ))
            .examples([json!([-93.62, 42.03])]);
        RefOr::T(Schema::Array(array.build()))
    }
}

impl ToSchema for Position {}

crate::tagged_union! {
    /// Boundary of a field as a GeoJSON geometry (RFC 7946). Positions are longitude first, then
    /// latitude, in degrees on WGS 84. A ring has at least 4 positions and ends where it began;
    /// the first ring of a polygon is its outer edge, further ones are holes. At most 5000
    /// positions in all; edges must not cross.
    #[schema(examples(json!({
        "type": "Polygon",
        "coordinates": [[
            [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
        ]]
    })))]
    pub enum Boundary by "type" {
        /// One piece of land.
        Polygon = "Polygon" {
            /// The rings.
            #[schema(min_items = 1, max_items = 100, example = json!([[
                [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
            ]]))]
            coordinates: Vec<Vec<Position>>,
        },
        /// Several pieces of land.
        MultiPolygon = "MultiPolygon" {
            /// The rings of each piece.
            #[schema(min_items = 1, max_items = 100, example = json!([[[
                [-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]
            ]]]))]
            coordinates: Vec<Vec<Vec<Position>>>,
        },
    }
}

/// Most positions of a boundary.
pub const MOST_POSITIONS: usize = 5000;

impl Boundary {
    /// The area on the ellipsoid of WGS 84, if the boundary is one that can enclose a field.
    pub fn area(&self, pointer: &str) -> Result<Area, BadMember> {
        self.measure(pointer).map(|(_, area)| area)
    }

    /// The land inside, in degrees, and its area.
    pub fn measure(&self, pointer: &str) -> Result<(MultiPolygon, Area), BadMember> {
        let pointer = format!("{pointer}/coordinates");
        let shape = match self {
            Self::Polygon { coordinates } => {
                count(&pointer, coordinates.iter())?;
                MultiPolygon(vec![polygon(&pointer, coordinates)?])
            }
            Self::MultiPolygon { coordinates } => {
                count(&pointer, coordinates.iter().flatten())?;
                let pieces = coordinates
                    .iter()
                    .enumerate()
                    .map(|(index, rings)| polygon(&format!("{pointer}/{index}"), rings));
                MultiPolygon(pieces.collect::<Result<_, _>>()?)
            }
        };
        if shape.0.is_empty() {
            return Err(BadMember::new(pointer, "The boundary holds no ring."));
        }
        shape.check_validation().map_err(|error| {
            BadMember::new(&pointer, format!("The boundary is not simple: {error}."))
                .why("edges that cross enclose no certain area")
        })?;
        let shape = shape.orient(Direction::Default);
        let area = bounds::FIELD_AREA
            .parse(shape.geodesic_area_unsigned(), "m2")
            .map(|area: Area| Area::from_si(area.si()))
            .map_err(|refusal| refused(&pointer, &refusal))?;
        Ok((shape, area))
    }
}

fn count<'a>(
    pointer: &str,
    rings: impl Iterator<Item = &'a Vec<Position>>,
) -> Result<(), BadMember> {
    let positions: usize = rings.map(Vec::len).sum();
    if positions <= MOST_POSITIONS {
        return Ok(());
    }
    Err(BadMember::new(pointer, "The boundary has too many positions; simplify it.")
        .given(positions)
        .allowed(format!("at most {MOST_POSITIONS}")))
}

fn polygon(pointer: &str, rings: &[Vec<Position>]) -> Result<Polygon, BadMember> {
    let mut lines = rings
        .iter()
        .enumerate()
        .map(|(index, ring)| line(&format!("{pointer}/{index}"), ring))
        .collect::<Result<Vec<_>, _>>()?
        .into_iter();
    match lines.next() {
        Some(outer) => Ok(Polygon::new(outer, lines.collect())),
        None => Err(BadMember::new(pointer, "A polygon needs an outer ring.")),
    }
}

fn line(pointer: &str, ring: &[Position]) -> Result<LineString, BadMember> {
    if ring.len() < 4 {
        return Err(BadMember::new(pointer, "A ring has at least 4 positions.")
            .given(ring.len())
            .allowed("at least 4"));
    }
    let points = ring
        .iter()
        .enumerate()
        .map(|(index, position)| point(&format!("{pointer}/{index}"), position))
        .collect::<Result<Vec<_>, _>>()?;
    if points.first() == points.last() {
        Ok(LineString::from(points))
    } else {
        Err(BadMember::new(pointer, "A ring ends where it began: repeat the first position."))
    }
}

fn point(pointer: &str, position: &Position) -> Result<(f64, f64), BadMember> {
    let (longitude, latitude) = match position.0.as_slice() {
        [longitude, latitude] | [longitude, latitude, _] => (*longitude, *latitude),
        other => {
            return Err(BadMember::new(
                pointer,
                "A position is longitude, latitude, and if need be a height.",
            )
            .given(format!("{} numbers", other.len()))
            .allowed("2 or 3 numbers"));
        }
    };
    let outside = |value: f64, most: f64| !(-most..=most).contains(&value);
    if outside(longitude, 180.0) {
        return Err(BadMember::new(format!("{pointer}/0"), "This is no longitude.")
            .given(longitude)
            .allowed("-180 to 180 degrees"));
    }
    if outside(latitude, 90.0) {
        return Err(BadMember::new(format!("{pointer}/1"), "This is no latitude.")
            .given(latitude)
            .allowed("-90 to 90 degrees")
            .why("GeoJSON puts the longitude first"));
    }
    Ok((longitude, latitude))
}

#[cfg(test)]
mod tests {
    use super::Boundary;
    use domain::quantity::Measured;
    use serde_json::{Value, json};

    fn boundary(value: Value) -> Boundary {
        serde_json::from_value(value).expect("boundary")
    }

    fn rectangle(west: f64, south: f64, east: f64, north: f64) -> Value {
        json!([[west, south], [east, south], [east, north], [west, north], [west, south]])
    }

    /// Area of a quadrangle between two meridians and two parallels on the ellipsoid of WGS 84, in
    /// m²: Snyder, J. P. (1987), Map Projections: A Working Manual, U.S. Geological Survey
    /// Professional Paper 1395, equation 3-12 for q; the area is a² (q2 - q1) Δλ / 2.
    fn quadrangle(width_degrees: f64, south: f64, north: f64) -> f64 {
        let (a, flattening) = (6_378_137.0_f64, 1.0 / 298.257_223_563);
        let e2: f64 = flattening * (2.0 - flattening);
        let e = e2.sqrt();
        let q = |latitude: f64| {
            let s = latitude.to_radians().sin();
            (1.0 - e2) * (s / (1.0 - e2 * s * s) - ((1.0 - e * s) / (1.0 + e * s)).ln() / (2.0 * e))
        };
        a * a * width_degrees.to_radians() * (q(north) - q(south)) / 2.0
    }

    #[test]
    fn the_area_is_that_of_the_ellipsoid() {
        // The edges of the rectangle are geodesics, those of the quadrangle parallels; over a
        // hundredth of a degree that makes less than a millionth.
        for (west, south, north) in
            [(-93.62, 42.03, 42.04), (150.0, -33.01, -33.0), (0.0, 0.0, 0.01)]
        {
            let ring = rectangle(west, south, west + 0.01, north);
            let shape = boundary(json!({"type": "Polygon", "coordinates": [ring]}));
            let area = shape.area("/boundary").expect("simple").si();
            let wanted = quadrangle(0.01, south, north);
            assert!((area / wanted - 1.0).abs() < 1e-6, "{area} against {wanted}");
        }
    }

    #[test]
    fn holes_are_taken_off_and_the_winding_does_not_matter() {
        let outer = rectangle(-93.62, 42.03, -93.61, 42.04);
        let hole = rectangle(-93.618, 42.032, -93.614, 42.036);
        let area = |rings: Value| {
            let shape = boundary(json!({"type": "Polygon", "coordinates": rings}));
            shape.area("").expect("simple").si()
        };
        let wanted = quadrangle(0.01, 42.03, 42.04) - quadrangle(0.004, 42.032, 42.036);
        let backwards: Vec<Value> = outer.as_array().expect("ring").iter().rev().cloned().collect();
        for rings in [json!([outer, hole]), json!([backwards, hole])] {
            let found = area(rings);
            assert!((found / wanted - 1.0).abs() < 1e-6, "{found} against {wanted}");
        }
    }

    #[test]
    fn pieces_add_up() {
        let (west, east) =
            (rectangle(-93.62, 42.03, -93.61, 42.04), rectangle(-93.6, 42.03, -93.59, 42.04));
        let shape = boundary(json!({"type": "MultiPolygon", "coordinates": [[west], [east]]}));
        let wanted = 2.0 * quadrangle(0.01, 42.03, 42.04);
        assert!((shape.area("").expect("simple").si() / wanted - 1.0).abs() < 1e-6);
    }

    #[test]
    fn what_encloses_no_field_is_refused_with_its_place() {
        let refused = |rings: Value| {
            let shape = boundary(json!({"type": "Polygon", "coordinates": rings}));
            shape.area("/boundary").expect_err("refused").pointer
        };
        let triangle = json!([[0.0, 0.0], [0.01, 0.0], [0.0, 0.0]]);
        assert_eq!(refused(json!([triangle])), "/boundary/coordinates/0");
        let open = json!([[0.0, 0.0], [0.01, 0.0], [0.01, 0.01], [0.0, 0.01]]);
        assert_eq!(refused(json!([open])), "/boundary/coordinates/0");
        let swapped = json!([[42.0, -93.0], [42.0, -93.01], [42.01, -93.01], [42.0, -93.0]]);
        assert_eq!(refused(json!([swapped])), "/boundary/coordinates/0/0/1");
        let bow_tie = json!([[0.0, 0.0], [0.01, 0.01], [0.01, 0.0], [0.0, 0.01], [0.0, 0.0]]);
        assert_eq!(refused(json!([bow_tie])), "/boundary/coordinates");
        let short = json!([[0.0], [0.01, 0.0], [0.01, 0.01], [0.0]]);
        assert_eq!(refused(json!([short])), "/boundary/coordinates/0/0");
        assert_eq!(refused(json!([])), "/boundary/coordinates");
        assert_eq!(refused(json!([rectangle(0.0, 0.0, 10.0, 10.0)])), "/boundary/coordinates");
        let many: Vec<Value> = vec![json!([0.0, 0.0]); 5001];
        assert_eq!(refused(json!([many])), "/boundary/coordinates");
    }

    #[test]
    fn the_largest_boundary_is_checked_in_time() {
        let corner = |step: u32| {
            let angle = f64::from(step) / 4999.0 * std::f64::consts::TAU;
            json!([-93.6 + 0.01 * angle.cos(), 42.0 + 0.01 * angle.sin()])
        };
        let mut ring: Vec<Value> = (0..4999).map(corner).collect();
        ring.push(ring[0].clone());
        let shape = boundary(json!({"type": "Polygon", "coordinates": [ring]}));
        let started = std::time::Instant::now();
        shape.area("").expect("a circle is simple");
        assert!(started.elapsed().as_secs() < 5, "{:?}", started.elapsed());
    }
}
