//! Rows about the nitrogen of a cover crop and the day of its end.

use chrono::NaiveDate;
use domain::conditions::{
    Conditions, CoverClip, CoverCrop, CoverSpecies, Crop, TerminationZone, cover_nitrogen,
    termination,
};
use domain::provenance::Coefficients;
use domain::quantity::ArealMassDensity;

use crate::answer::{Answer, Got};
use crate::q;
use crate::row::Row;

const K: Coefficients = Coefficients::STANDARD;

fn pounds(mass: ArealMassDensity) -> f64 {
    domain::quantity::unit("[lb_av]/[acr_us]").unwrap().read(mass)
}

/// Dry matter and nitrogen of a laboratory in, nitrogen in the tops and the credits out.
pub(crate) fn nitrogen(row: &Row) -> Answer {
    let clip = CoverClip { dry: q(row.num("dry_lb_ac"), "[lb_av]"), area: q(1.0, "[acr_us]") };
    let cover = CoverCrop {
        clip: Some(clip),
        nitrogen: Some(q(row.num("n_pct"), "%")),
        ..CoverCrop::of(CoverSpecies::HairyVetch)
    };
    let found = cover_nitrogen(&cover, &K);
    let credit = |tilled: bool| {
        let of = |c: &&domain::conditions::NitrogenCredit| {
            c.tilled == tilled && c.source.starts_with("North Carolina")
        };
        pounds(found.available.iter().find(of).unwrap().nitrogen)
    };
    Answer::one("n_lb_ac", pounds(found.in_tops.likely))
        .and("n_incorporated_lb_ac", credit(true))
        .and("n_surface_lb_ac", credit(false))
}

fn day(text: &str) -> NaiveDate {
    NaiveDate::parse_from_str(&format!("2027-{text}"), "%Y-%m-%d").unwrap()
}

/// The last day for ending a cover; where a row names no crop, both crops must agree.
pub(crate) fn last_day(row: &Row) -> Answer {
    let zone = match row.text("zone") {
        Some("1") => TerminationZone::One,
        Some("2") => TerminationZone::Two,
        Some("3") => TerminationZone::Three,
        Some("4") => TerminationZone::Four,
        other => panic!("{}: zone {other:?}", row.id),
    };
    let crops = match row.text("crop") {
        None => vec![Crop::Corn, Crop::Soybean],
        Some(_) => vec![crate::seed::crop(row)],
    };
    let days: Vec<Option<NaiveDate>> = row
        .text("emergence")
        .map_or_else(|| vec![None], |text| text.split('|').map(|d| Some(day(d))).collect());
    let last = |emergence: Option<NaiveDate>| {
        let found: Vec<NaiveDate> = crops
            .iter()
            .map(|crop| {
                let field = Conditions {
                    planting_date: Some(day(row.text("planting").unwrap())),
                    termination_zone: Some(zone),
                    ..Conditions::of(*crop)
                };
                termination(&field, emergence).latest.unwrap()
            })
            .collect();
        assert!(found.windows(2).all(|pair| pair[0] == pair[1]), "{}: {found:?}", row.id);
        Got::Word(found[0].format("%m-%d").to_string())
    };
    let mut answer = Answer::default();
    answer.values.push(("last_kill", days.into_iter().map(last).collect()));
    answer
}
