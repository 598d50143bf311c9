//! Rows about measurements that coefficients rest on: the published figures, the line through them
//! and the coefficient that came of it.

use domain::planter::{Calibration, CalibrationPoint};
use domain::provenance::{Coefficient, Coefficients};
use domain::quantity::{Force, Measured, Pressure, Speed, unit};
use domain::settings::forces::{contact_loss, load_for_loss};
use domain::stats::mean;

use crate::answer::Answer;
use crate::q;
use crate::row::Row;

const K: Coefficients = Coefficients::STANDARD;

/// The least-squares line of the calibration, of any rising force against anything.
fn line(points: impl IntoIterator<Item = (f64, Force)>) -> Calibration {
    let point = |(x, force)| CalibrationPoint { pressure: Pressure::from_si(x), force };
    Calibration::from_points(&points.into_iter().map(point).collect::<Vec<_>>()).unwrap()
}

fn at(line: &Calibration, x: f64) -> f64 {
    line.force_at(Pressure::from_si(x)).si()
}

fn holds(k: &Coefficient, figure: f64) -> bool {
    (k.low..=k.high).contains(&figure)
}

/// Mean load of the gauge wheels by speed, or its scatter.
pub(crate) fn load_by_speed(row: &Row) -> Answer {
    let loads = row.nums("mean_load_n");
    if row.text("cv").is_some() {
        return scatter(&loads, &row.nums("cv"));
    }
    let speeds = row.nums("speed_kmh");
    // The load falls with speed; a calibration rises, so it is laid out by how slow it is.
    let top = 20.0;
    let rising =
        line(speeds.into_iter().zip(loads).map(|(v, load)| (top - v, Force::from_si(load))));
    let per_kmh = rising.fit().per_pascal;
    assert!((per_kmh - K.load_lost_to_speed.value).abs() < 0.1, "the coefficient is this slope");
    let (pound, mile) = (unit("[lbf_av]").unwrap(), q::<Speed>(1.0, "[mi_i]/h"));
    let kmh_in_a_mile = unit("km/h").unwrap().read(mile);
    Answer::one("slope_n_per_kmh", -per_kmh)
        .and("intercept_n", at(&rising, top))
        .and("slope_lb_per_mph", pound.read(Force::from_si(-per_kmh * kmh_in_a_mile)))
}

fn scatter(loads: &[f64], cvs: &[f64]) -> Answer {
    let sds: Vec<f64> = loads.iter().zip(cvs).map(|(load, cv)| load * cv).collect();
    for (load, sd) in loads.iter().zip(&sds) {
        // Both ways through the share of lost contact lead back to the published mean.
        let lost = contact_loss(Force::from_si(*load), Force::from_si(*sd));
        let back = load_for_loss(lost, Force::from_si(*sd)).si();
        assert!((back - load).abs() < 1e-3, "{back} N for {load} N");
    }
    let typical = mean(&sds).unwrap();
    assert!((typical - K.load_scatter.value).abs() < 1.0, "the coefficient is their mean");
    Answer::list("sd_n", sds).and("mean_sd_n", typical)
}

/// What more straw adds to the force on a cutting disc.
pub(crate) fn straw(row: &Row) -> Answer {
    let straw = row.nums("straw_kg_ha");
    let forces = row.nums("vertical_kgf").into_iter().map(|f| q::<Force>(f, "kgf"));
    let line = line(straw.iter().copied().zip(forces));
    let ratio = at(&line, straw[1]) / at(&line, straw[0]);
    assert!(holds(&K.residue_force, ratio - 1.0), "outside the range of the coefficient");
    Answer::one("ratio", ratio).and("slope_n_per_1000_kg_ha", 1000.0 * line.fit().per_pascal)
}

/// Vertical force of a double disc by its diameter.
pub(crate) fn disc_force(row: &Row) -> Answer {
    let (discs, forces) = (row.nums("disc_mm"), row.nums("vertical_n"));
    let ratios = forces.iter().zip(row.nums("draft_n")).map(|(v, h)| v / h);
    let next = discs.iter().zip(&forces).take(2);
    let line = line(next.map(|(disc, force)| (*disc, Force::from_si(*force))));
    let on_381 = at(&line, 381.0);
    assert!(holds(&K.opener_resistance, on_381), "outside the range of the coefficient");
    Answer::list("ratio", ratios.collect::<Vec<_>>()).and("vertical_at_381_mm_kn", on_381 / 1000.0)
}
