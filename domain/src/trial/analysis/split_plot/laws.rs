//! Laws of split plots, for any trial.

use proptest::prelude::*;

use super::plan::Plan;
use super::{Found, PartPlot, SplitPlot, SplitPlotAnalysis, SplitTerm, complete, lost, split_plot};
use crate::trial::analysis::{Confidence, TrialError};

prop_compose! {
    // Scatter is none or enough: between them rounding decides whether there is any.
    fn any_trial()(
        (blocks, wholes, parts) in (3_usize..6, 2_usize..5, 2_usize..5),
        noise in prop::collection::vec((-90_i32..=90).prop_map(|tenths| f64::from(tenths) / 10.0), 5 * 4 * 4),
        level in -1e4_f64..1e4,
    ) -> SplitPlot {
        let places = (0..blocks)
            .flat_map(move |b| (0..wholes).flat_map(move |w| (0..parts).map(move |p| (b, w, p))));
        let plots = places.zip(noise).map(|((block, whole, part), noise)| PartPlot {
            block, whole, part, values: vec![level + noise],
        });
        SplitPlot { wholes, parts, plots: plots.collect(), confidence: Confidence::NinetyFive }
    }
}

/// Everything that both ways of working out say, as numbers.
fn figures(found: &Found) -> Vec<f64> {
    let table = found.table.iter().flat_map(|line| {
        [Some(f64::from(line.df)), line.error_df, line.f, line.p].map(|it| it.unwrap_or(-1.0))
    });
    let least = found.least_differences.iter().flat_map(|it| [it.se, it.least]);
    table.chain(found.cells.iter().copied()).chain(least).collect()
}

fn without(trial: &SplitPlot, gone: &[usize]) -> SplitPlot {
    let mut left = trial.clone();
    let mut place = 0..;
    left.plots.retain(|_| place.next().is_some_and(|at| !gone.contains(&at)));
    left
}

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-5 * one.abs().max(other.abs()).max(1.0)
}

fn f_of(found: &SplitPlotAnalysis, term: SplitTerm) -> Option<f64> {
    found.table.iter().find(|line| line.term == term).and_then(|line| line.f)
}

