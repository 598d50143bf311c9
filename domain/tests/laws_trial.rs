//! Laws that the analysis of a trial keeps, whatever was measured.
#![expect(
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that meets the unexpected must fail loudly"
)]

use domain::trial::analysis::{
    Analysis, Better, CheckKind, Confidence, DesignKind, Effect, Line, Plot, Reading, Response,
    Scale, Term, Trial, TrialError, analyse,
};
use proptest::collection::vec;
use proptest::prelude::*;

const DESIGNS: [DesignKind; 3] =
    [DesignKind::RandomisedBlocks, DesignKind::CompletelyRandomised, DesignKind::SplitPlanter];

fn response() -> Response {
    Response {
        what: "yield".to_owned(),
        unit: "bu/ac".to_owned(),
        better: Better::Higher,
        scale: Scale::Measure,
    }
}

fn trial(design: DesignKind, treatments: usize, plots: Vec<Plot>) -> Trial {
    Trial {
        design,
        treatments: (0..treatments).map(|t| format!("part {t}")).collect(),
        control: Some(0),
        plots,
        randomised: true,
        confidence: Confidence::NinetyFive,
        response: response(),
        matters: Some(5.0),
    }
}

/// Trials of all sizes, some plots lost, some sampled several times, some values alike.
fn trials() -> impl Strategy<Value = Trial> {
    let size = (2..6_usize, 1..7_usize, 0..3_usize);
    let shape = (any::<bool>(), any::<bool>(), proptest::option::of(0.1..40.0_f64));
    (size, shape).prop_flat_map(|((treatments, blocks, design), (control, ninety, matters))| {
        let value = prop_oneof![4 => 100.0..200.0_f64, 1 => Just(150.0)];
        let samples = prop_oneof![8 => vec(value, 1..5), 1 => Just(Vec::new())];
        vec(samples, treatments * blocks).prop_map(move |all| {
            let plots = all.into_iter().enumerate().map(|(at, values)| Plot {
                treatment: at % treatments,
                block: at / treatments,
                values,
            });
            let made = trial(DESIGNS[design], treatments, plots.collect());
            let confidence = if ninety { Confidence::Ninety } else { Confidence::NinetyFive };
            Trial { control: control.then_some(0), confidence, matters, ..made }
        })
    })
}

/// Trials of two to four treatments in whole blocks, one sample a plot.
fn whole_trials() -> impl Strategy<Value = Trial> {
    (2..5_usize, 2..7_usize).prop_flat_map(|(treatments, blocks)| {
        vec(100.0..200.0_f64, treatments * blocks).prop_map(move |all| {
            let plots = all.into_iter().enumerate().map(|(at, value)| Plot {
                treatment: at % treatments,
                block: at / treatments,
                values: vec![value],
            });
            trial(DesignKind::RandomisedBlocks, treatments, plots.collect())
        })
    })
}

fn found(trial: &Trial) -> Option<Analysis> {
    match analyse(trial) {
        Ok(found) => Some(found),
        Err(TrialError::NoValues) => None,
        Err(other) => panic!("{other}"),
    }
}

fn line(found: &Analysis, term: Term) -> Option<Line> {
    found.table.iter().copied().find(|l| l.term == term)
}

fn near(a: f64, b: f64, size: f64) -> bool {
    (a - b).abs() <= 1e-7 * size.max(b.abs())
}

fn all_near(a: Option<f64>, b: Option<f64>, size: f64) -> bool {
    match (a, b) {
        (Some(a), Some(b)) => near(a, b, size),
        (None, None) => true,
        _ => false,
    }
}

fn changed(trial: &Trial, change: impl Fn(f64) -> f64) -> Trial {
    let plots = trial
        .plots
        .iter()
        .map(|p| Plot { values: p.values.iter().map(|v| change(*v)).collect(), ..p.clone() });
    Trial { plots: plots.collect(), ..trial.clone() }
}

