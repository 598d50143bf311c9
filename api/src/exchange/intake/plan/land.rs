//! A boundary: the land inside, or why there is none.

use sea_orm::{ColumnTrait, ConnectionTrait, QueryFilter, QueryOrder, QuerySelect};
use serde_json::Value;

use super::known::Known;
use crate::entities::fields::Column;
use crate::exchange::intake::columns::{Member, Place};
use crate::exchange::intake::work::Land;
use crate::http::{ApiError, BadMember};
use crate::v1::fields::{Boundary, Position};

/// How many fields of ours tell where the practice is.
const SAMPLE: u64 = 50;
/// Farther from all of these, in degrees, a boundary stands out.
const FAR: f64 = 10.0;
/// Nearer than this to one of them, with its numbers swapped, it was swapped.
const NEAR: f64 = 3.0;
/// No crop is planted nearer to a pole, in degrees of latitude.
const FARTHEST: f64 = 72.0;
/// Said wherever numbers look swapped.
const SWAPPED: &str =
    "Latitude and longitude look swapped. Each position is longitude first, then latitude.";

/// Where the practice has fields: some positions.
#[derive(Debug, Clone, Default)]
pub(super) struct Whereabouts(Vec<(f64, f64)>);

impl Whereabouts {
    /// Of the fields that were added last.
    pub(super) async fn read<C: ConnectionTrait>(known: &Known<'_, C>) -> Result<Self, ApiError> {
        let boundaries = known
            .scope
            .fields()
            .select_only()
            .column(Column::Boundary)
            .filter(Column::Boundary.is_not_null())
            .order_by_desc(Column::Id)
            .limit(SAMPLE)
            .into_tuple::<Value>()
            .all(known.db)
            .await?;
        Ok(Self(boundaries.iter().filter_map(first_position).collect()))
    }

    /// Whether a position is far from all fields, and near one of them when it is swapped.
    fn is_swapped(&self, (longitude, latitude): (f64, f64)) -> bool {
        let nearest = |at: (f64, f64)| {
            self.0.iter().map(|known| apart(*known, at)).fold(f64::INFINITY, f64::min)
        };
        let nearest_swapped = nearest((latitude, longitude));
        nearest((longitude, latitude)) > FAR && nearest_swapped < NEAR
    }
}

/// Degrees between two positions, the larger of both directions.
fn apart(a: (f64, f64), b: (f64, f64)) -> f64 {
    (a.0 - b.0).abs().max((a.1 - b.1).abs())
}

fn first_position(boundary: &Value) -> Option<(f64, f64)> {
    let mut place = boundary.get("coordinates")?;
    while place.get(0)?.is_array() {
        place = place.get(0)?;
    }
    Some((place.get(0)?.as_f64()?, place.get(1)?.as_f64()?))
}

/// The land inside a boundary.
///
/// # Errors
/// The member, when it encloses none, or stands where it can't.
pub(super) fn measure(
    place: &Place,
    boundary: &Boundary,
    whereabouts: &Whereabouts,
) -> Result<Land, BadMember> {
    let at = place.of(Member::Boundary);
    if let Some(refusal) = numbers(boundary, &at) {
        return Err(refusal);
    }
    let (shape, area) = boundary.measure("").map_err(|bad| {
        let within = if at.starts_with('/') { bad.pointer.as_str() } else { "" };
        BadMember { pointer: format!("{at}{within}"), ..bad }
    })?;
    let first = positions(boundary).next();
    match first.and_then(pair) {
        Some(first) if whereabouts.is_swapped(first) => Err(BadMember::new(at, SWAPPED)
            .given(format!("longitude {}, latitude {}", first.0, first.1))
            .why("so it lies far from all fields of the practice, and near them when swapped")),
        _ => Ok(Land { shape, area }),
    }
}

/// Numbers that are no degrees, or degrees in the wrong order.
fn numbers(boundary: &Boundary, at: &str) -> Option<BadMember> {
    let all: Vec<(f64, f64)> = positions(boundary).filter_map(pair).collect();
    let any = |test: fn(&(f64, f64)) -> bool| all.iter().any(test);
    let given = || all.first().map(|(x, y)| format!("{x}, {y}")).unwrap_or_default();
    if any(|(x, y)| x.abs() > 180.0 || y.abs() > 180.0) {
        let detail = "The numbers are no degrees: they look like metres or feet of a projection.";
        let member = BadMember::new(at, detail).given(given());
        return Some(member.allowed("longitude and latitude in degrees on WGS 84"));
    }
    if any(|(_, y)| y.abs() > 90.0) && all.iter().all(|(x, _)| x.abs() <= 90.0) {
        return Some(
            BadMember::new(at, SWAPPED)
                .given(given())
                .allowed("longitude -180 to 180, then latitude -90 to 90")
                .why("there is no such latitude"),
        );
    }
    if !all.is_empty() && all.iter().all(|(x, y)| x.abs() <= FARTHEST && y.abs() > FARTHEST) {
        let member = BadMember::new(at, SWAPPED).given(given());
        return Some(
            member.why("as they stand the field lies at a pole, where nothing is planted"),
        );
    }
    None
}

