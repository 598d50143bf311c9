//! The plan of a dig: how many rows and seeds, against published sample sizes and a worked analysis
//! of variance; which rows; what the next dig asks for; when to stop.
#![expect(clippy::unwrap_used, reason = "a broken data file must fail loudly")]

mod cases;
mod digs;

use cases::q;
use digs::{K, Setup, good, good_row, in_inches, inches};
use domain::dig::{
    AfterDig, Ask, Bar, CONFIDENCE, DigPlan, DugRow, Purpose, RowWhy, SpreadSeen, Spreads,
    WheelFeel, next_dig, plan, wheels_settled,
};
use domain::planter::FrameSection;
use domain::provenance::Mark;
use domain::stats::{OneWay, t_critical};

const fn bar(rows: u16, tyre_rows: &[u16]) -> Bar<'_> {
    Bar { rows, tyre_rows, sections: &[], cleaners: true }
}

fn known(between: f64, within: f64) -> Spreads {
    Spreads::known(q(between, "[in_i]"), q(within, "[in_i]"))
}

fn ask<'a>(bar: Bar<'a>, spreads: Spreads, tolerance: f64, dug: &'a [DugRow]) -> Ask<'a> {
    Ask { bar, tolerance: q(tolerance, "[in_i]"), spreads, confidence: CONFIDENCE, dug }
}

fn usual(bar: Bar<'_>) -> DigPlan {
    plan(&ask(bar, Spreads::pooled(&[], &K), 0.25, &[]), &K)
}

fn rows(plan: &DigPlan) -> Vec<u16> {
    plan.rows.iter().map(|r| r.row).collect()
}

fn file(name: &str) -> csv::Reader<std::fs::File> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data").join(name);
    csv::Reader::from_path(path).unwrap()
}

/// `sample_size.csv`: the smallest n with t(0.975, n - 1) s / sqrt(n) <= E. With seeds that do not
/// vary a row is a unit, and the planter with the most rows has room for all of them.
#[test]
fn rows_are_the_published_sample_sizes() {
    let mut lines = 0;
    for line in file("sample_size.csv").records().map(Result::unwrap) {
        let number = |place: usize| line[place].parse::<f64>().unwrap();
        let (sd, half_width) = (number(1), number(2));
        let published: usize = line[3].parse().unwrap();
        let tolerance = half_width / K.dig_half_width.value;
        let found = plan(&ask(bar(64, &[]), known(sd, 0.0), tolerance, &[]), &K);
        assert_eq!(found.rows.len(), published, "{line:?}");
        assert!(found.enough);
        lines += 1;
    }
    assert_eq!(lines, 11);
}

/// T-O25, Davies and Goldsmith 1972: six batches of five, standard error of the grand mean
/// sqrt(MSB / (k n)) = 19.383412. From the two components it must come out the same.
#[test]
fn the_two_stages_give_the_standard_error_of_the_published_table() {
    let mut batches: Vec<Vec<f64>> = vec![Vec::new(); 6];
    for line in file("trial_batches_1.csv").records().map(Result::unwrap) {
        let batch = usize::from(line[0].as_bytes()[0] - b'A');
        batches[batch].push(line[1].parse().unwrap());
    }
    let parts = OneWay::of(&batches).unwrap().components().unwrap();
    let spreads = known(parts.between.sqrt(), parts.within.sqrt());
    let half = in_inches(spreads.half_width(6, 5, CONFIDENCE).unwrap());
    let standard_error = half / t_critical(0.05, 5.0).unwrap();
    assert!((standard_error - 19.383_412).abs() < 5e-7, "{standard_error}");
}

/// The seeds on a row at the least work, against a search over both numbers: of all pairs whose
/// mean varies no more, none is less work.
#[test]
fn no_other_number_of_seeds_is_less_work() {
    for (between, within) in [(0.0625, 0.25), (0.1, 0.3), (0.12, 0.4), (0.08, 0.3)] {
        let found = plan(&ask(bar(24, &[]), known(between, within), 0.25, &[]), &K);
        let best = found.trace.find("seeds on a row at the least work").unwrap().value;
        let work = K.dig_row_work.value;
        let variance = |n: f64| between * between + within * within / n;
        let of = |n: f64| (work + n) * variance(n);
        let searched =
            (100..3_000).map(|n| f64::from(n) / 100.0).min_by(|a, b| of(*a).total_cmp(&of(*b)));
        assert!((best - searched.unwrap()).abs() < 0.011, "{best} {searched:?}");
    }
}