/// Once a step led to parts that do not scatter at all; rounding called that likely, and another level did not.
#[test]
fn a_step_to_no_scatter_of_parts_is_not_taken() {
    let values = [
        -477.630_043_006_224_24,
        -470.930_043_006_224_25,
        -482.130_043_006_224_24,
        -482.730_043_006_224_26,
        -485.430_043_006_224_25,
        -477.130_043_006_224_24,
        -476.330_043_006_224_23,
        -476.730_043_006_224_26,
        -484.830_043_006_224_23,
        -477.030_043_006_224_2,
        -476.630_043_006_224_24,
        -479.230_043_006_224_26,
    ];
    let plots = values.iter().enumerate().map(|(at, value)| {
        let (block, whole, part) = (at / 4, at / 2 % 2, at % 2);
        PartPlot { block, whole, part, values: vec![*value] }
    });
    let plots = plots.collect();
    let all = SplitPlot { wholes: 2, parts: 2, plots, confidence: Confidence::NinetyFive };
    let left = without(&all, &[10]);
    let mut higher = left.clone();
    higher.plots.iter_mut().flat_map(|p| &mut p.values).for_each(|v| *v -= 184.359_233_082_336_43);
    for (trial, term, wanted) in [
        (&left, SplitTerm::Wholes, 0.015_379),
        (&higher, SplitTerm::Wholes, 0.015_379),
        (&left, SplitTerm::Together, 173.617),
        (&higher, SplitTerm::Together, 173.617),
    ] {
        let f = f_of(&split_plot(trial).expect("a result"), term).expect("a test");
        assert!((f - wanted).abs() < 1e-4 * wanted, "{f}, not {wanted}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, ..ProptestConfig::default() })]

    // The weighted t for two wholes at one part is the one figure that is approximated in two ways.
    #[test]
    fn with_nothing_lost_likelihood_says_what_mean_squares_say(trial in any_trial()) {
        let plan = Plan::of(&trial).expect("a plan");
        let by_squares = complete::work_out(&plan, trial.confidence);
        // Where whole plots scatter less than parts alone would make them, likelihood stops at no scatter.
        let square = |term| {
            let line = by_squares.table.iter().find(|line| line.term == term);
            line.and_then(|line| Some(line.squares? / f64::from(line.df))).unwrap_or(0.0)
        };
        if square(SplitTerm::WholePlots) <= square(SplitTerm::PartPlots) {
            return Ok(());
        }
        let by_likelihood = lost::work_out(&plan, trial.confidence).expect("joined blocks");
        let (one, other) = (figures(&by_squares), figures(&by_likelihood));
        prop_assert_eq!(one.len(), other.len());
        let last = one.len() - 1;
        for (at, (a, b)) in one.iter().zip(&other).enumerate() {
            prop_assert!(at == last || close(*a, *b), "{}: {} and {}", at, a, b);
        }
    }

    #[test]
    fn whatever_was_lost_a_level_for_all_plots_changes_no_test(
        trial in any_trial(), gone in prop::collection::vec(0_usize..80, 1..6), more in -1e3_f64..1e3,
    ) {
        let left = without(&trial, &gone);
        let mut higher = left.clone();
        higher.plots.iter_mut().flat_map(|p| &mut p.values).for_each(|v| *v += more);
        match (split_plot(&left), split_plot(&higher)) {
            (Ok(one), Ok(other)) => {
                for term in [SplitTerm::Wholes, SplitTerm::Parts, SplitTerm::Together] {
                    match (f_of(&one, term), f_of(&other, term)) {
                        (Some(a), Some(b)) => prop_assert!(close(a, b), "{a} and {b}"),
                        (a, b) => prop_assert_eq!(a, b),
                    }
                }
                for (a, b) in one.part_means.iter().zip(&other.part_means) {
                    prop_assert!(close(a + more, *b), "{} and {}", a + more, b);
                }
            }
            (one, other) => prop_assert_eq!(one.err(), other.err()),
        }
    }
}

/// Three blocks of two wholes of two parts, each with a lot of its own: wholes scatter by tens, parts as said.
fn of_scatter(parts: f64) -> SplitPlot {
    let lots = [4.0, -7.0, 1.0, 8.0, -3.0, -6.0, 2.0, 9.0, -5.0, 3.0, 6.0, -8.0];
    let plots = lots.iter().enumerate().map(|(at, lot)| {
        let (block, whole, part) = (at / 4, at / 2 % 2, at % 2);
        let own = [17.0, -31.0, 23.0, 11.0, -19.0, 29.0][at / 2];
        PartPlot { block, whole, part, values: vec![150.0 + own + parts * lot] }
    });
    SplitPlot { wholes: 2, parts: 2, plots: plots.collect(), confidence: Confidence::NinetyFive }
}

#[test]
fn parts_may_scatter_a_thousand_times_less_than_whole_plots() {
    let trial = of_scatter(1e-2);
    let plan = Plan::of(&trial).expect("a plan");
    let by_squares = figures(&complete::work_out(&plan, trial.confidence));
    let by_likelihood = figures(&lost::work_out(&plan, trial.confidence).expect("joined blocks"));
    for (one, other) in by_squares.iter().zip(&by_likelihood) {
        assert!((one - other).abs() <= 1e-3 * one.abs().max(1e-3), "{one} and {other}");
    }
}

/// A million times less is no scatter that can be judged by beside that of whole plots.
#[test]
fn parts_that_scatter_by_rounding_tell_no_chance() {
    let found = split_plot(&without(&of_scatter(1e-6), &[10])).expect("a result");
    assert!(found.table.iter().all(|line| line.f.is_none() && line.p.is_none()), "{found:?}");
    let said = found.words("rolled", "closing wheels").join(" ");
    assert!(
        said.contains("Rolled: nothing can be said about chance: plots that should be alike"),
        "{said}"
    );
    assert!(!said.contains("replication"), "{said}");
}

#[test]
fn a_part_that_is_left_nowhere_is_named() {
    let plot = |block, whole, part| PartPlot { block, whole, part, values: vec![1.0] };
    let plots = vec![plot(0, 0, 0), plot(0, 0, 1), plot(0, 1, 0), plot(1, 0, 0), plot(1, 1, 0)];
    let trial = SplitPlot { wholes: 2, parts: 2, plots, confidence: Confidence::NinetyFive };
    assert_eq!(split_plot(&trial).unwrap_err(), TrialError::NoneLeft { whole: 1, part: 1 });
}

#[test]
fn blocks_that_share_no_treatment_are_not_compared() {
    let plot = |block, whole, part| PartPlot { block, whole, part, values: vec![1.0] };
    let plots = vec![plot(0, 0, 0), plot(0, 0, 1), plot(1, 1, 0), plot(1, 1, 1)];
    let trial = SplitPlot { wholes: 2, parts: 2, plots, confidence: Confidence::NinetyFive };
    assert_eq!(split_plot(&trial).unwrap_err(), TrialError::NotJoined);
}

/// Exact figures leave nothing to judge by: no chance is made up of rounding.
#[test]
fn without_scatter_no_chance_is_told() {
    let plots = (0..3).flat_map(|block| {
        (0..2).flat_map(move |whole| {
            (0..3).map(move |part| {
                let step = |i: usize| f64::from(u8::try_from(i).expect("small"));
                let value = 0.1 + step(block) * 0.3 + step(whole) * 0.7 + step(part) * 1.1;
                PartPlot { block, whole, part, values: vec![value] }
            })
        })
    });
    let all: Vec<PartPlot> = plots.collect();
    let trial = SplitPlot { wholes: 2, parts: 3, plots: all, confidence: Confidence::NinetyFive };
    let found = split_plot(&without(&trial, &[4])).expect("a result");
    assert_eq!(found.lost, 1);
    assert!(found.table.iter().all(|line| line.f.is_none() && line.p.is_none()));
    assert!((found.part_means[1] - found.part_means[0] - 1.1).abs() < 1e-9);
}
