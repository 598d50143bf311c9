//! Three invented fields with their whole calculation, to follow with pencil and paper.
//!
//! `cargo run -p domain --example worked_fields` prints them; with `--json` it prints inputs,
//! results and coefficients for a program, such as the one that works out every step again in
//! `tests/reference`.
#![expect(
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "an example prints, and its invented planters must be right"
)]

mod cornstalks;
mod soft;
mod tall_rye;
mod words;

use domain::planter::CalibrationPoint;
use domain::provenance::Coefficients;
use domain::quantity::{Measured, unit};
use domain::settings::{Inputs, recommend};
use serde_json::json;

/// A field, told in words.
struct Worked {
    name: &'static str,
    story: &'static str,
    inputs: Inputs,
}

fn q<Q: Measured>(value: f64, code: &str) -> Q {
    let unit = unit(code).unwrap();
    assert_eq!(unit.kind, Q::KIND, "{code} is of another kind");
    Q::from_si(unit.to_si(value))
}

fn point(psi: f64, lbf: f64) -> CalibrationPoint {
    CalibrationPoint { pressure: q(psi, "[psi]"), force: q(lbf, "[lbf_av]") }
}

fn main() {
    let k = Coefficients::STANDARD;
    let fields = [soft::field(), tall_rye::field(), cornstalks::field()];
    if std::env::args().any(|a| a == "--json") {
        let fields = fields.iter().map(
            |f| json!({ "name": f.name, "inputs": f.inputs, "result": recommend(&f.inputs, &k) }),
        );
        let fields: Vec<_> = fields.collect();
        println!("{}", json!({ "coefficients": k.figures(), "fields": fields }));
        return;
    }
    for field in &fields {
        words::print(field, &recommend(&field.inputs, &k));
    }
}
