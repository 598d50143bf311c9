//! What must hold whatever the coefficients: which law holds each invariant, and those laws that
//! have no better place.

mod cases;

use cases::{fields, inputs, q};
use domain::conditions::{CoverCrop, CoverSpecies, CoverState, Moisture, seed_zone};
use domain::planter::{Coulter, Hopper};
use domain::provenance::Coefficients;
use domain::quantity::{Force, Measured, Speed};
use domain::settings::forces::Balance;
use domain::settings::{Inputs, recommend};
use proptest::prelude::*;

const K: Coefficients = Coefficients::STANDARD;

/// The invariants of the field and of the row unit, each with the law that tries it.
const LAWS: &[(&str, &str, &str)] = &[
    (
        "more moisture never raises computed strength",
        FIELD,
        "strength_never_rises_with_water_nor_falls_with_density",
    ),
    (
        "strength never falls with bulk density",
        FIELD,
        "strength_never_rises_with_water_nor_falls_with_density",
    ),
    ("cover never falls with mass", FIELD, "cover_never_falls_with_mass"),
    ("more cover never raises soil temperature", HERE, "more_cover_never_raises_soil_temperature"),
    (
        "texture classification is total and unique",
        FIELD,
        "texture_is_total_and_unique_on_all_whole_points",
    ),
    ("texture between whole points too", FIELD, "texture_is_unique_between_whole_points"),
    (
        "the kill-date rule is never later than emergence",
        COVER,
        "the_last_day_is_never_later_than_emergence",
    ),
    (
        "a wait from the ball is never overridden by warm soil",
        TODAY,
        "a_wait_from_the_ball_is_never_overridden",
    ),
    (
        "missing inputs never narrow the range of the need",
        HERE,
        "missing_inputs_never_narrow_the_range",
    ),
    (
        "missing inputs never narrow the range of a cover",
        COVER,
        "missing_observations_of_a_cover_never_narrow_the_range",
    ),
    ("G is never negative; at or below 0 the unit rides out", SETTINGS, "the_balance_behaves"),
    (
        "what pushes down never lowers G, what lifts never raises it",
        HERE,
        "pushing_down_never_lowers_the_load_nor_lifting_raises_it",
    ),
    ("closing force lowers G one for one", SETTINGS, "the_balance_behaves"),
    (
        "arms that slope down never add; level arms make draft irrelevant",
        SETTINGS,
        "arms_that_slope_down_never_add_load",
    ),
    (
        "deeper, harder or more residue never lowers a reaction",
        SETTINGS,
        "deeper_or_harder_or_more_residue_never_lowers_a_reaction",
    ),
    (
        "speed never raises the load of a setting nor lowers the loss of contact",
        HERE,
        "more_speed_never_raises_the_load_of_a_setting",
    ),
    (
        "an empty hopper never needs a lighter setting",
        FORCES,
        "an_emptier_hopper_never_needs_a_lighter_setting",
    ),
    ("a worn disc never plants deeper", SETTINGS, "a_worn_disc_never_plants_deeper"),
    (
        "the target never exceeds the ceiling of the moisture",
        SETTINGS,
        "every_recommendation_is_finite_and_keeps_its_own_window",
    ),
];

const HERE: &str = include_str!("laws_invariants.rs");
const FIELD: &str = include_str!("laws_field.rs");
const SETTINGS: &str = include_str!("laws_settings.rs");
const FORCES: &str = include_str!("laws_forces.rs");
const COVER: &str = include_str!("laws_cover.rs");
const TODAY: &str = include_str!("advice_today.rs");

#[test]
fn every_invariant_has_its_law() {
    for (invariant, file, law) in LAWS {
        assert!(file.contains(&format!("fn {law}(")), "{invariant}: {law} is gone");
    }
}

fn force(newtons: f64) -> Force {
    Force::from_si(newtons)
}

/// A change to one term of the balance.
type Term = fn(&mut Balance, Force);

const PUSHES: [Term; 4] =
    [|b, f| b.unit += f, |b, f| b.seed += f, |b, f| b.attachments += f, |b, f| b.down_force += f];
const LIFTS: [Term; 4] =
    [|b, f| b.opener += f, |b, f| b.coulter += f, |b, f| b.cleaner += f, |b, f| b.closing += f];

/// Makes one figure that nobody gave known, at the figure that stood in for it.
type Learn = fn(&mut Inputs);

