//! A practice's own figures, and sets as they are stored.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::float_cmp,
    clippy::indexing_slicing,
    clippy::allow_attributes,
    reason = "figures are carried, not calculated, so they stay as they are"
)]

mod cases;

use domain::provenance::{Coefficient, Coefficients, Mark, OwnFault, OwnFigure, SetFault};
use domain::quantity::Measured;
use domain::settings::recommend;
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn own(name: &str, [low, value, high]: [f64; 3]) -> OwnFigure {
    OwnFigure { name: name.to_owned(), value, low, high, source: "weighed in the shop".to_owned() }
}

#[test]
fn an_own_figure_takes_the_place_of_the_standard_one_and_says_so() {
    let set = K.with_own(&[own("unit_weight", [700.0, 720.0, 740.0])]).unwrap();
    let k = &set.unit_weight;
    assert_eq!((k.low, k.value, k.high), (700.0, 720.0, 740.0));
    assert_eq!((k.mark, &*k.source), (Mark::Own, "weighed in the shop"));
    assert_eq!((k.name, k.unit, k.within), ("unit_weight", "N", K.unit_weight.within));
    let changed = set.all().into_iter().zip(K.all()).filter(|(now, before)| now != before);
    assert_eq!(changed.count(), 1, "nothing else changes");
}

#[test]
fn a_figure_that_is_not_fit_is_refused_with_its_reason() {
    let refused = |figure: OwnFigure| K.with_own(&[figure]).unwrap_err();
    assert_eq!(
        refused(own("weight_of_unit", [1.0, 2.0, 3.0])),
        OwnFault::UnknownName("weight_of_unit".to_owned())
    );
    assert_eq!(
        refused(own("unit_weight", [730.0, 720.0, 740.0])),
        OwnFault::LowAboveValue { low: 730.0, value: 720.0 }
    );
    assert_eq!(
        refused(own("unit_weight", [700.0, 720.0, 710.0])),
        OwnFault::ValueAboveHigh { value: 720.0, high: 710.0 }
    );
    let nameless = OwnFigure { source: " \t".to_owned(), ..own("unit_weight", [700.0; 3]) };
    assert_eq!(refused(nameless), OwnFault::NoSource);
    // 175 lbf, entered as if newtons were pounds: below a third of 667 N.
    let fault = refused(own("unit_weight", [170.0, 175.0, 180.0]));
    assert!(
        fault.to_string().starts_with("value 175 is outside 222.33333333333334 to 2670 N"),
        "{fault}"
    );
    for not_a_number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let fault = refused(own("unit_weight", [700.0, not_a_number, 740.0]));
        assert!(matches!(fault, OwnFault::Outside { member: "value", .. }), "{fault}");
    }
}

#[test]
fn what_is_fit_is_taken_beside_what_is_not() {
    let figures = [own("gone", [1.0; 3]), own("unit_weight", [700.0, 720.0, 740.0])];
    let (set, wrong) = K.with_fit(&figures);
    assert_eq!(set.unit_weight.value, 720.0);
    assert_eq!(wrong, [("gone".to_owned(), OwnFault::UnknownName("gone".to_owned()))]);
}

#[test]
fn every_row_is_in_order_inside_its_hard_bounds_and_has_a_source() {
    let mut names = std::collections::BTreeSet::new();
    for k in K.all() {
        let Coefficient { name, low, value, high, within, .. } = k;
        assert!(names.insert(*name), "{name} stands twice");
        assert!(low <= value && value <= high, "{name}: {low}, {value}, {high}");
        assert!(within.holds(*low) && within.holds(*high), "{name}: {within:?}");
        assert!(within.least < within.most, "{name}: nothing can be set");
        assert!(within.least.is_finite() && within.most.is_finite(), "{name}: {within:?}");
        assert!(!k.source.trim().is_empty() && !k.what.is_empty(), "{name}");
        let share = k.what.starts_with("Share") || k.what.starts_with("Germination");
        if k.unit == "1" && share {
            assert!(within.least >= 0.0 && within.most <= 1.0, "{name} is a share: {within:?}");
        }
        let on_a_scale = k.unit == "[degF]" && *low > 20.0;
        if on_a_scale {
            assert!(within.least >= 20.0 && within.most <= 110.0, "{name}: {within:?} °F");
        }
        let itself = OwnFigure {
            name: (*name).to_owned(),
            value: *value,
            low: *low,
            high: *high,
            source: k.source.to_string(),
        };
        assert_eq!(k.faults_of(&itself), [], "{name}: the figure that ships must be allowed");
    }
}