fn sound(effect: &Effect) -> Result<(), TestCaseError> {
    let figures = [
        effect.percent,
        effect.se,
        effect.low,
        effect.high,
        effect.t,
        effect.p,
        Some(effect.difference),
    ];
    prop_assert!(figures.iter().flatten().all(|x| x.is_finite()), "{effect:?}");
    if let (Some(low), Some(high), Some(p)) = (effect.low, effect.high, effect.p) {
        prop_assert!(low <= effect.difference && effect.difference <= high, "{effect:?}");
        prop_assert!((0.0..=1.0).contains(&p), "{effect:?}");
    }
    Ok(())
}

/// Plots with one mean and unlike samples have no block to be told apart by.
#[test]
fn plots_with_one_mean_may_be_entered_in_any_order() {
    let plot = |treatment, block, values: &[f64]| Plot { treatment, block, values: values.into() };
    let plots = vec![
        plot(0, 0, &[150.0]),
        plot(0, 1, &[150.0, 150.0, 150.0]),
        plot(0, 2, &[150.0, 150.0]),
        plot(0, 3, &[160.0, 140.0]),
        plot(1, 0, &[100.0]),
        plot(1, 1, &[122.0, 131.0, 147.0]),
        plot(1, 2, &[100.0, 100.0]),
    ];
    let made = trial(DesignKind::CompletelyRandomised, 2, plots);
    let first = found(&made);
    for turn in 1..made.plots.len() {
        let mut turned = made.clone();
        turned.plots.rotate_left(turn);
        assert_eq!(found(&turned), first, "turned by {turn}");
        turned.plots.reverse();
        assert_eq!(found(&turned), first, "turned by {turn}, from the other end");
    }
}

