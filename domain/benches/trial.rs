//! How long the analysis of a trial and the search for its size take.
//!
//! `cargo bench -p domain --bench trial`.
#![expect(clippy::expect_used, reason = "a bench may fail loudly")]

use divan::{Bencher, black_box};
use domain::trial::analysis::{
    Better, Confidence, DesignKind, Plot, Response, Scale, Trial, analyse,
};
use domain::trial::power::{Planned, USUAL_POWER};

fn main() {
    divan::main();
}

/// A trial of so many treatments and blocks, four samples a plot, the last plot lost where asked.
fn trial(treatments: u32, blocks: u32, control: bool, lost: bool) -> Trial {
    let place = |at: u32| usize::try_from(at).expect("a small number");
    let all = (0..blocks).flat_map(|b| (0..treatments).map(move |t| (b, t)));
    let mut plots: Vec<Plot> = all
        .map(|(b, t)| {
            let value = |s: u32| 180.0 + f64::from((b * 7 + t * 13 + s * 5) % 17);
            Plot { treatment: place(t), block: place(b), values: (0..4).map(value).collect() }
        })
        .collect();
    if lost {
        plots.pop();
    }
    Trial {
        design: DesignKind::RandomisedBlocks,
        treatments: (0..treatments).map(|t| format!("part {t}")).collect(),
        control: control.then_some(0),
        plots,
        randomised: true,
        confidence: Confidence::NinetyFive,
        response: Response {
            what: "yield".to_owned(),
            unit: "bu/ac".to_owned(),
            better: Better::Higher,
            scale: Scale::Measure,
        },
        matters: Some(5.0),
    }
}

#[divan::bench]
fn two_treatments_in_six_blocks(bencher: Bencher<'_, '_>) {
    let trial = trial(2, 6, true, false);
    bencher.bench(|| analyse(black_box(&trial)));
}

#[divan::bench]
fn all_pairs_of_six_in_six_blocks(bencher: Bencher<'_, '_>) {
    let trial = trial(6, 6, false, false);
    bencher.bench(|| analyse(black_box(&trial)));
}

/// A lost plot makes correlations of its own: nothing kept can be used.
#[divan::bench]
fn six_against_a_control_with_a_lost_plot(bencher: Bencher<'_, '_>) {
    let trial = trial(6, 6, true, true);
    bencher.bench(|| analyse(black_box(&trial)));
}

#[divan::bench]
fn two_treatments_in_two_hundred_blocks(bencher: Bencher<'_, '_>) {
    let trial = trial(2, 200, true, false);
    bencher.bench(|| analyse(black_box(&trial)));
}

#[divan::bench]
fn size_of_a_trial_of_six(bencher: Bencher<'_, '_>) {
    let planned = Planned {
        design: DesignKind::RandomisedBlocks,
        treatments: 6,
        control: true,
        confidence: Confidence::NinetyFive,
    };
    bencher.bench(|| black_box(planned).replications(5.0, 4.0, USUAL_POWER, 100));
}
