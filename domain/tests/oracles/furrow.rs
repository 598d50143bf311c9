//! Rows about liquids in the furrow: flow, catch, salt, fertilizer with the seed.

use domain::conditions::Crop;
use domain::in_furrow::{
    CatchBasis, SaltSoil, SeedMaterial, SeedPlaced, SeedPlacedSoil, catch_test, course_length,
    outlet_flow, outlet_setting, salt_limit, seed_placed,
};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, Speed, VolumePerArea, unit};

use crate::answer::Answer;
use crate::q;
use crate::row::Row;

fn in_unit<Q: Measured>(quantity: Q, code: &str) -> f64 {
    unit(code).unwrap().read(quantity)
}

pub(crate) fn flow(row: &Row) -> Answer {
    if row.text("l_per_ha").is_some() {
        let rate: VolumePerArea = q(row.num("l_per_ha"), "L/har");
        let speed: Speed = q(row.num("speed_km_h"), "km/h");
        let (flow, _) = outlet_flow(rate, speed, q(row.num("row_width_m"), "m"));
        return Answer::one("flow_l_min", in_unit(flow, "L/min"));
    }
    let rate: VolumePerArea = q(row.num("gpa"), "[gal_us]/[acr_us]");
    let speed: Speed = q(row.num("speed_mph"), "[mi_i]/h");
    let width: Length = q(row.num("row_width_in"), "[in_i]");
    let (setting, _) = outlet_setting(rate, speed, width).unwrap();
    Answer::one("flow_gal_min", in_unit(setting.flow, "[gal_us]/min"))
        .and("catch_oz_min", in_unit(setting.in_a_minute, "[foz_us]"))
}

pub(crate) fn course(row: &Row) -> Answer {
    let lengths = row.nums("row_width_in").into_iter().map(|width| {
        let (length, _) = course_length(q(width, "[in_i]")).unwrap();
        in_unit(length, "[ft_i]")
    });
    Answer::list("course_ft", lengths)
}

/// The rate of one cup over a course.
fn of_one_cup(ounces: f64, length: Length, width: Length) -> Answer {
    let basis = CatchBasis::Course { length };
    let cups = [q(ounces, "[foz_us]")];
    let test = catch_test(&cups, basis, width, &Coefficients::STANDARD).unwrap();
    Answer::one("gal_per_ac", in_unit(test.mean, "[gal_us]/[acr_us]"))
}

pub(crate) fn band(row: &Row) -> Answer {
    let course = q(row.num("course_ft"), "[ft_i]");
    of_one_cup(row.num("ounces"), course, q(row.num("band_in"), "[in_i]"))
}

pub(crate) fn sprayer_check(row: &Row) -> Answer {
    let length: Length = q(row.num("length_ft"), "[ft_i]");
    let width = q(row.num("width_ft"), "[ft_i]");
    let ounces = row.num("ounces_in_51_s");
    let driven = of_one_cup(ounces, length, width);
    // The same cup held standing, for the speed at which the course took that time.
    let time = q(row.num("seconds"), "s");
    let timed = CatchBasis::Timed { time, speed: length / time };
    let cups = [q(ounces, "[foz_us]")];
    let standing = catch_test(&cups, timed, width, &Coefficients::STANDARD).unwrap();
    driven.and("gal_per_ac", in_unit(standing.mean, "[gal_us]/[acr_us]"))
}

pub(crate) fn salt(row: &Row) -> Answer {
    let soil = match row.text("soil") {
        Some("sandy") => SaltSoil::Sandy,
        Some("medium_fine") => SaltSoil::MediumOrFine,
        other => panic!("{}: no soil {other:?}", row.id),
    };
    let found: Vec<_> = row
        .nums("row_width_in")
        .into_iter()
        .map(|width| salt_limit(q(width, "[in_i]"), soil, &Coefficients::STANDARD).unwrap())
        .collect();
    let limits = found.iter().map(|it| in_unit(it.limit, "[lb_av]/[acr_us]"));
    let per_row = found.iter().map(|it| it.pounds_per_thousand_feet);
    Answer::list("limit_lb_ac", limits).and_list("lb_per_1000_ft", per_row)
}

pub(crate) fn seed_placed_material(row: &Row) -> Answer {
    assert_eq!((row.text("crop"), row.text("material")), (Some("corn"), Some("urea")));
    let case = SeedPlaced {
        crop: Crop::Corn,
        material: SeedMaterial::Urea,
        furrow: q(row.num("s_in"), "[in_i]"),
        row_width: q(row.num("r_in"), "[in_i]"),
        tolerated: Some(q(row.num("t_pct"), "%")),
        soil: SeedPlacedSoil::MoistMediumOrFine,
        factor: Some(row.num("mx")),
    };
    let material: Vec<f64> = row
        .nums("c")
        .into_iter()
        .map(|slope| {
            let mut k = Coefficients::STANDARD;
            k.stand_slope_urea_corn.value = slope;
            in_unit(seed_placed(&case, &k).unwrap().0, "[lb_av]/[acr_us]")
        })
        .collect();
    let answer = Answer::list("material_lb_ac", material.iter().copied());
    match row.text("n_fraction") {
        Some(_) => answer.and("n_lb_ac", material[0] * row.num("n_fraction")),
        None => answer,
    }
}
