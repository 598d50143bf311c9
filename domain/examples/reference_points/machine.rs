//! Planter parts: calibration, cylinder, forces; and a whole recommendation.

use domain::planter::{Calibration, CalibrationPoint, Cylinder, PressureFor, Side};
use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured, Pressure};
use domain::settings::forces::{arm_angle, arm_force, contact_loss, load_for_loss};
use domain::settings::recommend;
use serde_json::{Value, json};

use crate::args::{Args, Function, one, shown};

pub(crate) const FUNCTIONS: &[(&str, Function)] = &[
    ("recommend", |a| {
        let inputs = serde_json::from_value(a.0[0].clone()).unwrap();
        serde_json::to_value(recommend(&inputs, &Coefficients::STANDARD)).unwrap()
    }),
    ("calibration", |a| {
        let fit = calibration(a).map(|c| c.fit());
        fit.map_or(Value::Null, |f| json!([f.at_zero, f.per_pascal, f.worst_miss]))
    }),
    ("pressure_for", |a| {
        let found = calibration(a).map(|c| c.pressure_for(Force::from_si(a.num(2))));
        match found {
            None => Value::Null,
            Some(PressureFor::Within(p)) => json!(["within", p.si()]),
            Some(PressureFor::BelowRange { least }) => json!(["below", least.pressure.si()]),
            Some(PressureFor::AboveRange { most }) => json!(["above", most.pressure.si()]),
        }
    }),
    ("cylinder_lbf", |a| {
        let cylinder = Cylinder {
            bore: a.q(0, "[in_i]"),
            rod: a.q(1, "[in_i]"),
            side: if a.text(2) == "cap" { Side::Cap } else { Side::Rod },
            lever_ratio: a.num(3),
            most: a.q(4, "[psi]"),
        };
        one(shown(cylinder.force_at(a.q(4, "[psi]")), "[lbf_av]"))
    }),
    ("contact_loss", |a| one(contact_loss(a.q(0, "N"), a.q(1, "N")))),
    ("load_for_loss", |a| one(load_for_loss(a.num(0), a.q(1, "N")).si())),
    ("arm_angle_deg", |a| {
        one(arm_angle(a.q(0, "mm"), a.q(1, "mm")).map(|angle| shown(angle, "deg")))
    }),
    ("arm_force", |a| one(arm_force(a.q(0, "N"), a.q(1, "deg")).si())),
];

/// A calibration from pressures in Pa and forces in N.
fn calibration(args: &Args<'_>) -> Option<Calibration> {
    let (pressures, forces) = (args.list(0), args.list(1));
    let points: Vec<CalibrationPoint> = pressures
        .into_iter()
        .zip(forces)
        .map(|(p, f)| CalibrationPoint { pressure: Pressure::from_si(p), force: Force::from_si(f) })
        .collect();
    Calibration::from_points(&points).ok()
}
