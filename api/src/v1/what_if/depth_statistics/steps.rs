//! The steps of the statistics of seed depths.

use domain::dig::DepthStatistics;
use domain::provenance::{Input, Source};
use domain::quantity::{Length, Measured};

use crate::v1::trace::TraceStep;
use crate::v1::what_if::step::Known;

const T_INTERVAL: Source =
    "definition: Student's t over row means, rows as units; one-way random model";
const WILSON: Source = "definition: Wilson's limits of a counted share";

const MEAN: Known = Known::derived("mean of the row means", "sum(row means) / rows", T_INTERVAL);
const HALF: Known = Known::derived(
    "half the width of its 95 % interval",
    "t(0.975, rows - 1) s(row means) / sqrt(rows)",
    T_INTERVAL,
);
const BETWEEN: Known = Known::derived(
    "standard deviation between rows",
    "sqrt(max(0, (MS_between - MS_within) / n_0))",
    T_INTERVAL,
);
const INTRACLASS: Known = Known::derived(
    "share of the variance between rows",
    "s_between^2 / (s_between^2 + s_within^2)",
    T_INTERVAL,
);
const WITHIN: Known = Known::derived("share within tolerance", "seeds within / seeds", WILSON);

/// All steps that can be told, in order.
pub(super) fn steps(found: &DepthStatistics) -> Vec<TraceStep> {
    let planter = &found.planter;
    let rows = Input::new("rows", f64::from(planter.rows), "1");
    let speaks = |row: u16| found.set_aside.iter().all(|aside| aside.row != row);
    let usual = found.rows.iter().filter(|row| speaks(row.row));
    let means = usual.map(|row| mm("row mean", row.mean)).chain([rows.clone()]);
    let mut steps = vec![MEAN.gives(means.collect(), millimetres(planter.mean), "mm")];
    if let (Some(low), Some(high)) = (planter.low, planter.high) {
        let half = (high - low) / 2.0;
        steps.push(HALF.gives(vec![rows], millimetres(half), "mm"));
    }
    if let (Some(between), Some(within)) = (found.spread.between, found.spread.within) {
        let inputs = vec![mm("s_within", within)];
        steps.push(BETWEEN.gives(inputs, millimetres(between), "mm"));
        if let Some(share) = found.spread.intraclass {
            let inputs = vec![mm("s_between", between), mm("s_within", within)];
            steps.push(INTRACLASS.gives(inputs, share, "1"));
        }
    }
    let inputs = vec![
        mm("tolerance", found.tolerance),
        Input::new("seeds", f64::from(found.within.of), "1"),
        Input::new("seeds they are worth", found.within.worth, "1"),
    ];
    steps.push(WITHIN.gives(inputs, found.within.share, "1"));
    steps
}

fn mm(symbol: &'static str, length: Length) -> Input {
    Input::new(symbol, millimetres(length), "mm")
}

fn millimetres(length: Length) -> f64 {
    length.si() * 1000.0
}
