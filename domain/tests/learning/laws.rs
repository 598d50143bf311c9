//! Laws that hold for any digs.

use domain::dig::{PrintDepth, WheelFeel};
use domain::learning::{DigEvent, FACTOR_RANGE, Learned, Place, Posterior, RowSeen};
use proptest::prelude::*;

use crate::digs::{CLASS, OTHER, alike, at_depth, event, here, place, prior, reading};

pub(crate) fn learned(events: &[DigEvent]) -> Learned {
    Learned::from_events(prior(), reading(), 2026, events)
}

fn at(events: &[DigEvent], place: Place) -> Posterior {
    learned(events).posterior(&place)
}

fn agreeing(count: u128, place: Place) -> Vec<DigEvent> {
    (1..=count).map(|dig| event(dig, place, 1_200.0, at_depth(WheelFeel::SpinFree, 1.5))).collect()
}

fn middle(posterior: &Posterior) -> f64 {
    posterior.range().likely
}

#[test]
fn without_digs_the_prior_stands() {
    let before = learned(&[]).before_digs();
    assert_eq!(before, at(&[], here()));
    let range = before.range();
    assert!((range.likely - 1.0).abs() < 0.01, "{range:?}");
    // 1.645 standard deviations on each side; the ends of the grid take a little off.
    let wide = (1.645 * prior().total()).exp();
    assert!((range.high / wide - 1.0).abs() < 0.03 && (range.low * wide - 1.0).abs() < 0.03);
}

#[test]
fn digs_that_agree_narrow() {
    let spread: Vec<f64> = (0..8).map(|n| at(&agreeing(n, here()), here()).sd()).collect();
    assert!(spread.windows(2).all(|pair| pair[1] < pair[0]), "{spread:?}");
    assert!(spread[7] < 0.3 * spread[0], "{spread:?}");
}

#[test]
fn free_wheels_never_soften_and_locked_wheels_never_harden() {
    let before = learned(&[]).before_digs();
    for pushes in [600.0, 1_200.0, 1_800.0, 2_400.0] {
        let says = |feel| at(&[event(1, here(), pushes, alike(feel))], here());
        assert!(middle(&says(WheelFeel::SpinFree)) >= middle(&before) - 1e-9);
        assert!(middle(&says(WheelFeel::Locked)) <= middle(&before) + 1e-9);
    }
}

#[test]
fn a_furrow_that_ends_shallow_with_free_wheels_measures_the_factor() {
    // 1,200 N hold the opener at 1.5 of 2 in: the soil asks for 1,200 / 0.75 N at the stop.
    let posterior = at(&agreeing(4, here()), here());
    let truth = 1_200.0 / 0.75 / 1_000.0;
    assert!((middle(&posterior) / truth).ln().abs() < 0.12, "{:?}", posterior.range());
}

#[test]
fn one_odd_dig_moves_little() {
    let mut digs = agreeing(5, here());
    let before = at(&digs, here());
    digs.push(event(99, here(), 1_200.0, alike(WheelFeel::Locked)));
    let after = at(&digs, here());
    assert!((middle(&after) / middle(&before)).ln().abs() < 0.10, "{:?}", after.range());
    // The same dig alone moves a lot: it is the others that hold it.
    let alone = at(&digs[5..], here());
    assert!((middle(&alone) / middle(&before)).ln().abs() > 0.5, "{:?}", alone.range());
}

#[test]
fn a_dig_that_cannot_be_says_nothing() {
    // Wheels locked, no print at all, on each row: no load feels like that.
    let rows = vec![
        RowSeen {
            wheels: Some(WheelFeel::Locked),
            print: Some(PrintDepth::None),
            ..RowSeen::default()
        };
        4
    ];
    let (before, after) = (at(&[], here()), at(&[event(1, here(), 1_500.0, rows)], here()));
    assert!((middle(&after) / middle(&before)).ln().abs() < 0.15, "{:?}", after.range());
    assert!(after.sd() > 0.8 * before.sd());
}

#[test]
fn the_own_planter_says_more_than_the_neighbours_and_that_more_than_another_soil() {
    let digs = agreeing(6, here());
    let asked =
        [here(), place(CLASS, 1, 2, 2026), place(CLASS, 2, 3, 2026), place(OTHER, 2, 4, 2026)];
    let spread: Vec<f64> = asked.iter().map(|place| at(&digs, *place).sd()).collect();
    assert!(spread.windows(2).all(|pair| pair[0] < pair[1]), "{spread:?}");
    let moved: Vec<f64> = asked.iter().map(|place| middle(&at(&digs, *place))).collect();
    assert!(moved.windows(2).all(|pair| pair[0] > pair[1]), "{moved:?}");
    assert!(moved[3] > 1.02, "even the other soil learns a little: {moved:?}");
}

#[test]
fn more_fields_of_one_planter_teach_more_than_more_digs_in_one_field() {
    let many = agreeing(6, here());
    let spread: Vec<DigEvent> = (1..=6)
        .map(|n| event(n, place(CLASS, 1, n, 2026), 1_200.0, at_depth(WheelFeel::SpinFree, 1.5)))
        .collect();
    let next = place(CLASS, 1, 77, 2026);
    assert!(at(&spread, next).sd() < at(&many, next).sd());
}