/// By hand: n = sqrt(1.5) 0.25 / 0.0625 = 4.9; one row mean has sqrt(0.0625² + 0.25² / 4.9) =
/// 0.129 in; 0.67 of 0.25 in is 0.1675 in; t(0.975, 3) 0.129 / sqrt(4) = 0.205 in is too wide,
/// t(0.975, 4) 0.129 / sqrt(5) = 0.160 in is not. With five rows five seeds do: 2.776 0.128 /
/// sqrt(5) = 0.159 in, and four do not quite: 0.173 in.
#[test]
fn the_first_dig_of_eight_rows() {
    let found = usual(bar(8, &[3, 6]));
    assert_eq!((rows(&found), found.seeds_per_row), (vec![1, 3, 5, 7, 8], 5));
    assert!((in_inches(found.half_width.unwrap()) - 0.159).abs() < 5e-4);
    assert!(found.enough && found.purpose == Purpose::Afresh);
    assert_eq!(found.spreads.mark, Mark::Assumption);
    assert_eq!(
        found.words,
        "Dig rows 1, 3, 5, 7 and 8: five seeds each, at least 100 ft (30 m) from where you stopped \
         or turned, on average ground, not on the headland and not in the first pass. The mean of \
         the planter will then likely be known to within 0.16 in (4 mm) either way."
    );
    let why: Vec<&[RowWhy]> = found.rows.iter().map(|r| r.why.as_slice()).collect();
    let tyre = [RowWhy::Inner, RowWhy::BehindTyre];
    let inner = [RowWhy::Inner];
    assert_eq!(why[0], [RowWhy::LeftEnd]);
    assert!(tyre.iter().all(|t| why[1].contains(t)) && why[2] == inner && why[3] == inner);
    assert_eq!(why[4], [RowWhy::RightEnd]);
}

/// All four rows: 0.1675 in asks for t(0.975, 3) s / 2 = 1.591 s, so s = 0.1053 in and
/// s² - 0.0625² = 0.00718 = 0.0625 / n: nine seeds.
#[test]
fn a_planter_with_few_rows_gets_more_seeds() {
    let found = usual(bar(4, &[2]));
    assert_eq!((rows(&found), found.seeds_per_row), (vec![1, 2, 3, 4], 9));
    assert!(found.enough);
    let two = usual(bar(2, &[]));
    assert_eq!((rows(&two), two.seeds_per_row, two.enough), (vec![1, 2], 10, false));
    assert!(two.words.contains("These are all its rows"), "{}", two.words);
    let one = usual(bar(1, &[1]));
    assert!(one.half_width.is_none() && one.chance.is_none() && !one.enough);
    assert!(one.words.starts_with("Dig row 1: ten seeds, "), "{}", one.words);
}

#[test]
fn each_section_of_the_frame_has_an_inner_row() {
    let section = |name: &str, rows| FrameSection {
        name: name.to_owned(),
        rows,
        empty_weight: q(4_000.0, "[lbf_av]"),
        on_hitch: q(0.0, "[lbf_av]"),
        wheels: 2,
    };
    let sections = [section("left wing", 3), section("centre", 6), section("right wing", 3)];
    let found = usual(Bar { sections: &sections, ..bar(12, &[5, 8]) });
    assert_eq!(rows(&found), [1, 3, 5, 10, 12]);
    assert_eq!(found.rows[1].words, "an inner row, left wing");
    assert_eq!(found.rows[2].words, "behind a tyre; an inner row, centre");
}

#[test]
fn the_next_dig_takes_other_rows_and_the_odd_one_again() {
    let dug = [1, 3, 5, 10, 12].map(|row| DugRow { row, odd: row == 5 });
    let again = plan(&ask(bar(12, &[3, 6]), Spreads::pooled(&[], &K), 0.25, &dug), &K);
    assert_eq!(rows(&again), [2, 4, 5, 6, 8, 11]);
    assert_eq!(again.rows[2].why, [RowWhy::OddLastTime, RowWhy::Inner]);
    let before: Vec<u16> = again.rows.iter().filter(|r| r.dug_before).map(|r| r.row).collect();
    assert_eq!(before, [5]);
}

/// By hand: three rows with five seeds, sd between 0.1 in (two degrees of freedom) and within
/// 0.2 in (twelve), with what is usual worth four: between sqrt((4 0.0625² + 2 0.1²) / 6) =
/// 0.0771 in, within sqrt((4 0.25² + 12 0.2²) / 16) = 0.2136 in.
#[test]
fn what_digs_showed_is_pooled_with_what_is_usual() {
    let seen = SpreadSeen::new(q(0.1, "[in_i]"), q(0.2, "[in_i]"), 3, 15).unwrap();
    let pooled = Spreads::pooled(&[seen], &K);
    assert!((in_inches(pooled.between) - 0.077_06).abs() < 1e-4);
    assert!((in_inches(pooled.within) - 0.213_60).abs() < 1e-4);
    assert_eq!((pooled.digs, pooled.mark), (1, Mark::Learned));
    assert!(SpreadSeen::new(q(0.1, "[in_i]"), q(0.2, "[in_i]"), 1, 5).is_none());
    assert!(SpreadSeen::new(q(0.1, "[in_i]"), q(0.2, "[in_i]"), 3, 3).is_none());
}

fn after(setup: &Setup, changed: bool) -> (domain::dig::Statistics, Option<DigPlan>) {
    let statistics = setup.judged().statistics;
    let dig = setup.dig();
    let next = next_dig(
        &AfterDig {
            bar: Bar::of(&setup.planter),
            dig: &dig,
            statistics: &statistics,
            earlier: &[],
            tolerance: q(0.25, "[in_i]"),
            changed,
        },
        &K,
    );
    (statistics, next)
}

