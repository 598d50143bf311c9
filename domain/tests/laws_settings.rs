//! Laws that settings keep whatever the coefficients (invariants of the balance B1 to B8).

mod cases;

use cases::{MOISTURES, inputs, q};
use domain::conditions::{CoverCrop, CoverSpecies, CoverState, SoilMakeup};
use domain::planter::{OpenerDisc, real_depth};
use domain::provenance::Coefficients;
use domain::quantity::{Force, Length, Measured};
use domain::settings::forces::{
    Balance, Soil, arm_force, contact_loss, coulter_reaction, opener_reaction,
};
use domain::settings::{Fill, Inputs, Recommendation, load_window, recommend};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

fn run(inputs: &Inputs) -> Recommendation {
    recommend(inputs, &K)
}

fn force(newtons: f64) -> Force {
    Force::from_si(newtons)
}

fn balances() -> impl Strategy<Value = Balance> {
    prop::array::uniform9(0.0..2500.0_f64).prop_map(|[u, s, a, d, h, o, c, r, l]| Balance {
        unit: force(u),
        seed: force(s),
        attachments: force(a),
        down_force: force(d),
        arms: force(h - 1250.0),
        opener: force(o),
        coulter: force(c),
        cleaner: force(r),
        closing: force(l),
    })
}

