//! Laws of layouts, for any design.

use std::collections::BTreeSet;

use proptest::prelude::*;

use super::design::{Design, DesignFault, Order, Rows, Treatment, Trying, Way};
use super::layout::{Heading, Layout, Plot, lay_out};
use crate::provenance::Coefficients;
use crate::quantity::{Length, Measured};

const K: Coefficients = Coefficients::STANDARD;

fn treatment(name: &str) -> Treatment {
    Treatment { name: name.to_owned(), control: false, rows: Vec::new() }
}

pub(super) fn design(way: Way, treatments: usize, blocks: u16, rows: u16, seed: u32) -> Design {
    let names = ["smooth", "spiked", "one of each", "finger", "cast iron", "none"];
    Design {
        trying: Trying::ClosingWheel,
        treatments: names.iter().take(treatments).map(|name| treatment(name)).collect(),
        way,
        blocks,
        border_rows: 0,
        strip_length: Length::from_si(200.0),
        harvest_rows: None,
        order: Order::Randomised { seed },
        planter: Rows { count: rows, width: Length::from_si(0.762), behind_tyres: Vec::new() },
    }
}

fn laid(design: &Design) -> Layout {
    lay_out(design, &K).expect("a layout")
}

fn block(layout: &Layout, block: u16) -> Vec<&Plot> {
    layout.plots.iter().filter(|plot| plot.block == block).collect()
}

fn any_way() -> impl Strategy<Value = Way> {
    prop_oneof![
        (1_u16..4, any::<bool>()).prop_map(|(each, moved)| Way::PlanterRows { each, moved }),
        (1_u16..4).prop_map(|passes| Way::Strips { passes }),
        Just(Way::SplitPlanter),
    ]
}

prop_compose! {
    fn any_design()(
        way in any_way(), treatments in 2_usize..=6, blocks in 1_u16..=12,
        rows in 2_u16..=48, seed: u32, tyres in prop::collection::btree_set(1_u16..=48, 0..5),
    ) -> Design {
        let treatments = if way == Way::SplitPlanter { 2 } else { treatments };
        let mut design = design(way, treatments, blocks, rows, seed);
        design.planter.behind_tyres = tyres.into_iter().filter(|row| *row <= rows).collect();
        design
    }
}

proptest! {
    #[test]
    fn each_block_has_every_treatment_once(design in any_design()) {
        let Ok(layout) = lay_out(&design, &K) else { return Ok(()) };
        let many = design.treatments.len();
        prop_assert_eq!(layout.plots.len(), many * usize::from(design.blocks));
        for number in 1..=design.blocks {
            let plots = block(&layout, number);
            let treatments: BTreeSet<u16> = plots.iter().map(|plot| plot.treatment).collect();
            prop_assert_eq!(plots.len(), many);
            prop_assert_eq!(treatments.len(), many);
        }
        let numbers: Vec<u16> = layout.plots.iter().map(|plot| plot.number).collect();
        let expected: Vec<u16> = (1..).take(numbers.len()).collect();
        prop_assert_eq!(numbers, expected);
    }

    #[test]
    fn a_seed_gives_the_same_layout_again(design in any_design()) {
        prop_assert_eq!(lay_out(&design, &K), lay_out(&design, &K));
    }

    #[test]
    fn no_treatment_has_only_outer_or_tyre_rows(mut design in any_design(), each in 1_u16..4, moved: bool) {
        design.way = Way::PlanterRows { each, moved };
        match lay_out(&design, &K) {
            Err(faults) => {
                let few = matches!(faults.as_slice(), [DesignFault::TooFewRows { .. }]);
                prop_assert!(few, "{:?}", faults);
                // There really is no row off the ends and tyres for each, or not that many rows.
                let good = (1..=design.planter.count).filter(|row| !design.is_odd_row(*row)).count();
                let rows = usize::from(design.planter.count);
                let many = design.treatments.len();
                prop_assert!(good < many || rows < many * usize::from(each), "{:?}", design);
            }
            Ok(layout) => for plot in &layout.plots {
                prop_assert_eq!(plot.rows.len(), usize::from(each));
                prop_assert!(plot.rows.iter().all(|row| (1..=design.planter.count).contains(row)));
                prop_assert!(!plot.rows.iter().all(|row| design.is_odd_row(*row)), "{:?}", plot);
            },
        }
    }

    #[test]
    fn rows_of_a_block_are_all_different(design in any_design()) {
        let Ok(layout) = lay_out(&design, &K) else { return Ok(()) };
        if matches!(design.way, Way::Strips { .. }) { return Ok(()) }
        for number in 1..=design.blocks {
            let rows: Vec<u16> = block(&layout, number).iter().flat_map(|it| it.rows.clone()).collect();
            let once: BTreeSet<u16> = rows.iter().copied().collect();
            prop_assert_eq!(rows.len(), once.len());
        }
    }

    #[test]
    fn pairs_of_rows_lie_no_further_left_than_others(seed: u32, pairs in 1_u16..3, rows in 8_u16..=24) {
        // Alike on both sides, with rows enough off the ends and tyres.
        let design = design(Way::PlanterRows { each: 2 * pairs, moved: false }, 2, 4, rows * 2, seed);
        let layout = laid(&design);
        let middle = f64::midpoint(f64::from(rows) * 2.0, 1.0);
        for plot in block(&layout, 1) {
            let sum: f64 = plot.rows.iter().map(|row| f64::from(*row)).sum();
            let mean = sum / f64::from(2 * pairs);
            prop_assert!((mean - middle).abs() < 1e-9, "{:?}", plot);
        }
    }

    #[test]
    fn halves_lie_on_either_side_equally_often(seed: u32, blocks in 1_u16..=12, rows in 4_u16..=48) {
        let layout = laid(&design(Way::SplitPlanter, 2, blocks, rows, seed));
        // The left plot of a pass comes first.
        let left = |treatment| {
            layout.plots.iter().filter(|it| it.place % 2 == 1 && it.treatment == treatment).count()
        };
        prop_assert!(left(0).abs_diff(left(1)) <= 1);
        let there = layout.plots.iter().filter(|it| it.heading == Some(Heading::There)).count() / 2;
        prop_assert!((there * 2).abs_diff(usize::from(blocks)) <= 1);
        // The parts stay on their rows.
        for treatment in 0..2 {
            let of: BTreeSet<Vec<u16>> = layout.plots.iter()
                .filter(|it| it.treatment == treatment).map(|it| it.rows.clone()).collect();
            prop_assert_eq!(of.len(), 1);
        }
    }
}