proptest! {
    /// Whatever is entered, every figure is a number, ranges hold what they are about, and a chance
    /// is only given where the comparison was repeated.
    #[test]
    fn figures_are_numbers(trial in trials()) {
        let Some(found) = found(&trial) else { return Ok(()) };
        let text = serde_json::to_string(&found).unwrap();
        let back: Analysis = serde_json::from_str(&text).unwrap();
        prop_assert_eq!(&back.verdict, &found.verdict);
        for effect in &found.effects {
            sound(effect)?;
            if found.rests_on.error_df == 0 {
                prop_assert!(effect.p.is_none() && effect.low.is_none());
                prop_assert_eq!(effect.reading, Reading::NoReplication);
            }
        }
        for mean in &found.means {
            prop_assert_eq!(mean.plots == 0, mean.plain.is_none());
            if let (Some(low), Some(high)) = (mean.low, mean.high) {
                prop_assert!(low <= mean.adjusted.unwrap() && mean.adjusted.unwrap() <= high);
            }
        }
        for line in &found.table {
            prop_assert!(line.squares >= 0.0 && line.squares.is_finite());
            prop_assert!(line.p.is_none_or(|p| (0.0..=1.0).contains(&p)));
        }
        for check in &found.checks {
            prop_assert!(check.p.is_none_or(|p| (0.0..=1.0).contains(&p)), "{:?}", check);
            prop_assert!(check.statistic.is_none_or(f64::is_finite), "{:?}", check);
        }
    }

    /// Whatever is entered and whichever way is better, the verdict is made of whole sentences.
    #[test]
    fn words_are_sentences(mut trial in trials()) {
        for better in [Better::Higher, Better::Lower, Better::Neither] {
            trial.response.better = better;
            let Some(Analysis { verdict, .. }) = found(&trial) else { return Ok(()) };
            prop_assert!(!verdict.findings.is_empty() && !verdict.cannot_conclude.is_empty());
            let words = verdict.findings.iter().chain(&verdict.cannot_conclude).chain(&verdict.next);
            for words in words.chain([&verdict.headline]) {
                prop_assert!(!words.contains("NaN") && !words.contains("inf"), "{}", words);
                prop_assert!(words.ends_with('.') && !words.contains("  "), "{}", words);
                let first = words.chars().next().unwrap();
                prop_assert!(first.is_uppercase() || first.is_numeric(), "{}", words);
            }
        }
    }

    /// What a difference means follows from its range and what would matter.
    #[test]
    fn the_reading_follows_from_the_range(trial in trials()) {
        let Some(found) = found(&trial) else { return Ok(()) };
        for effect in &found.effects {
            let (Some(low), Some(high)) = (effect.low, effect.high) else { continue };
            let apart = low > 0.0 || high < 0.0;
            match (effect.reading, trial.matters) {
                (Reading::TooSmall, Some(m)) => prop_assert!(low > -m && high < m),
                (Reading::Matters, Some(m)) => prop_assert!(low >= m || high <= -m),
                (Reading::Shown, _) => prop_assert!(apart || low.abs().min(high.abs()) < 1e-6),
                (Reading::CantTell, _) => prop_assert!(!apart || low.abs().min(high.abs()) < 1e-6),
                other => prop_assert!(false, "{:?}", other),
            }
        }
    }

    /// The order in which plots were entered does not matter, to the last digit.
    #[test]
    fn order_does_not_matter((trial, turned) in trials().prop_flat_map(|t| {
        let plots = Just(t.plots.clone()).prop_shuffle();
        (Just(t), plots)
    })) {
        let shuffled = Trial { plots: turned, ..trial.clone() };
        prop_assert_eq!(found(&trial), found(&shuffled));
    }

    /// A constant on all plots moves means and nothing else; a factor stretches all.
    #[test]
    fn shift_and_scale(trial in trials(), by in -50.0..50.0_f64, times in 0.1..10.0_f64) {
        let Some(found) = found(&trial) else { return Ok(()) };
        let moved = analyse(&changed(&trial, |v| v + by)).unwrap();
        let stretched = analyse(&Trial {
            matters: trial.matters.map(|m| m * times),
            ..changed(&trial, |v| v * times)
        }).unwrap();
        for (at, effect) in found.effects.iter().enumerate() {
            let (m, s) = (moved.effects[at], stretched.effects[at]);
            prop_assert!(near(m.difference, effect.difference, 100.0));
            prop_assert!(all_near(m.low, effect.low, 100.0) && all_near(m.p, effect.p, 1.0));
            prop_assert!(near(s.difference, effect.difference * times, 100.0 * times));
            prop_assert!(all_near(s.p, effect.p, 1.0));
            prop_assert!(all_near(s.high, effect.high.map(|h| h * times), 100.0 * times));
        }
    }

    /// Each sample entered twice, or ten times, makes no replication: nothing about treatments
    /// changes.
    #[test]
    fn samples_are_no_replications(trial in trials(), times in 2..11_usize) {
        let Some(found) = found(&trial) else { return Ok(()) };
        let plots = trial.plots.iter().map(|p| Plot { values: p.values.repeat(times), ..p.clone() });
        let again = analyse(&Trial { plots: plots.collect(), ..trial.clone() }).unwrap();
        prop_assert_eq!(again.rests_on.error_df, found.rests_on.error_df);
        for (one, other) in found.effects.iter().zip(&again.effects) {
            prop_assert!(near(one.difference, other.difference, 100.0));
            prop_assert!(all_near(one.p, other.p, 1.0) && all_near(one.se, other.se, 100.0));
            prop_assert_eq!(one.reading, other.reading);
        }
    }

    /// Other names for the same treatments give the same differences, by their new names.
    #[test]
    fn names_do_not_matter(trial in trials(), turn in 1..5_usize) {
        let Some(found) = found(&trial) else { return Ok(()) };
        let all = trial.treatments.len();
        let new = |t: usize| (t + turn) % all;
        let plots = trial.plots.iter().map(|p| Plot { treatment: new(p.treatment), ..p.clone() });
        let renamed = Trial {
            control: trial.control.map(new),
            plots: plots.collect(),
            ..trial.clone()
        };
        let again = analyse(&renamed).unwrap();
        prop_assert_eq!(again.rests_on, found.rests_on);
        for effect in &found.effects {
            let (a, b) = (new(effect.treatment), new(effect.against));
            let same = again.effects.iter().find(|e| (e.treatment, e.against) == (a, b));
            let turned = again.effects.iter().find(|e| (e.treatment, e.against) == (b, a));
            let sign = if same.is_some() { 1.0 } else { -1.0 };
            let other = same.or(turned).unwrap();
            prop_assert!(near(sign * other.difference, effect.difference, 100.0));
            prop_assert!(all_near(other.p, effect.p, 1.0), "{:?} {:?}", effect, other);
        }
    }

    /// Whole blocks: the parts of the table sum to the total, two treatments in blocks are a paired
    /// trial, and a block that adds the same to all its plots changes no effect.
    #[test]
    fn whole_blocks(trial in whole_trials(), by in vec(-80.0..80.0_f64, 7)) {
        let found = analyse(&trial).unwrap();
        let of = |term| line(&found, term).unwrap();
        let sum: f64 = [Term::Blocks, Term::Treatments, Term::Plots].map(|t| of(t).squares).iter().sum();
        prop_assert!(near(sum, of(Term::Total).squares, 1.0));
        let poorer = trial.plots.iter().map(|p| Plot {
            values: vec![p.values[0] + by[p.block]],
            ..p.clone()
        });
        let other = analyse(&Trial { plots: poorer.collect(), ..trial.clone() }).unwrap();
        for (one, two) in found.effects.iter().zip(&other.effects) {
            prop_assert!(near(one.difference, two.difference, 100.0));
            prop_assert!(all_near(one.se, two.se, 100.0) && all_near(one.p, two.p, 1.0));
        }
        if trial.treatments.len() == 2 {
            let paired = analyse(&Trial { design: DesignKind::Paired, ..trial }).unwrap();
            prop_assert_eq!(paired.effects, found.effects);
            prop_assert_eq!(paired.pairs, found.pairs);
        }
    }

    /// More comparisons at once never make a range narrower or a chance smaller.
    #[test]
    fn many_comparisons_cost(trial in whole_trials()) {
        if trial.treatments.len() < 3 {
            return Ok(());
        }
        let with_control = analyse(&trial).unwrap();
        let all_pairs = analyse(&Trial { control: None, ..trial }).unwrap();
        for effect in &with_control.effects {
            let other = all_pairs.effects.iter().find(|e| {
                (e.treatment, e.against) == (effect.treatment, effect.against)
            }).unwrap();
            prop_assert!(other.p.unwrap() >= effect.p.unwrap() - 1e-9);
            prop_assert!(other.low.unwrap() <= effect.low.unwrap() + 1e-9);
        }
    }
}