fn positions(boundary: &Boundary) -> Box<dyn Iterator<Item = &Position> + '_> {
    match boundary {
        Boundary::Polygon { coordinates } => Box::new(coordinates.iter().flatten()),
        Boundary::MultiPolygon { coordinates } => Box::new(coordinates.iter().flatten().flatten()),
    }
}

fn pair(position: &Position) -> Option<(f64, f64)> {
    match position.0.as_slice() {
        [longitude, latitude, ..] => Some((*longitude, *latitude)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{Whereabouts, measure};
    use crate::exchange::intake::columns::{Columns, Member, Place};
    use crate::v1::fields::Boundary;
    use domain::quantity::Measured;
    use serde_json::{Value, json};
    use std::sync::Arc;

    fn found(rings: &Value, whereabouts: &Whereabouts) -> Result<f64, String> {
        let boundary: Boundary =
            serde_json::from_value(json!({"type": "Polygon", "coordinates": rings}))
                .expect("a boundary");
        let columns = Arc::new(Columns::from([(Member::Boundary, "/geometry".to_owned())]));
        let place = Place::new("/features/3", &columns);
        let land = measure(&place, &boundary, whereabouts);
        land.map(|land| land.area.si()).map_err(|bad| format!("{}: {}", bad.pointer, bad.detail))
    }

    fn square(west: f64, south: f64) -> Value {
        let (east, north) = (west + 0.01, south + 0.01);
        json!([[[west, south], [east, south], [east, north], [west, north], [west, south]]])
    }

    #[test]
    fn the_area_agrees_with_an_independent_library() {
        // The oracle G1: 159,875.4 m² by the geodesics of pyproj.
        let ring = json!([[
            [-93.6, 42.0],
            [-93.59517, 42.0],
            [-93.59517, 42.003_597],
            [-93.6, 42.003_597],
            [-93.6, 42.0]
        ]]);
        let area = found(&ring, &Whereabouts::default()).expect("land");
        assert!((area - 159_875.4).abs() < 0.1, "{area}");
    }

    #[test]
    fn swapped_numbers_are_named_and_never_put_right() {
        let nowhere = Whereabouts::default();
        assert!(found(&square(42.0, -93.6), &nowhere).unwrap_err().contains("swapped"));
        assert!(found(&square(40.0, -85.0), &nowhere).unwrap_err().contains("swapped"));
        assert!(found(&square(25.0, 65.0), &nowhere).is_ok(), "barley grows there");
        // Both could be latitudes: only other fields tell.
        let brazil = Whereabouts(vec![(-47.1, -15.2)]);
        assert!(found(&square(-15.2, -47.1), &brazil).unwrap_err().contains("swapped"));
        assert!(found(&square(-47.0, -15.0), &brazil).is_ok());
        assert!(found(&square(-15.2, -47.1), &nowhere).is_ok());
        assert!(
            found(&square(10.0, 50.0), &brazil).is_ok(),
            "far away, and no nearer when swapped"
        );
    }

    #[test]
    fn what_encloses_no_land_is_said_plainly() {
        let nowhere = Whereabouts::default();
        let metres = json!([[
            [448_262.0, 4_649_776.0],
            [448_662.0, 4_649_776.0],
            [448_662.0, 4_650_176.0],
            [448_262.0, 4_649_776.0]
        ]]);
        assert!(found(&metres, &nowhere).unwrap_err().contains("no degrees"));
        let bow_tie = json!([[[0.0, 0.0], [0.01, 0.01], [0.01, 0.0], [0.0, 0.01], [0.0, 0.0]]]);
        let refused = found(&bow_tie, &nowhere).unwrap_err();
        assert!(refused.starts_with("/features/3/geometry/coordinates: "), "{refused}");
        assert!(refused.contains("self-intersection"), "{refused}");
        let mut with_hole = square(-93.6, 42.0);
        let outside = square(-93.0, 42.0)[0].clone();
        with_hole.as_array_mut().expect("rings").push(outside);
        let refused = found(&with_hole, &nowhere).unwrap_err();
        assert!(refused.contains("interior ring"), "{refused}");
    }
}