#[test]
fn strips_come_in_every_order_equally_often() {
    let mut seen = std::collections::BTreeMap::<Vec<u16>, u32>::new();
    for seed in 0..3000 {
        let layout = laid(&design(Way::Strips { passes: 1 }, 3, 1, 8, seed));
        *seen.entry(layout.plots.iter().map(|it| it.treatment).collect()).or_default() += 1;
    }
    assert_eq!(seen.len(), 6);
    let chi: f64 = seen.values().map(|n| (f64::from(*n) - 500.0).powi(2) / 500.0).sum();
    assert!(chi < 20.5, "{seen:?}");
}

#[test]
fn every_row_gets_either_part_equally_often() {
    let mut first = 0;
    for seed in 0..2000 {
        let layout = laid(&design(Way::PlanterRows { each: 2, moved: false }, 2, 4, 8, seed));
        let rows = |treatment| layout.rows_of(1, treatment).to_vec();
        // Rows 3 and 6 run behind tyres on eight rows where nobody says otherwise.
        let mut both = [rows(0), rows(1)].concat();
        both.sort_unstable();
        assert_eq!(both, [2, 4, 5, 7]);
        assert!(rows(0) == [2, 7] || rows(0) == [4, 5], "{:?}", rows(0));
        first += u32::from(rows(0) == [2, 7]);
    }
    assert!((900..=1100).contains(&first), "{first} of 2000");
}

#[test]
fn rows_that_somebody_chose_are_checked() {
    let mut chosen = design(Way::PlanterRows { each: 2, moved: false }, 2, 4, 8, 1);
    let mut with = |a: &[u16], b: &[u16]| {
        for (it, rows) in chosen.treatments.iter_mut().zip([a, b]) {
            it.rows = rows.to_vec();
        }
        lay_out(&chosen, &K)
    };
    assert_eq!(with(&[1, 8], &[2, 4]), Err(vec![DesignFault::OnlyOddRows { treatment: 0 }]));
    assert_eq!(with(&[3, 6], &[2, 4]), Err(vec![DesignFault::OnlyOddRows { treatment: 0 }]));
    let no_such = DesignFault::NoSuchRow { treatment: 1, place: 1, row: 9, rows: 8 };
    assert_eq!(with(&[2, 4], &[5, 9]), Err(vec![no_such]));
    let twice = DesignFault::RowTwice { treatment: 1, place: 0, row: 4 };
    assert_eq!(with(&[2, 4], &[4, 5]), Err(vec![twice]));
    assert_eq!(with(&[2, 4], &[]), Err(vec![DesignFault::RowsOfSome { treatment: 1 }]));
    let layout = with(&[1, 4], &[5, 8]).expect("one good row each will do");
    assert!(!layout.randomised && layout.seed.is_none(), "nobody drew it");
}

#[test]
fn what_is_short_few_or_not_drawn_is_said() {
    let said = |design: &Design| -> String {
        laid(design).notices.iter().map(|it| it.text.to_string()).collect::<Vec<_>>().join("\n")
    };
    let good = design(Way::Strips { passes: 1 }, 2, 4, 8, 1);
    let mut long = good.clone();
    long.strip_length = Length::from_si(300.0);
    long.trying = Trying::DownForce;
    assert_eq!(said(&long), "", "nothing to say");
    let mut short = long.clone();
    short.strip_length = Length::from_si(60.0);
    assert!(said(&short).contains("197 ft are short"), "{}", said(&short));
    let few = Design { blocks: 3, ..long.clone() };
    assert!(said(&few).contains("3 blocks are few: 4 are recommended"), "{}", said(&few));
    let one = Design { blocks: 1, ..long.clone() };
    assert!(said(&one).contains("no interval or p-value"), "{}", said(&one));
    let listed = Design { order: Order::AsListed, ..long };
    assert!(said(&listed).contains("chance did not decide"), "{}", said(&listed));
    assert!(said(&good).contains("on one or two rows"), "{}", said(&good));
}

#[test]
fn the_harvester_must_fit_between_the_borders() {
    let mut strips = design(Way::Strips { passes: 1 }, 2, 4, 8, 1);
    strips.border_rows = 1;
    strips.harvest_rows = Some(8);
    let too_wide = DesignFault::HarvestTooWide { harvest: 8, left: 6 };
    assert_eq!(lay_out(&strips, &K), Err(vec![too_wide]));
    strips.harvest_rows = Some(6);
    assert_eq!(laid(&strips).rows_to_look_at, 6);
    strips.border_rows = 4;
    strips.harvest_rows = None;
    assert_eq!(lay_out(&strips, &K), Err(vec![DesignFault::AllBorder { across: 8, border: 4 }]));
}