fn pairs(values: &[(f64, f64)]) -> Trial {
    let plots = values.iter().enumerate().flat_map(|(block, (one, other))| {
        [(0, *one), (1, *other)].map(|(treatment, v)| Plot { treatment, block, values: vec![v] })
    });
    trial(DesignKind::Paired, 2, plots.collect())
}

#[test]
fn what_contradicts_itself_is_refused() {
    let good = pairs(&[(1.0, 2.0), (2.0, 4.0)]);
    let refused = |change: &dyn Fn(&mut Trial)| {
        let mut bad = good.clone();
        change(&mut bad);
        analyse(&bad).unwrap_err()
    };
    assert_eq!(refused(&|t| t.treatments.truncate(1)), TrialError::OneTreatment);
    assert_eq!(refused(&|t| t.treatments.push("third".into())), TrialError::NotAPair(3));
    assert_eq!(refused(&|t| t.control = Some(2)), TrialError::NoSuchControl(2));
    assert_eq!(refused(&|t| t.matters = Some(0.0)), TrialError::NothingMatters);
    assert_eq!(refused(&|t| t.plots.clear()), TrialError::NoValues);
    let missing = TrialError::NoSuchTreatment { plot: 1, treatment: 7 };
    assert_eq!(refused(&|t| t.plots[1].treatment = 7), missing);
    let twice = TrialError::Twice { plot: 4, first: 0 };
    assert_eq!(refused(&|t| t.plots.push(t.plots[0].clone())), twice);
    let nan = TrialError::NotANumber { plot: 3 };
    assert_eq!(refused(&|t| t.plots[3].values = vec![f64::NAN]), nan);
    let share = refused(&|t| {
        t.response.scale = Scale::Percent;
        t.plots[2].values = vec![101.0];
    });
    assert_eq!(share, TrialError::NoShare { plot: 2 });
}

