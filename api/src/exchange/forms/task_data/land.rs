//! The boundary of a field, out of polygons, rings and corners.

use geo::{Contains, LineString, Point, Polygon};

use super::xml::Element;
use crate::exchange::intake::{Incoming, Member};
use crate::http::BadMember;
use crate::http::quantity::Quantity;
use crate::v1::fields::{Boundary, MOST_POSITIONS, Position};
use domain::quantity::Measured;

/// A ring as longitudes and latitudes.
type Corners = Vec<(f64, f64)>;

/// How far the area of a file may be off that of its boundary and still say the same.
const SAME: f64 = 0.01;

/// Most rings of a field: each hole is looked for in each piece.
const MOST_RINGS: usize = 500;

/// The land of a field that is being read.
#[derive(Debug)]
pub(super) struct Land {
    area: Option<f64>,
    corners: usize,
    in_boundary: bool,
    ring: Option<(bool, Corners)>,
    outer: Vec<Corners>,
    holes: Vec<Corners>,
    bad: Vec<BadMember>,
}

impl Land {
    /// Of this area in square metres, as the file says; 0 stands for not known.
    pub(super) fn of(area: Option<f64>) -> Self {
        let area = area.filter(|area| *area > 0.0);
        Self {
            area,
            corners: 0,
            in_boundary: false,
            ring: None,
            outer: Vec::new(),
            holes: Vec::new(),
            bad: Vec::new(),
        }
    }

    /// An element within the field.
    pub(super) fn begin(&mut self, element: &Element) {
        match element.name.as_str() {
            // Only the boundary of the field, no obstacle and no headland.
            "PLN" => self.in_boundary = element.get("A") == Some("1"),
            "LSG" if self.in_boundary => {
                self.ring = match element.get("A") {
                    Some("1") => Some((true, Vec::new())),
                    Some("2") => Some((false, Vec::new())),
                    _ => None,
                };
            }
            "PNT" => self.corner(element),
            _ => {}
        }
    }

    fn corner(&mut self, element: &Element) {
        let Some((_, corners)) = &mut self.ring else { return };
        self.corners += 1;
        if self.corners > MOST_POSITIONS {
            return;
        }
        let number =
            |name: &str| element.get(name)?.parse::<f64>().ok().filter(|number| number.is_finite());
        match (number("D"), number("C")) {
            (Some(east), Some(north)) => corners.push((east, north)),
            // One of a ring is enough.
            _ if self.bad.is_empty() => {
                let at = format!("line {}, {}", element.line, element.name);
                self.bad.push(
                    BadMember::new(at, "A corner is no number.")
                        .allowed("C: latitude, D: longitude, in degrees"),
                );
            }
            _ => {}
        }
    }

    /// The end of an element within the field.
    pub(super) fn end(&mut self, name: &str) {
        match name {
            "PLN" => self.in_boundary = false,
            "LSG" => match self.ring.take() {
                Some((true, corners)) if !self.is_full() => self.outer.push(closed(corners)),
                Some((false, corners)) if !self.is_full() => self.holes.push(closed(corners)),
                Some(_) | None => {}
            },
            _ => {}
        }
    }

    /// Whether no further ring is kept: one more than is taken is there already.
    fn is_full(&self) -> bool {
        self.outer.len() + self.holes.len() > MOST_RINGS
    }

    /// What the field is known to be, or why it can't be read.
    pub(super) fn into_record(mut self, record: &mut Incoming) {
        let at = record.place.of(Member::Boundary);
        let boundary = if self.is_full() || self.corners > MOST_POSITIONS {
            let detail = "The boundary has too many positions or rings; simplify it.";
            self.bad.push(
                BadMember::new(&at, detail)
                    .given(format!("{} positions", self.corners))
                    .allowed(format!("at most {MOST_POSITIONS} positions, in {MOST_RINGS} rings")),
            );
            None
        } else {
            self.boundary(&at)
        };
        record.unread.append(&mut self.bad);
        let enclosed = boundary.as_ref().and_then(|it| it.area("").ok());
        let same = |area: f64| enclosed.is_some_and(|it| (area / it.si() - 1.0).abs() <= SAME);
        record.said.area =
            self.area.filter(|area| !same(*area)).map(|area| Quantity::new(area, "m2"));
        record.said.boundary = boundary;
    }

    /// Each hole belongs to the piece that it lies in.
    fn boundary(&mut self, at: &str) -> Option<Boundary> {
        let outer = std::mem::take(&mut self.outer);
        let mut pieces: Vec<(Polygon, Vec<Corners>)> =
            outer.into_iter().map(|ring| (polygon(&ring), vec![ring])).collect();
        for hole in std::mem::take(&mut self.holes) {
            let around = pieces.iter_mut().find(|(shape, _)| lies_in(&hole, shape));
            if let Some((_, rings)) = around {
                rings.push(hole);
            } else {
                let detail = "A hole lies outside of the land.";
                self.bad.push(BadMember::new(at, detail));
            }
        }
        let mut pieces =
            pieces.into_iter().map(|(_, rings)| rings.into_iter().map(positions).collect());
        let first: Vec<Vec<Position>> = pieces.next()?;
        let rest: Vec<Vec<Vec<Position>>> = pieces.collect();
        if rest.is_empty() {
            return Some(Boundary::Polygon { coordinates: first });
        }
        let coordinates = std::iter::once(first).chain(rest).collect();
        Some(Boundary::MultiPolygon { coordinates })
    }
}

/// Version 3 need not repeat the first corner.
fn closed(mut corners: Corners) -> Corners {
    if let Some(first) = corners.first().copied()
        && corners.last() != Some(&first)
    {
        corners.push(first);
    }
    corners
}

fn polygon(outer: &Corners) -> Polygon {
    Polygon::new(LineString::from(outer.clone()), Vec::new())
}

/// Any corner tells: others may lie on the edge.
fn lies_in(hole: &Corners, shape: &Polygon) -> bool {
    hole.iter().any(|(x, y)| shape.contains(&Point::new(*x, *y)))
}

fn positions(corners: Corners) -> Vec<Position> {
    corners.into_iter().map(|(x, y)| Position(vec![x, y])).collect()
}