proptest! {
    #![proptest_config(cases::law(2_000))]

    #[test]
    fn more_speed_never_needs_less_force(case in inputs(), more in 0.0..6.0_f64) {
        let slow = case.goals.speed.unwrap_or_else(|| q(5.0, "[mi_i]/h"));
        let mut fast = case.clone();
        fast.goals.speed = Some(slow + q(more, "[mi_i]/h"));
        let mut at_slow = case;
        at_slow.goals.speed = Some(slow);
        let (slow, fast) = (run(&at_slow).down_force, run(&fast).down_force);
        prop_assert!(fast.need.si() >= slow.need.si() - 1e-6);
        prop_assert!(fast.need_low.si() >= slow.need_low.si() - 1.0, "{:?} {:?}", fast.need_low, slow.need_low);
        prop_assert!(fast.need_high.si() >= slow.need_high.si() - 1.0);
    }

    #[test]
    fn more_biomass_never_needs_less_force(case in inputs(), height in 6.0..60.0_f64, more in 0.0..24.0_f64) {
        let with_cover = |inches: f64| {
            let mut case = case.clone();
            case.field.cover = Some(CoverCrop {
                height: Some(q(inches, "[in_i]")),
                ground_cover: Some(q(90.0, "%")),
                state: Some(CoverState::GreenStanding),
                ..CoverCrop::of(CoverSpecies::CerealRye)
            });
            case.goals.depth = Some(q(2.0, "[in_i]"));
            run(&case).down_force.need.si()
        };
        prop_assert!(with_cover(height + more) >= with_cover(height) - 1e-6);
    }

    #[test]
    fn drier_soil_never_needs_less_force_and_wetter_never_raises_the_ceiling(case in inputs()) {
        let mut case = case;
        // Nothing but the hand says how hard or wet the soil is.
        case.field.ball = None;
        case.field.ribbon = None;
        case.field.penetration = None;
        case.field.strength_class = None;
        case.field.soil = SoilMakeup::UNKNOWN;
        case.goals.depth = Some(q(2.0, "[in_i]"));
        let results: Vec<_> = MOISTURES
            .iter()
            .map(|m| {
                case.field.moisture = Some(*m);
                run(&case).down_force
            })
            .collect();
        for pair in results.windows(2) {
            let (drier, wetter) = (&pair[0], &pair[1]);
            prop_assert!(drier.need.si() >= wetter.need.si() - 1e-6);
            prop_assert!(drier.window.ceiling.si() >= wetter.window.ceiling.si() - 1e-9);
        }
    }

    #[test]
    fn deeper_or_harder_or_more_residue_never_lowers_a_reaction(
        d in 0.01..0.12_f64, dd in 0.0..0.05_f64, n in 0.5..1.5_f64,
        s in 0.6..3.0_f64, ds in 0.0..1.0_f64, f in 1.0..1.2_f64, df in 0.0..0.1_f64,
    ) {
        let disc: Length = q(15.0, "[in_i]");
        let soil = Soil { exponent: n, state: s, residue: f };
        let harder = Soil { exponent: n, state: s + ds, residue: f + df };
        let at = |d: f64, soil| opener_reaction(500.0, Length::from_si(d), soil, disc).si();
        prop_assert!(at(d + dd, harder) >= at(d, soil) - 1e-9);
        let at = |d: f64, soil| coulter_reaction(900.0, Length::from_si(d), soil).si();
        prop_assert!(at(d + dd, harder) >= at(d, soil) - 1e-9);
    }

    #[test]
    fn the_balance_behaves(b in balances(), more in 0.0..1000.0_f64) {
        let load = b.gauge_wheel_load().si();
        prop_assert!(load >= 0.0);
        prop_assert_eq!(b.rides_out(), load <= 0.0);
        let heavier = Balance { down_force: b.down_force + force(more), ..b };
        prop_assert!(heavier.gauge_wheel_load().si() >= load);
        let harder = Balance { opener: b.opener + force(more), ..b };
        prop_assert!(harder.gauge_wheel_load().si() <= load);
        // Closing force lowers the load one for one.
        let closing = Balance { closing: b.closing + force(more), ..b };
        prop_assert!((b.sum().si() - closing.sum().si() - more).abs() < 1e-6);
        // What is needed for a load, once set, gives that load.
        let set = Balance { down_force: b.needed_down_force(force(more)), ..b };
        prop_assert!((set.sum().si() - more).abs() < 1e-6);
    }

    #[test]
    fn arms_that_slope_down_never_add_load(draft in 0.0..4000.0_f64, angle in 0.0..30.0_f64) {
        prop_assert!(arm_force(force(draft), q(angle, "deg")).si() <= 0.0);
        prop_assert!(arm_force(force(draft), q(0.0, "deg")).si().abs() < 1e-9);
    }

    #[test]
    fn less_load_never_loses_less_contact(load in 0.0..3000.0_f64, less in 0.0..1000.0_f64) {
        let sigma = force(476.0);
        prop_assert!(contact_loss(force(load - less), sigma) >= contact_loss(force(load), sigma));
    }

    #[test]
    fn a_worn_disc_never_plants_deeper(lever in 0.0..0.15_f64, worn in -0.01..0.06_f64) {
        let disc = OpenerDisc {
            new_diameter: q(15.0, "[in_i]"),
            measured: Some(q::<Length>(15.0, "[in_i]") - Length::from_si(worn)),
            manual_limit: None,
        };
        let depth = real_depth(Length::from_si(lever), &disc).si();
        prop_assert!(depth <= lever + 1e-12);
        prop_assert!(depth >= 0.0);
    }

    #[test]
    fn every_recommendation_is_finite_and_keeps_its_own_window(case in inputs()) {
        let r = run(&case);
        let f = &r.down_force;
        for n in [f.per_row, f.need, f.need_low, f.need_high, f.window.aim, f.window.low] {
            prop_assert!(n.si().is_finite());
        }
        prop_assert!(f.need_low <= f.need_high);
        prop_assert!((0.0..=1.0).contains(&f.chance_in_window), "{}", f.chance_in_window);
        prop_assert!(f.window.aim.si() <= f.window.ceiling.si() + 1e-9);
        prop_assert!(f.window.low.si() <= f.window.ceiling.si() + 1e-9);
        if let Some((least, most)) = case.planter.down_force.reach() {
            prop_assert!(f.per_row.si() >= least.si() - 1e-6 && f.per_row.si() <= most.si() + 1e-6);
        }
        prop_assert!(r.speed.choice.start.si() <= q::<domain::quantity::Speed>(9.01, "[mi_i]/h").si());
        for state in &f.as_box_empties {
            prop_assert!(state.load_low <= state.load_high && state.load.si() >= 0.0);
            prop_assert!((0.0..=1.0).contains(&state.contact_loss));
        }
        for step in &r.trace.steps {
            prop_assert!(step.value.is_finite(), "{step:?}");
            prop_assert!(!step.source.is_empty() && !step.formula.is_empty());
            prop_assert!(step.inputs.iter().all(|i| i.value.is_finite()));
        }
        for gain in &r.measure_next {
            prop_assert!((0.0..=1.0).contains(&gain.narrows_by));
        }
    }

    #[test]
    fn an_emptier_hopper_never_carries_more(case in inputs()) {
        let states = run(&case).down_force.as_box_empties;
        let load = |fill: Fill| states.iter().find(|s| s.fill == fill).map(|s| s.load.si());
        if let (Some(full), Some(half), Some(empty)) = (load(Fill::Full), load(Fill::Half), load(Fill::Empty)) {
            prop_assert!(full >= half && half >= empty);
        } else {
            prop_assert!(load(Fill::Central).is_some());
        }
    }

    #[test]
    fn weighing_never_widens_the_answer(case in inputs()) {
        let mut unknown = case;
        unknown.planter.unit.weight = None;
        unknown.planter.unit.attachments = None;
        unknown.planter.unit.closing_lift = None;
        let mut known = unknown.clone();
        known.planter.unit.weight = Some(force(K.unit_weight.value));
        known.planter.unit.attachments = Some(force(K.attachment_weight.value));
        known.planter.unit.closing_lift = Some(force(K.closing_lift.value));
        let width = |c: &Inputs| {
            let f = run(c).down_force;
            f.need_high.si() - f.need_low.si()
        };
        prop_assert!(width(&known) <= width(&unknown) + 1e-6);
        prop_assert!(run(&known).assumed.len() < run(&unknown).assumed.len());
    }

    #[test]
    fn what_cannot_be_had_is_said_with_what_would(case in inputs()) {
        use domain::settings::Reach;
        let r = run(&case);
        match r.down_force.reach {
            Reach::Within => {}
            Reach::TooLittle { short_by, .. } => {
                prop_assert!(short_by.si() > 0.0);
                prop_assert!(!r.remedies.is_empty());
                if case.planter.frame.is_empty() {
                    let source = &case.planter.down_force;
                    let (_, most) = source.reach().expect("a source that is too weak is known");
                    prop_assert_eq!(r.down_force.per_row, source.nearest_settable(most));
                }
            }
            Reach::TooMuch { over_by } => {
                prop_assert!(over_by.si() > 0.0);
                prop_assert!(!r.remedies.is_empty());
            }
        }
    }
}

#[test]
fn the_aim_never_exceeds_the_ceiling_of_the_moisture() {
    for moisture in MOISTURES {
        let window = load_window(moisture, None, &K);
        assert!(window.aim <= window.ceiling, "{moisture:?}");
    }
}