#[test]
fn years_that_pass_widen_what_is_known_and_lead_back_to_the_prior() {
    let mut known = learned(&agreeing(6, here()));
    let (mut spread, mut moved) = (Vec::new(), Vec::new());
    for season in [2026, 2027, 2029, 2034, 2050] {
        known.turn_to(season);
        let posterior = known.posterior(&place(CLASS, 1, 1, season));
        spread.push(posterior.sd());
        moved.push(middle(&posterior));
    }
    assert!(spread.windows(2).all(|pair| pair[0] < pair[1]), "{spread:?}");
    assert!(moved.windows(2).all(|pair| pair[0] > pair[1]), "{moved:?}");
    assert!(moved[4] > 1.0, "slow: after 24 years something is left, {moved:?}");
}

#[test]
fn digs_are_counted_from_near_to_far() {
    let mut digs = agreeing(3, here());
    digs.push(event(10, place(CLASS, 1, 1, 2025), 1_200.0, alike(WheelFeel::SpinFree)));
    digs.push(event(11, place(CLASS, 1, 2, 2026), 1_200.0, alike(WheelFeel::SpinFree)));
    digs.push(event(12, place(CLASS, 2, 3, 2026), 1_200.0, alike(WheelFeel::SpinFree)));
    digs.push(event(13, place(OTHER, 2, 4, 2026), 1_200.0, alike(WheelFeel::SpinFree)));
    let counted = learned(&digs).digs(&here());
    let each = [counted.season, counted.field, counted.planter, counted.class, counted.practice];
    assert_eq!(each, [3, 4, 5, 6, 7]);
}

#[test]
fn a_dig_that_is_sent_again_or_corrected_counts_once() {
    let wrong = event(1, here(), 1_200.0, alike(WheelFeel::Locked));
    let right = event(1, here(), 1_200.0, at_depth(WheelFeel::SpinFree, 1.5));
    let both = learned(&[wrong.clone(), right.clone()]);
    assert_eq!(both, learned(std::slice::from_ref(&right)));
    let mut added = learned(&[wrong]);
    added.add(&right);
    assert_eq!(added, both);
}

fn feels() -> impl Strategy<Value = Option<WheelFeel>> {
    prop::option::of(prop::sample::select(vec![
        WheelFeel::SpinFree,
        WheelFeel::TurnWithEffort,
        WheelFeel::Locked,
    ]))
}

fn rows_seen() -> impl Strategy<Value = Vec<RowSeen>> {
    let prints = prop::option::of(prop::sample::select(vec![
        PrintDepth::None,
        PrintDepth::Light,
        PrintDepth::Deep,
    ]));
    let logged = prop::option::weighted(0.2, 0.0..3_000.0_f64);
    let depths = prop::collection::vec(0.0..0.1_f64, 0..10);
    let one = (any::<bool>(), feels(), prints, prop::option::of(any::<bool>()), logged, depths);
    let one = one.prop_map(|(behind_tyre, wheels, print, shiny, logged, depths)| RowSeen {
        behind_tyre,
        wheels,
        print,
        shiny,
        logged,
        depths,
    });
    prop::collection::vec(one, 1..6)
}

pub(crate) fn events(most: usize) -> impl Strategy<Value = Vec<DigEvent>> {
    let places = (any::<bool>(), 1..3_u128, 1..4_u128, 2022..=2026_u16);
    let one = (places, -500.0..4_000.0_f64, rows_seen());
    prop::collection::vec(one, 0..most).prop_map(|all| {
        (1_u128..)
            .zip(all)
            .map(|(dig, ((class, planter, field, season), pushes, rows))| {
                let class = if class { CLASS } else { OTHER };
                event(dig, place(class, planter, field, season), pushes, rows)
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn nothing_leaves_the_range_and_chances_stay_chances(digs in events(12)) {
        let posterior = at(&digs, here());
        let range = posterior.range();
        prop_assert!(FACTOR_RANGE.0 <= range.low && range.low <= range.likely);
        prop_assert!(range.likely <= range.high && range.high <= FACTOR_RANGE.1);
        let sum: f64 = posterior.factors().map(|(_, chance)| chance).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9);
        prop_assert!(posterior.below(FACTOR_RANGE.0) <= 1e-12);
        prop_assert!((posterior.below(FACTOR_RANGE.1) - 1.0).abs() < 1e-9);
        for p in [0.05, 0.3, 0.5, 0.9] {
            prop_assert!((posterior.below(posterior.quantile(p)) - p).abs() < 1e-6);
        }
    }

    #[test]
    fn one_by_one_is_the_same_as_all_at_once_in_any_order(
        digs in events(12),
        turn in 0..12_usize,
    ) {
        let whole = learned(&digs);
        let mut one_by_one = learned(&[]);
        let turn = turn.min(digs.len());
        for event in digs[turn..].iter().chain(&digs[..turn]) {
            one_by_one.add(event);
        }
        prop_assert_eq!(whole, one_by_one);
    }

    #[test]
    fn events_survive_storage(digs in events(4)) {
        let text = serde_json::to_string(&digs).unwrap();
        let read: Vec<DigEvent> = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(at(&read, here()), at(&digs, here()));
    }
}