#[test]
fn once_is_no_trial() {
    let found = analyse(&pairs(&[(100.0, 180.0)])).unwrap();
    assert!((found.effects[0].difference - 80.0).abs() < 1e-9);
    assert_eq!(found.effects[0].p, None);
    assert_eq!(found.verdict.outcome, Reading::NoReplication);
    assert!(found.verdict.headline.starts_with("No verdict"), "{}", found.verdict.headline);
    assert!(found.residual_sd.is_none() && found.table.iter().all(|l| l.p.is_none()));
}

#[test]
fn a_trial_of_one_strip_each_stays_one_however_often_it_was_dug() {
    let plot = |treatment, from: f64| Plot {
        treatment,
        block: 0,
        values: (0..50).map(|i| from + f64::from(i % 7)).collect(),
    };
    for design in DESIGNS {
        let found = analyse(&trial(design, 2, vec![plot(0, 10.0), plot(1, 90.0)])).unwrap();
        assert_eq!(found.verdict.outcome, Reading::NoReplication, "{design:?}");
        assert_eq!(found.effects[0].p, None);
    }
}

#[test]
fn chance_did_not_decide_is_said() {
    let good = pairs(&[(100.0, 120.0), (101.0, 122.0), (99.0, 118.0), (102.0, 123.0)]);
    let found = analyse(&Trial { randomised: false, ..good.clone() }).unwrap();
    assert_eq!(found.verdict.outcome, Reading::Matters);
    assert!(found.verdict.headline.contains("chance did not decide"));
    assert!(found.verdict.cannot_conclude[0].contains("ground"));
    let drawn = analyse(&good).unwrap().verdict;
    assert!(!drawn.headline.contains("chance"), "{}", drawn.headline);
    assert_eq!(
        drawn.headline,
        "Better with part 1: 20.2 bu/ac more yield than with part 0, enough to matter."
    );
}

#[test]
fn plots_that_agree_to_the_last_digit_say_nothing() {
    for add in [0.0, 1e9, 0.1] {
        let alike: Vec<(f64, f64)> = [1.0, 2.0, 3.0].map(|v| (v + add, v + 1.0 + add)).to_vec();
        let found = analyse(&pairs(&alike)).unwrap();
        assert_eq!(found.residual_sd, Some(0.0), "{add}");
        assert_eq!((found.effects[0].p, found.effects[0].reading), (None, Reading::CantTell));
        assert!(found.verdict.headline.contains("last digit"));
    }
}

/// Digits that all values share must not eat those that differ (the certified sets of NIST do the same without blocks).
#[test]
fn shared_digits_do_not_matter() {
    let small = pairs(&[(0.1, 0.4), (0.3, 0.5), (0.2, 0.6), (0.4, 0.5)]);
    let large = changed(&small, |v| v + 1e9);
    let (small, large) = (analyse(&small).unwrap(), analyse(&large).unwrap());
    assert!((small.effects[0].p.unwrap() - large.effects[0].p.unwrap()).abs() < 1e-5);
    assert!((small.effects[0].t.unwrap() - large.effects[0].t.unwrap()).abs() < 1e-4);
}