#[test]
fn the_counts_by_mark_add_up() {
    let counts = K.counts_by_mark();
    assert_eq!(counts.iter().map(|(_, n)| n).sum::<usize>(), K.all().len());
    assert!(counts.iter().all(|(mark, _)| *mark != Mark::Own), "none of the practice's own ships");
    let set = K.with_own(&[own("unit_weight", [700.0, 720.0, 740.0])]).unwrap();
    let of = |set: &Coefficients, mark| {
        set.counts_by_mark().into_iter().find(|(m, _)| *m == mark).map_or(0, |(_, n)| n)
    };
    assert_eq!(of(&set, Mark::Own), 1);
    assert_eq!(of(&set, Mark::Read), of(&K, Mark::Read) - 1);
    let mut marks: Vec<Mark> = Mark::ALL.to_vec();
    marks.sort_unstable();
    assert_eq!(marks, Mark::ALL, "the order of the list is that of the weakest mark");
}

#[test]
fn a_set_comes_back_from_storage_as_it_was() {
    let set = K.with_own(&[own("unit_weight", [700.1, 720.3, 740.7])]).unwrap();
    let text = serde_json::to_string(&set.figures()).unwrap();
    let read = Coefficients::from_figures(&serde_json::from_str::<Vec<_>>(&text).unwrap()).unwrap();
    assert!(read == set, "a figure changed on the way");
    let inputs = cases::worked_case();
    assert!(recommend(&inputs, &read) == recommend(&inputs, &set));
    assert_ne!(recommend(&inputs, &read).down_force.need, recommend(&inputs, &K).down_force.need);
}

#[test]
fn a_set_of_this_engine_must_be_complete_and_an_older_one_is_filled_up() {
    let mut figures = K.figures();
    let last = figures.pop().unwrap();
    let missing = SetFault::Missing(last.name.to_string());
    assert_eq!(Coefficients::from_figures(&figures), Err(missing));
    assert_eq!(Coefficients::from_older_figures(&figures), Ok(K));
    let mut more = K.figures();
    more.push(domain::provenance::Figure { name: "gone".into(), ..last.clone() });
    assert_eq!(Coefficients::from_figures(&more), Err(SetFault::Unknown("gone".to_owned())));
    assert_eq!(Coefficients::from_older_figures(&more), Ok(K));
    let mut twice = K.figures();
    twice.push(last.clone());
    assert_eq!(
        Coefficients::from_older_figures(&twice),
        Err(SetFault::Twice(last.name.to_string()))
    );
    let mut other = K.figures();
    other[0].unit = "[lbf_av]".into();
    assert!(matches!(
        Coefficients::from_older_figures(&other),
        Err(SetFault::OtherUnit { stored, now, .. }) if stored == "[lbf_av]" && now == "N"
    ));
}

/// Three places inside the hard bounds of a row, in order.
fn figure_of(k: &Coefficient, places: [f64; 3]) -> OwnFigure {
    let mut places = places;
    places.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let figure = k.within.least + share * (k.within.most - k.within.least);
        figure.clamp(k.within.least, k.within.most)
    };
    own(k.name, places.map(at))
}

proptest! {
    #![proptest_config(cases::law(1_000))]

    /// Whatever a practice may set, the engine gives numbers, and the same ones again.
    #[test]
    fn no_set_that_is_taken_breaks_the_engine(
        inputs in cases::inputs(),
        places in proptest::collection::vec([0.0..=1.0_f64, 0.0..=1.0, 0.0..=1.0], 0..12),
        rows in proptest::collection::vec(any::<prop::sample::Index>(), 12),
    ) {
        let all = K.all();
        let at = |row: &prop::sample::Index| all[row.index(all.len())];
        let figures: Vec<OwnFigure> =
            places.iter().zip(&rows).map(|(p, row)| figure_of(at(row), *p)).collect();
        let set = K.with_own(&figures).unwrap();
        let sheet = recommend(&inputs, &set);
        prop_assert!(sheet.depth_used.si().is_finite());
        let text = serde_json::to_string(&sheet).unwrap();
        prop_assert!(!text.contains("-0.0,") && !text.contains("-0.0}"), "not every database keeps it");
        // JSON has no word for what is not a number: it would read `null`.
        let read: domain::settings::Recommendation = serde_json::from_str(&text)
            .map_err(|e| TestCaseError::fail(format!("{e}: {figures:?}")))?;
        prop_assert!(read == sheet, "{figures:?}");
        let stored = Coefficients::from_figures(&set.figures()).unwrap();
        prop_assert!(recommend(&inputs, &stored) == sheet);
    }
}
