//! Rows about plots that are split.

use domain::stats::Reml;
use domain::trial::analysis::{Confidence, PartPlot, SplitPlot, SplitTerm, split_plot};

use crate::answer::Answer;
use crate::data::Table;
use crate::row::Row;

/// The sources print sums of squares per sample; here they are of plot means.
pub(crate) fn split(row: &Row) -> Answer {
    let file = row.file().unwrap();
    let table = Table::read(file);
    let [block, whole, part, value] = match file {
        "trial_oats_split_plot.csv" => ["block", "variety", "nitrogen_cwt_per_acre", "yield"],
        "trial_rice_height_subsamples.csv" => ["replication", "management", "time", "height_cm"],
        other => panic!("{}: {other} has no columns here", row.id),
    };
    let mut names: [Vec<String>; 3] = Default::default();
    let mut plots: Vec<PartPlot> = Vec::new();
    for line in &table.lines {
        let mut at = [0; 3];
        for (i, column) in [block, whole, part].into_iter().enumerate() {
            let name = table.text(line, column);
            at[i] = names[i].iter().position(|n| n == name).unwrap_or_else(|| {
                names[i].push(name.to_owned());
                names[i].len() - 1
            });
        }
        let value = table.num(line, value);
        let known = plots.iter_mut().find(|p| [p.block, p.whole, p.part] == at);
        if let Some(plot) = known {
            plot.values.push(value);
        } else {
            let [block, whole, part] = at;
            plots.push(PartPlot { block, whole, part, values: vec![value] });
        }
    }
    let samples = f64::from(u32::try_from(plots[0].values.len()).unwrap());
    let (wholes, parts) = (names[1].len(), names[2].len());
    let trial = SplitPlot { wholes, parts, plots, confidence: Confidence::NinetyFive };
    let found = split_plot(&trial).unwrap();
    let of = |term| *found.table.iter().find(|l| l.term == term).unwrap();
    let ss = |term| samples * of(term).squares.unwrap();
    let mut answer = Answer::default();
    for (keys, term) in [
        (["ss_block", "ss_rep"], SplitTerm::Blocks),
        (["ss_variety", "ss_management"], SplitTerm::Wholes),
        (["ss_main_error", "ss_error_a"], SplitTerm::WholePlots),
        (["ss_nitrogen", "ss_time"], SplitTerm::Parts),
        (["ss_interaction", "ss_management_time"], SplitTerm::Together),
        (["ss_sub_error", "ss_error_b"], SplitTerm::PartPlots),
    ] {
        for key in keys {
            answer = answer.and(key, ss(term));
        }
    }
    if samples > 1.0 {
        answer = answer.and("ss_sampling", of(SplitTerm::Samples).squares.unwrap());
    }
    for (keys, term) in [
        (["f_variety", "f_management"], SplitTerm::Wholes),
        (["f_nitrogen", "f_time"], SplitTerm::Parts),
        (["f_interaction", "f_management_time"], SplitTerm::Together),
    ] {
        for key in keys {
            answer = answer.and(key, of(term).f.unwrap());
        }
    }
    answer
}

/// Sources of scatter of a plan that is split two ways, plots lost.
pub(crate) fn split_strip(row: &Row) -> Answer {
    let table = Table::read(row.file().unwrap());
    let lines: Vec<_> = table.lines.iter().filter(|l| !table.text(l, "yield").is_empty()).collect();
    assert_eq!(table.lines.len() - lines.len(), 6, "{}: blanks", row.id);
    let grouped = |columns: &[&str]| -> Vec<usize> {
        let mut names: Vec<Vec<String>> = Vec::new();
        let place = |line: &&csv::StringRecord| {
            let name: Vec<_> = columns.iter().map(|c| table.text(line, c).to_owned()).collect();
            names.iter().position(|n| *n == name).unwrap_or_else(|| {
                names.push(name);
                names.len() - 1
            })
        };
        lines.iter().map(place).collect()
    };
    let cells = grouped(&["cultivar", "spacing_in", "population_thousand"]);
    let columns: Vec<Vec<f64>> = (0..=*cells.iter().max().unwrap())
        .map(|cell| cells.iter().map(|own| f64::from(u8::from(*own == cell))).collect())
        .collect();
    let groupings = [
        grouped(&["block"]),
        grouped(&["block", "cultivar"]),
        grouped(&["block", "cultivar", "spacing_in"]),
        grouped(&["block", "cultivar", "population_thousand"]),
    ];
    let yields: Vec<f64> = lines.iter().map(|l| table.num(l, "yield")).collect();
    let found = Reml::of(&columns, &groupings, &yields).unwrap();
    let names = [
        "block",
        "block_cultivar",
        "block_cultivar_spacing",
        "block_cultivar_population",
        "residual",
    ];
    names
        .iter()
        .zip(found.variances())
        .fold(Answer::default(), |answer, (name, variance)| answer.and(name, *variance))
}
