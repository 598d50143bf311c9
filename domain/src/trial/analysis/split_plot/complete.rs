//! Every part of every whole plot in every block: mean squares (Yates 1935).

use super::super::plots::whole;
use super::super::trial::Confidence;
use super::plan::{Placed, Plan};
use super::{Found, SplitComparison, SplitDifference, SplitLine, SplitTerm};
use crate::stats::{count, f_tail, t_critical};

pub(super) fn work_out(plan: &Plan, confidence: Confidence) -> Found {
    let table = table(plan);
    let cell = |w: usize, p: usize| plan.mean(|plot| (plot.whole, plot.part) == (w, p));
    Found {
        cells: (0..plan.wholes).flat_map(|w| (0..plan.parts).map(move |p| cell(w, p))).collect(),
        least_differences: least_differences(plan, confidence, &table),
        table,
    }
}

fn table(plan: &Plan) -> Vec<SplitLine> {
    let all = plan.mean(|_| true);
    let block: Vec<f64> = (0..plan.blocks).map(|b| plan.mean(|x| x.block == b)).collect();
    let of_whole: Vec<f64> = (0..plan.wholes).map(|w| plan.mean(|x| x.whole == w)).collect();
    let part: Vec<f64> = (0..plan.parts).map(|p| plan.mean(|x| x.part == p)).collect();
    let at = |list: &[f64], i: usize| list.get(i).copied().unwrap_or(0.0);
    let of_plot = |it: &Placed| plan.mean(|x| (x.block, x.whole) == (it.block, it.whole));
    let of_cell = |it: &Placed| plan.mean(|x| (x.whole, x.part) == (it.whole, it.part));
    let sum = |of: &dyn Fn(&Placed) -> f64| -> f64 { plan.each().map(|it| of(&it).powi(2)).sum() };
    let blocks = sum(&|it| at(&block, it.block) - all);
    let wholes = sum(&|it| at(&of_whole, it.whole) - all);
    let whole_plots = sum(&|it| of_plot(it) - at(&block, it.block) - at(&of_whole, it.whole) + all);
    let parts = sum(&|it| at(&part, it.part) - all);
    let together = sum(&|it| of_cell(it) - at(&of_whole, it.whole) - at(&part, it.part) + all);
    let part_plots = sum(&|it| it.value - of_plot(it) - of_cell(it) + at(&of_whole, it.whole));
    let (n, k, m) = (plan.blocks - 1, plan.wholes - 1, plan.parts - 1);
    let whole_error = (whole_plots, n * k);
    let part_error = (part_plots, plan.wholes * n * m);
    vec![
        line(SplitTerm::Blocks, (blocks, n), Some(whole_error)),
        line(SplitTerm::Wholes, (wholes, k), Some(whole_error)),
        line(SplitTerm::WholePlots, whole_error, None),
        line(SplitTerm::Parts, (parts, m), Some(part_error)),
        line(SplitTerm::Together, (together, k * m), Some(part_error)),
        line(SplitTerm::PartPlots, part_error, None),
    ]
}

fn line(term: SplitTerm, own: (f64, usize), error: Option<(f64, usize)>) -> SplitLine {
    let square = |(sum, df): (f64, usize)| (df > 0).then(|| sum / count(df));
    let noise = error.and_then(square).filter(|e| *e > 0.0);
    let f = square(own).zip(noise).map(|(own, noise)| own / noise);
    let error_df = error.map(|(_, df)| count(df)).filter(|df| *df > 0.0);
    let p = f.zip(error_df).and_then(|(f, df)| f_tail(f, count(own.1), df));
    SplitLine { term, squares: Some(own.0), df: whole(own.1), error_df, f, p }
}

fn least_differences(
    plan: &Plan,
    confidence: Confidence,
    table: &[SplitLine],
) -> Vec<SplitDifference> {
    let error = |term| {
        let line = table.iter().find(|l| l.term == term)?;
        let df = f64::from(line.df);
        Some((line.squares? / df, t_critical(confidence.alpha(), df)?))
    };
    let (Some((large, large_t)), Some((small, small_t))) =
        (error(SplitTerm::WholePlots), error(SplitTerm::PartPlots))
    else {
        return Vec::new();
    };
    let (blocks, wholes, parts) = (count(plan.blocks), count(plan.wholes), count(plan.parts));
    let mixed = (parts - 1.0) * small + large;
    let weighted = ((parts - 1.0) * small * small_t + large * large_t) / mixed;
    let made = |of, variance: f64, t: f64| {
        let se = (2.0 * variance).sqrt();
        let least = t * se;
        least.is_finite().then_some(SplitDifference { of, se, least })
    };
    let all = [
        made(SplitComparison::Wholes, large / (blocks * parts), large_t),
        made(SplitComparison::Parts, small / (blocks * wholes), small_t),
        made(SplitComparison::PartsOfOneWhole, small / blocks, small_t),
        made(SplitComparison::WholesAtOnePart, mixed / (blocks * parts), weighted),
    ];
    all.into_iter().flatten().collect()
}
