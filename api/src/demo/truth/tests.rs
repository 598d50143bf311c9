use domain::planter::ClosingPair;

use super::row::Row;
use super::{Dig, Ground, INCH, InUse, Iron, dig};
use crate::demo::scenario::fields::FIELDS;
use crate::demo::scenario::planters::PLANTERS;
use domain::conditions::Moisture;
use domain::dig::WheelFeel;

fn at(force: f64) -> InUse {
    InUse {
        force,
        lever: 2.0 * INCH,
        speed: 8.0,
        fill: 0.5,
        spacing: 6.0 * INCH,
        closing: ClosingPair::Rubber,
    }
}

fn mean_depth(dig: &Dig) -> f64 {
    let all: Vec<f64> = dig.rows.iter().flat_map(|row| row.seed_depths.clone()).collect();
    domain::stats::mean(&all).expect("seeds")
}

#[test]
fn a_unit_that_rides_out_runs_where_the_soil_carries_it() {
    let (iron, ground) = (Iron::of(&PLANTERS[0]), Ground::of(&FIELDS[0], Moisture::Moist));
    let in_use = at(-600.0);
    let row = Row { iron: &iron, ground: &ground, in_use: &in_use, number: 2 };
    assert!(row.load() < 0.0, "rides out");
    let depth = row.reached(0.0);
    assert!(depth > 0.0 && depth < row.stop());
    assert!(domain::quantity::Measured::si(row.balance(depth).sum()).abs() < 0.5, "in balance");
    assert_eq!(row.wheels(), WheelFeel::SpinFree);
}

#[test]
fn more_force_never_plants_shallower_and_ends_at_the_stop() {
    let (iron, ground) = (Iron::of(&PLANTERS[0]), Ground::of(&FIELDS[0], Moisture::Moist));
    let depths: Vec<f64> = (-4..12)
        .map(|step| mean_depth(&dig(&iron, &ground, &at(f64::from(step) * 250.0), "test")))
        .collect();
    assert!(depths.windows(2).all(|pair| pair[1] >= pair[0] - 1e-9), "{depths:?}");
    let last = *depths.last().expect("depths");
    assert!((last - 2.0 + iron.lost / INCH).abs() < 0.15, "{depths:?}");
}

#[test]
fn every_field_can_be_dug_and_the_same_words_dig_the_same() {
    for field in FIELDS {
        let (iron, ground) =
            (Iron::of(&PLANTERS[field.planter]), Ground::of(&field, Moisture::Moist));
        let first = dig(&iron, &ground, &at(600.0), field.name);
        assert_eq!(first, dig(&iron, &ground, &at(600.0), field.name));
        assert!((4..=6).contains(&first.rows.len()), "{}: {}", field.name, first.rows.len());
        for row in &first.rows {
            assert!((1..=iron.rows).contains(&row.row));
            assert!((5..=8).contains(&row.seed_depths.len()));
            assert_eq!(row.spacings.len() + 1, row.seed_depths.len());
            assert!(row.seed_depths.iter().all(|d| (0.0..=4.0).contains(d)));
        }
    }
}