/// Three rows whose means are 1.75, 2.0 and 2.15 in: open, and the rows asked for are the same in
/// the answer and in the plan.
fn open_dig() -> Setup {
    let setup = good().with(|s| {
        s.planter.rows = 24;
        s.planter.tyre_rows = vec![9, 16];
        s.rows = [1, 5, 12].map(good_row).to_vec();
    });
    let spread = setup.row(1, |r| digs::move_row(r, -0.25)).row(12, |r| digs::move_row(r, 0.15));
    spread.rows(|r| r.behind_tyre = false)
}

#[test]
fn the_plan_asks_for_the_rows_that_settle_it() {
    let (statistics, next) = after(&open_dig(), false);
    let settled = statistics.depth.unwrap().settled;
    let next = next.unwrap();
    assert_eq!(next.purpose, Purpose::MoreRows);
    let found = rows(&next);
    assert_eq!(settled.more_rows.map(usize::from), Some(found.len()));
    assert!(found.iter().all(|row| ![1, 5, 12].contains(row)), "{found:?}");
    assert!(found.iter().any(|row| *row > 21), "the right end was not dug: {found:?}");
    assert!(found.contains(&16) || found.contains(&9), "no tyre row was dug: {found:?}");
    assert!(next.enough && next.seeds_per_row == 5);
    assert!(next.words.contains("would likely settle it. Dig rows "), "{}", next.words);
}

#[test]
fn a_settled_dig_asks_for_nothing_and_a_change_for_a_fresh_dig() {
    let (statistics, next) = after(&good(), false);
    assert!(statistics.depth.unwrap().settled.settled && next.is_none(), "{next:?}");
    let (_, next) = after(&good(), true);
    let next = next.unwrap();
    assert_eq!(next.purpose, Purpose::Afresh);
    assert_eq!((next.spreads.digs, next.spreads.mark), (1, Mark::Learned));
}

#[test]
fn wheels_that_do_not_agree_ask_for_rows_and_a_second_place() {
    let mixed = good().row(1, |r| r.gauge_wheels = Some(WheelFeel::SpinFree));
    let mixed = mixed.row(2, |r| r.gauge_wheels = Some(WheelFeel::SpinFree));
    let (_, next) = after(&mixed.with(|s| s.planter.rows = 16), false);
    let next = next.unwrap();
    assert_eq!((next.seeds_per_row, next.places.len()), (0, 2));
    assert!(next.look_at.iter().all(|look| look.what.contains("gauge wheels")));
    assert!(next.words.contains("no seed need be dug"), "{}", next.words);
}

#[test]
fn where_every_row_was_dug_more_seeds_are_asked_for() {
    let few = open_dig().with(|s| {
        s.planter.rows = 4;
        s.planter.tyre_rows = Vec::new();
        s.rows = [1, 2, 3, 4].map(good_row).to_vec();
        for (row, off) in s.rows.iter_mut().zip([-0.28, 0.02, 0.02, 0.02]) {
            row.behind_tyre = false;
            row.outer = false;
            row.seed_depths = inches(&[2.0 + off, 2.15 + off]);
        }
    });
    let (statistics, next) = after(&few, false);
    assert!(!statistics.depth.unwrap().settled.settled);
    let next = next.unwrap();
    assert_eq!((next.purpose, rows(&next)), (Purpose::MoreSeeds, vec![1, 2, 3, 4]));
    assert!(next.seeds_per_row > 0 && next.words.starts_with("Every row was dug: "));
}

/// Wilson's lower limit when all of n are alike is n / (n + z²), z² = 3.8415: 0.510 for 4, 0.438
/// for 3. For 7 of 8 it is 0.529, for 6 of 7 0.487 (both by the formula).
#[test]
fn four_wheels_of_four_settle_it_and_three_do_not() {
    let feels = |free: usize, firm: usize| {
        let mut all = vec![WheelFeel::SpinFree; free];
        all.extend(vec![WheelFeel::TurnWithEffort; firm]);
        all
    };
    let told = |free, firm, rows| {
        let found = wheels_settled(&feels(free, firm), rows).unwrap();
        (found.settled, found.more_rows)
    };
    assert_eq!(told(4, 0, 24), (true, Some(0)));
    assert_eq!(told(3, 0, 24), (false, Some(1)));
    assert_eq!(told(3, 1, 24), (false, Some(4)));
    // On six rows four are more than half, whatever the last ones do.
    assert_eq!(told(3, 1, 6), (false, Some(1)));
    // All rows were looked at.
    assert_eq!(told(3, 1, 4), (true, Some(0)));
    assert_eq!(told(2, 2, 4), (true, Some(0)));
    assert_eq!(told(2, 2, 8), (false, None));
    let words = wheels_settled(&feels(3, 1), 24).unwrap().words;
    assert_eq!(
        words,
        "the wheels spin free on 3 of 4 rows; four more rows that do the same would settle it"
    );
    assert!(wheels_settled(&[], 8).is_none());
}
