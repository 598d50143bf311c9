//! The next down force.

use domain::dig::WheelFeel;
use domain::learning::{Need, Posterior, Steps, chance_in_window, decide};
use domain::planter::{DownForce, Notch};
use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured};
use domain::settings::load_window;
use proptest::prelude::*;

use crate::digs::{K, at_depth, event, here};
use crate::laws::{events, learned};

fn need() -> Need {
    let window = load_window(domain::conditions::Moisture::Moist, None, &K);
    Need {
        levels: vec![(1.0, 1_000.0)],
        metal: 1_000.0,
        lows: vec![(1.0, window.low.si())],
        window,
    }
}

fn known(digs: u128, inches: f64) -> Posterior {
    let digs: Vec<_> = (1..=digs)
        .map(|dig| event(dig, here(), 1_200.0, at_depth(WheelFeel::SpinFree, inches)))
        .collect();
    learned(&digs).posterior(&here())
}

fn bags() -> DownForce {
    DownForce::AirBag { calibration: None }
}

fn springs() -> DownForce {
    let notch =
        |label: &str, force: f64| Notch { label: label.to_owned(), force: Force::from_si(force) };
    DownForce::Spring {
        notches: vec![notch("1", 0.0), notch("2", 500.0), notch("3", 1_000.0), notch("4", 1_500.0)],
    }
}

fn steps() -> Steps {
    Steps::of(&K, None)
}

#[test]
fn the_load_is_aimed_into_the_window_at_the_factor_that_was_learned() {
    let posterior = known(6, 1.5);
    let decided = decide(&bags(), &need(), &posterior, None, &steps());
    let load = decided.force + 1_000.0 - 1_000.0 * posterior.range().likely;
    let window = need().window;
    assert!(window.low.si() < load && load < window.ceiling.si(), "{load}");
    assert!(decided.chance > 0.5 && !decided.held, "{decided:?}");
}

#[test]
fn the_chance_is_that_of_the_factors_between_the_edges() {
    let posterior = known(1, 1.5);
    let window = need().window;
    let by_hand: f64 = posterior
        .factors()
        .filter(|(factor, _)| {
            let load = 1_500.0 + 1_000.0 - 1_000.0 * factor;
            window.low.si() <= load && load <= window.ceiling.si()
        })
        .map(|(_, chance)| chance)
        .sum();
    // The grid has steps of 2 %: each edge may cut one of them.
    let top = posterior.factors().map(|(_, chance)| chance).fold(0.0, f64::max);
    assert!((chance_in_window(&need(), &posterior, 1_500.0) - by_hand).abs() < 2.0 * top);
}

#[test]
fn a_step_is_bounded_and_says_so() {
    let posterior = known(6, 1.0);
    let free = decide(&bags(), &need(), &posterior, None, &steps());
    assert!(free.force > 1_000.0, "{free:?}");
    let held = decide(&bags(), &need(), &posterior, Some(0.0), &steps());
    assert!(held.held && held.force <= K.largest_learned_step.value + 1e-6, "{held:?}");
    assert!(held.force > 700.0, "and goes as far as it may: {held:?}");
}

#[test]
fn what_is_good_enough_stays() {
    let posterior = known(6, 1.5);
    let best = decide(&bags(), &need(), &posterior, None, &steps()).force;
    let near = decide(&bags(), &need(), &posterior, Some(best + 5.0), &steps());
    assert!((near.force - best - 5.0).abs() < 1e-9, "{near:?}");
}

#[test]
fn springs_move_to_notches_and_the_frame_holds_them_back() {
    let posterior = known(6, 1.5);
    let decided = decide(&springs(), &need(), &posterior, Some(500.0), &steps());
    assert!([0.0, 500.0, 1_000.0, 1_500.0].iter().any(|f| (f - decided.force).abs() < 1e-9));
    assert!(decided.force > 500.0, "{decided:?}");
    let frame = Steps::of(&K, Some(Force::from_si(600.0)));
    let held = decide(&springs(), &need(), &posterior, Some(500.0), &frame);
    assert!((held.force - 500.0).abs() < 1e-9, "{held:?}");
}

#[test]
fn between_settings_as_good_as_each_other_the_lighter_wins() {
    // A window wider than anything that is uncertain: many forces are surely inside.
    let mut wide = need();
    wide.window.ceiling = Force::from_si(3_000.0);
    let posterior = known(6, 1.5);
    let decided = decide(&bags(), &wide, &posterior, None, &steps());
    assert!(decided.chance > 0.98);
    let lighter = chance_in_window(&wide, &posterior, decided.force - 60.0);
    let heavier = chance_in_window(&wide, &posterior, decided.force + 300.0);
    assert!(lighter < decided.chance && heavier >= decided.chance - 0.01, "{decided:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn a_change_within_reach_never_lowers_the_chance_and_none_goes_too_far(
        digs in events(6),
        now in 0.0..1_800.0_f64,
    ) {
        let k: &Coefficients = &K;
        let posterior = learned(&digs).posterior(&here());
        let decided = decide(&bags(), &need(), &posterior, Some(now), &Steps::of(k, None));
        let stayed = chance_in_window(&need(), &posterior, now);
        prop_assert!(decided.held || decided.chance >= stayed - 1e-12);
        prop_assert!((decided.force - now).abs() <= k.largest_learned_step.value + 1e-6);
        prop_assert!((0.0..=1.0 + 1e-9).contains(&decided.chance));
    }
}
