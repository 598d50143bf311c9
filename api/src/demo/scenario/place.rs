//! Where the fields lie: rectangles on a plain grid of square miles, drawn without looking at the
//! land. They follow nobody's boundary.

use serde_json::{Value, json};

/// South-west corner of the grid, degrees: longitude and latitude.
const CORNER: (f64, f64) = (-93.9, 42.05);
/// One mile of longitude and of latitude here, degrees.
const MILE: (f64, f64) = (0.019_47, 0.014_49);
/// Width of a field as a share of a mile: half a mile less a headland.
const WIDTH: f64 = 0.485;
/// Square miles in a row of the grid.
const SECTIONS: usize = 8;
const ACRES_OF_A_MILE: f64 = 640.0;

/// The boundary of the field in one quarter (0 to 3) of a square mile, as GeoJSON.
///
/// `acres` up to 155: what a quarter holds.
pub(in crate::demo) fn rectangle(section: usize, quarter: usize, acres: f64) -> Value {
    let count = domain::stats::count;
    let height = acres / ACRES_OF_A_MILE / WIDTH;
    let west = count(section % SECTIONS) + count(quarter % 2) * 0.5 + 0.0075;
    let south = count(section / SECTIONS) + count(quarter / 2) * 0.5 + 0.0075;
    let corner = |x: f64, y: f64| {
        json!([rounded(CORNER.0 + MILE.0 * (west + x)), rounded(CORNER.1 + MILE.1 * (south + y)),])
    };
    json!({
        "type": "Polygon",
        "coordinates": [[
            corner(0.0, 0.0),
            corner(WIDTH, 0.0),
            corner(WIDTH, height),
            corner(0.0, height),
            corner(0.0, 0.0),
        ]],
    })
}

/// To a millionth of a degree, a tenth of a metre.
fn rounded(degrees: f64) -> f64 {
    (degrees * 1e6).round() / 1e6
}