#[test]
fn a_lost_plot_takes_its_pair_with_it() {
    let mut lost = pairs(&[(100.0, 120.0), (90.0, 111.0), (80.0, 99.0), (70.0, 500.0)]);
    lost.plots[6].values.clear();
    let rest = pairs(&[(100.0, 120.0), (90.0, 111.0), (80.0, 99.0)]);
    let (lost, rest) = (analyse(&lost).unwrap(), analyse(&rest).unwrap());
    assert_eq!(lost.effects, rest.effects);
    assert_eq!((lost.rests_on.missing, lost.rests_on.blocks, lost.rests_on.plots), (1, 3, 7));
    assert!(lost.verdict.cannot_conclude.iter().any(|w| w.starts_with("1 plot is missing")));
}

/// One plot missing in whole blocks: Yates' formula for the value that fits (Yates 1933), with which
/// whole blocks give the same difference.
#[test]
fn a_missing_plot_is_worth_what_yates_says() {
    let values = [[7.4, 9.8, 7.3], [6.5, 6.8, 6.1], [5.6, 6.2, 6.4]];
    let plots = |fill: Option<f64>| {
        let all = (0..3).flat_map(|b| (0..3).map(move |t| (b, t)));
        let value =
            |(b, t): (usize, usize)| if (b, t) == (0, 0) { fill } else { Some(values[b][t]) };
        all.map(|at| Plot { treatment: at.1, block: at.0, values: value(at).into_iter().collect() })
            .collect::<Vec<_>>()
    };
    // (t T + b B - G) / ((t - 1)(b - 1)): rest of its treatment, of its block, of all.
    let (treatment, block) = (6.5 + 5.6, 9.8 + 7.3);
    let all: f64 = values.iter().flatten().sum::<f64>() - 7.4;
    let worth = (3.0 * treatment + 3.0 * block - all) / 4.0;
    let lost = analyse(&trial(DesignKind::RandomisedBlocks, 3, plots(None))).unwrap();
    let filled = analyse(&trial(DesignKind::RandomisedBlocks, 3, plots(Some(worth)))).unwrap();
    for (one, other) in lost.effects.iter().zip(&filled.effects) {
        assert!((one.difference - other.difference).abs() < 1e-9);
    }
    for (one, other) in lost.means.iter().zip(&filled.means) {
        assert!((one.adjusted.unwrap() - other.adjusted.unwrap()).abs() < 1e-9);
    }
    let error = |found: &Analysis| line(found, Term::Plots).unwrap();
    assert!((error(&lost).squares - error(&filled).squares).abs() < 1e-9);
    assert_eq!((error(&lost).df, error(&filled).df), (3, 4));
}

#[test]
fn one_plot_that_stands_apart_is_named() {
    let odd = pairs(&[
        (100.0, 104.0),
        (90.0, 95.0),
        (80.0, 84.5),
        (70.0, 10.0),
        (60.0, 65.0),
        (50.0, 54.0),
    ]);
    let found = analyse(&odd).unwrap();
    let apart = found.checks.iter().find(|c| c.kind == CheckKind::OneApart).unwrap();
    assert!(apart.words.starts_with("Pair 4 stands apart"), "{}", apart.words);
}

#[test]
fn shares_at_their_ends_are_said() {
    let mut full = pairs(&[(100.0, 96.0), (98.0, 97.0), (99.0, 95.0)]);
    full.response.scale = Scale::Percent;
    let found = analyse(&full).unwrap();
    assert!(
        found.verdict.cannot_conclude.iter().any(|w| w.starts_with("1 plot of 6 at 0 or 100 %"))
    );
    assert!(found.verdict.findings[1].contains("percentage points"));
}