const LEARNT: [Learn; 7] = [
    |c| c.planter.unit.weight = Some(force(K.unit_weight.value)),
    |c| c.planter.unit.attachments = Some(force(K.attachment_weight.value)),
    |c| c.planter.unit.closing_lift = Some(force(K.closing_lift.value)),
    |c| c.planter.unit.arms.angle = Some(q(K.arms_level.value, "deg")),
    |c| c.field.moisture = Some(Moisture::Moist),
    |c| {
        if let Hopper::PerRow { volume } = &mut c.planter.unit.hopper {
            *volume = Some(q(K.hopper_volume.value, "[bu_us]"));
        }
    },
    |c| {
        let above = Some(q(K.coulter_above_opener.value, "mm"));
        c.planter.unit.coulter =
            c.planter.unit.coulter.map(|known| Coulter { above_opener: above, ..known });
    },
];

/// The case without any of these figures.
fn unknown(mut case: Inputs) -> Inputs {
    let unit = &mut case.planter.unit;
    (unit.weight, unit.attachments, unit.closing_lift) = (None, None, None);
    unit.arms.angle = None;
    unit.arms.bar_too_high = None;
    if let Hopper::PerRow { volume } = &mut unit.hopper {
        *volume = None;
    }
    unit.coulter = unit.coulter.map(|known| Coulter { above_opener: None, ..known });
    (case.field.moisture, case.field.ball) = (None, None);
    case
}

fn width(case: &Inputs) -> f64 {
    let f = recommend(case, &K).down_force;
    (f.need_high - f.need_low).si()
}

proptest! {
    #![proptest_config(cases::law(1_000))]

    #[test]
    fn more_cover_never_raises_soil_temperature(field in fields(), inches in 0.0..60.0_f64, more in 0.0..20.0_f64) {
        let mut field = field;
        field.read_outside_cover = true;
        let mut under = |height: f64, state: CoverState| {
            field.cover = Some(CoverCrop {
                height: Some(q(height, "[in_i]")),
                ground_cover: Some(q(100.0, "%")),
                state: Some(state),
                ..CoverCrop::of(CoverSpecies::CerealRye)
            });
            seed_zone(&field, &K)
        };
        let dead = under(inches, CoverState::DeadCrisp);
        let green = under(inches, CoverState::GreenStanding);
        let taller = under(inches + more, CoverState::GreenStanding);
        if let (Some(dead), Some(green), Some(taller)) = (dead, green, taller) {
            for (less, more) in [(&dead, &green), (&green, &taller)] {
                prop_assert!(more.low <= less.low && more.likely <= less.likely && more.high <= less.high);
            }
        }
    }

    #[test]
    fn missing_inputs_never_narrow_the_range(case in inputs(), order in Just([0, 1, 2, 3, 4, 5, 6]).prop_shuffle()) {
        let mut case = unknown(case);
        let mut last = width(&case);
        for at in order {
            LEARNT[at](&mut case);
            let now = width(&case);
            prop_assert!(now <= last + 1e-6, "learning {at} widens the need from {last} to {now} N");
            last = now;
        }
    }

    #[test]
    fn pushing_down_never_lowers_the_load_nor_lifting_raises_it(
        terms in prop::array::uniform9(0.0..2500.0_f64), more in 0.0..1000.0_f64,
    ) {
        let [unit, seed, attachments, down_force, arms, opener, coulter, cleaner, closing] = terms.map(force);
        let arms = arms - force(1250.0);
        let base = Balance { unit, seed, attachments, down_force, arms, opener, coulter, cleaner, closing };
        let load = base.gauge_wheel_load().si();
        for push in PUSHES {
            let mut changed = base;
            push(&mut changed, force(more));
            prop_assert!(changed.gauge_wheel_load().si() >= load);
            prop_assert!((changed.sum().si() - base.sum().si() - more).abs() < 1e-9);
        }
        for lift in LIFTS {
            let mut changed = base;
            lift(&mut changed, force(more));
            prop_assert!(changed.gauge_wheel_load().si() <= load);
            prop_assert!((base.sum().si() - changed.sum().si() - more).abs() < 1e-9);
        }
    }

    #[test]
    fn more_speed_never_raises_the_load_of_a_setting(case in inputs(), mph in 2.0..8.0_f64, more in 0.0..4.0_f64, newtons in 0.0..2500.0_f64) {
        let at = |mph: f64| {
            let mut case = case.clone();
            case.goals.depth = Some(q(2.0, "[in_i]"));
            case.goals.speed = Some(q::<Speed>(mph, "[mi_i]/h"));
            case.goals.down_force = Some(force(newtons));
            recommend(&case, &K).down_force
        };
        let (slow, fast) = (at(mph), at(mph + more));
        prop_assert_eq!(slow.per_row, fast.per_row, "the setting stays");
        for (slow, fast) in slow.as_box_empties.iter().zip(&fast.as_box_empties) {
            prop_assert!(fast.load.si() <= slow.load.si() + 1e-9);
            prop_assert!(fast.contact_loss >= slow.contact_loss - 1e-12);
        }
    }
}
