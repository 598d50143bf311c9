//! What stands against planting again.

use domain::quantity::ArealNumberDensity;
use domain::stand::{
    Ends, Money, Question, StandRange, YieldTable, compare, loss_between, soybean_stand_yield,
};
use proptest::prelude::*;

use crate::{date, q};

const NOTHING: Ends = Ends { low: 0.0, high: 0.0 };

fn plants(an_acre: f64) -> ArealNumberDensity {
    q(an_acre, "1/[acr_us]")
}

fn side(planted_on: &str, stand: f64, ends: Option<(f64, f64)>) -> StandRange {
    let ends = ends.map(|(low, high)| (plants(low), plants(high)));
    StandRange { planted_on: date(planted_on), likely: plants(stand), ends }
}

/// University of Nebraska 2009, worked example by the Iowa table: 24,000 plants (94 %) against a full
/// stand planted 26 May to 1 June (90 %), and about 10 % more off for replant problems.
#[test]
fn the_worked_example_of_nebraska() {
    let asked = Question {
        keep: side("2027-04-25", 24_000.0, None),
        further_loss: NOTHING,
        again: side("2027-05-29", 30_000.0, None),
    };
    let it = compare(YieldTable::IowaReplant, &asked).unwrap();
    assert!((it.keep.percent - 94.0).abs() < 1e-9 && (it.again.percent - 90.0).abs() < 1e-9);
    assert!((it.gain + 4.0).abs() < 1e-9);
    assert!((it.again_range.low - 81.0).abs() < 1e-9, "90 % less a tenth of it");
    assert!((it.again_range.high - 90.0).abs() < 1e-9);
    assert!((it.gain_range.low + 13.0).abs() < 1e-9 && (it.gain_range.high + 4.0).abs() < 1e-9);
}

/// Purdue University 2011, worked use of the Illinois table: 30,000 on 20 May give 91 % (182 of 200
/// bushels), on 30 May 81 % (162).
#[test]
fn the_worked_use_of_purdue() {
    let asked = Question {
        keep: side("2027-05-20", 30_000.0, None),
        further_loss: NOTHING,
        again: side("2027-05-30", 30_000.0, None),
    };
    let it = compare(YieldTable::IllinoisDateStand, &asked).unwrap();
    assert!((it.keep.percent - 91.0).abs() < 1e-9 && (it.again.percent - 81.0).abs() < 1e-9);
    let money = Money { expected_bu: 200.0, price: 1.0, cost: 0.0 };
    assert!((money.gain(it.keep.percent) - 182.0).abs() < 1e-9);
    assert!((money.gain(it.again.percent) - 162.0).abs() < 1e-9);
}

#[test]
fn the_tables_differ_and_each_says_what_it_does_not_cover() {
    let asked = Question {
        keep: side("2027-04-28", 20_000.0, None),
        further_loss: NOTHING,
        again: side("2027-05-28", 31_000.0, None),
    };
    let read: Vec<_> = YieldTable::ALL.into_iter().map(|table| compare(table, &asked)).collect();
    assert!(read[0].is_ok() && read[1].is_ok(), "Illinois and Iowa 2006 know thin stands");
    assert!(read[2..].iter().all(Result::is_err), "the others know no 20,000");
    let outside = read[3].as_ref().unwrap_err().to_string();
    assert!(outside.contains("32000 to 36000"), "{outside}");
}

#[test]
fn money_pays_where_its_gain_is_nothing() {
    let money = Money { expected_bu: 200.0, price: 4.5, cost: 127.0 };
    let at = money.pays_at().unwrap();
    assert!((at - 14.111_111).abs() < 1e-5, "127 of 900");
    assert!(money.gain(at).abs() < 1e-9);
    assert_eq!(Money { price: 0.0, ..money }.pays_at(), None);
}

#[test]
fn soybean_is_said_as_far_as_it_is_published() {
    assert_eq!(soybean_stand_yield(plants(120_000.0)), Some((100.0, 100.0)));
    assert_eq!(soybean_stand_yield(plants(50_000.0)), Some((90.0, 100.0)));
    assert_eq!(soybean_stand_yield(plants(40_000.0)), None);
    let delay = loss_between(
        domain::conditions::Crop::Soybean,
        (date("2027-05-05"), date("2027-06-04")),
        None,
    );
    let most = delay.bushels.map(|it| it.high);
    assert!(most.is_some_and(|most| most <= 15.0 + 1e-9), "half a bushel a day: {delay:?}");
}

fn any_stand() -> impl Strategy<Value = (f64, f64, f64)> {
    (12_000.0..32_000.0_f64, 0.0..4_000.0_f64, 0.0..4_000.0_f64)
        .prop_map(|(likely, down, up)| (likely - down, likely, likely + up))
}

proptest! {
    /// The likely figures lie in their ranges, and so does the gain; more loss never speaks for
    /// keeping.
    #[test]
    fn the_ranges_hold_the_figures(
        keep in any_stand(), again in 28_000.0..32_000.0_f64, least in 0.0..10.0_f64, more in 0.0..10.0_f64
    ) {
        let (low, likely, high) = keep;
        let asked = |further_loss| Question {
            keep: side("2027-05-03", likely, Some((low, high))),
            further_loss,
            again: side("2027-05-30", again, None),
        };
        for table in [YieldTable::IllinoisDateStand, YieldTable::IowaReplant] {
            let plain = compare(table, &asked(NOTHING)).unwrap();
            let (of_keep, of_again) = (plain.keep_range, plain.again_range);
            prop_assert!(of_keep.low <= plain.keep.percent + 1e-9 && plain.keep.percent <= of_keep.high + 1e-9);
            prop_assert!(of_again.low <= plain.again.percent && plain.again.percent <= of_again.high + 1e-9);
            prop_assert!(plain.gain_range.low <= plain.gain + 1e-9 && plain.gain <= plain.gain_range.high + 1e-9);
            let hurt = compare(table, &asked(Ends { low: least, high: least + more })).unwrap();
            prop_assert!(hurt.gain_range.high >= plain.gain_range.high - 1e-9);
            prop_assert!(hurt.gain_range.low >= plain.gain_range.low - 1e-9);
        }
    }

    /// A wider interval of the count never makes the answer surer.
    #[test]
    fn a_wider_interval_is_no_surer(likely in 16_000.0..28_000.0_f64, narrow in 0.0..1_500.0_f64, wide in 0.0..1_500.0_f64) {
        let asked = |half: f64| Question {
            keep: side("2027-05-03", likely, Some((likely - half, likely + half))),
            further_loss: NOTHING,
            again: side("2027-05-30", 30_000.0, None),
        };
        for table in [YieldTable::IllinoisDateStand, YieldTable::IowaReplant] {
            let sure = compare(table, &asked(narrow)).unwrap().gain_range;
            let unsure = compare(table, &asked(narrow + wide)).unwrap().gain_range;
            // Both are read in ten steps, so a corner of the table may fall between two of them.
            prop_assert!(unsure.low <= sure.low + 0.2 && unsure.high >= sure.high - 0.2);
        }
    }
}
