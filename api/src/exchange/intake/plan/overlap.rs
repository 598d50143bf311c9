//! How much of two boundaries is the same land.

use geo::{Area, BooleanOps, BoundingRect, Coord, MapCoords, MultiPolygon};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use uuid::Uuid;

/// The least share of the land that makes a candidate: neighbours that share an edge have none.
const LEAST: f64 = 0.3;

/// A field and the box around it.
type Boxed = GeomWithData<Rectangle<[f64; 2]>, (Uuid, MultiPolygon)>;

/// Boundaries of fields, found by where they are.
pub(super) struct Lands(RTree<Boxed>);

impl Lands {
    /// Of these fields.
    pub(super) fn of(fields: Vec<(Uuid, MultiPolygon)>) -> Self {
        let boxes = fields.into_iter().filter_map(|(id, shape)| {
            let plane = plane(&shape);
            let around = plane.bounding_rect()?;
            let around = Rectangle::from_corners(around.min().into(), around.max().into());
            Some(GeomWithData::new(around, (id, plane)))
        });
        Self(RTree::bulk_load(boxes.collect()))
    }

    /// Those that cover much of the same land, with their share.
    pub(super) fn like(&self, shape: &MultiPolygon) -> Vec<(Uuid, f64)> {
        let shape = plane(shape);
        let Some(around) = shape.bounding_rect() else { return Vec::new() };
        let around = AABB::from_corners(around.min().into(), around.max().into());
        let near = self.0.locate_in_envelope_intersecting(&around);
        let shares = near.map(|it| (it.data.0, share(&shape, &it.data.1)));
        shares.filter(|(_, share)| *share >= LEAST).collect()
    }
}

/// Longitude and the sine of the latitude: areas keep their proportions (Lambert's cylindrical
/// projection).
fn plane(shape: &MultiPolygon) -> MultiPolygon {
    shape.map_coords(|Coord { x, y }| Coord { x: x.to_radians(), y: y.to_radians().sin() })
}

/// Land in both against land in either.
fn share(a: &MultiPolygon, b: &MultiPolygon) -> f64 {
    let both = a.intersection(b).unsigned_area();
    let either = a.unsigned_area() + b.unsigned_area() - both;
    if either > 0.0 { (both / either).clamp(0.0, 1.0) } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::Lands;
    use geo::{MultiPolygon, polygon};
    use proptest::prelude::*;
    use uuid::Uuid;

    fn rectangle(west: f64, south: f64, wide: f64, high: f64) -> MultiPolygon {
        let (east, north) = (west + wide, south + high);
        MultiPolygon(vec![polygon![
            (x: west, y: south), (x: east, y: south), (x: east, y: north), (x: west, y: north),
        ]])
    }

    fn like(a: MultiPolygon, b: &MultiPolygon) -> Option<f64> {
        let lands = Lands::of(vec![(Uuid::from_u128(1), a)]);
        lands.like(b).first().map(|(_, share)| *share)
    }

    #[test]
    fn half_shifted_rectangles_share_a_third() {
        let field = rectangle(-93.6, 42.0, 0.01, 0.01);
        let share = like(field.clone(), &rectangle(-93.595, 42.0, 0.01, 0.01)).expect("a third");
        assert!((share - 1.0 / 3.0).abs() < 1e-6, "{share}");
        let whole = like(field.clone(), &field).expect("all of it");
        assert!((whole - 1.0).abs() < 1e-6, "{whole}");
        assert_eq!(like(field.clone(), &rectangle(-93.59, 42.0, 0.01, 0.01)), None, "a neighbour");
        assert_eq!(like(field, &rectangle(-93.0, 42.0, 0.01, 0.01)), None);
    }

    proptest! {
        /// Of rectangles on the same parallels the share follows from their edges.
        #[test]
        fn the_share_is_what_the_edges_say(
            south in -60.0..60.0_f64, shift in 0.0..0.009_f64, wide in 0.002..0.02_f64,
        ) {
            let (a, b) = (rectangle(10.0, south, 0.01, 0.01), rectangle(10.0 + shift, south, wide, 0.01));
            let both = 0.01_f64.min(shift + wide) - shift;
            let wanted = both / (0.01 + wide - both);
            let found = like(a.clone(), &b).unwrap_or(0.0);
            let back = like(b, &a).unwrap_or(0.0);
            prop_assert!((found - back).abs() < 1e-6, "{found} {back}");
            if wanted > 0.301 {
                prop_assert!((found - wanted).abs() < 1e-4, "{found} against {wanted}");
            }
        }
    }
}
