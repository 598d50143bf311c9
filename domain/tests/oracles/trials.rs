//! Rows about trials: pairs, blocks, several treatments, power.

use domain::stats::{
    SignFlip, bartlett, benjamini_hochberg, brown_forsythe, cochran, cochran_critical, grubbs,
    grubbs_critical, holm, mean, noncentral_t_above, sd, sign_flip, signed_rank,
    studentized_critical, t_critical,
};
use domain::trial::analysis::{
    Analysis, Better, Comparison, Confidence, DesignKind, Effect, Line, Plot, Response, Scale,
    Term, Trial, analyse,
};
use domain::trial::power::Planned;

use crate::answer::{Answer, Got};
use crate::data::Table;
use crate::row::Row;
use crate::statistics::groups;

/// A trial of a file: which columns hold block, treatment and value.
fn trial(design: DesignKind, table: &Table, columns: (Option<&str>, &str, &str)) -> Trial {
    let (block, treatment, value) = columns;
    let place = |names: &mut Vec<String>, name: &str| {
        names.iter().position(|n| n == name).unwrap_or_else(|| {
            names.push(name.to_owned());
            names.len() - 1
        })
    };
    let (mut blocks, mut treatments, mut plots) = (Vec::new(), Vec::new(), Vec::<Plot>::new());
    for line in &table.lines {
        let at = (
            place(&mut treatments, table.text(line, treatment)),
            block.map_or(plots.len(), |b| place(&mut blocks, table.text(line, b))),
        );
        let value = table.num(line, value);
        match plots.iter_mut().find(|p| (p.treatment, p.block) == at) {
            Some(plot) => plot.values.push(value),
            None => plots.push(Plot { treatment: at.0, block: at.1, values: vec![value] }),
        }
    }
    of_plots(design, treatments, plots)
}

fn of_plots(design: DesignKind, treatments: Vec<String>, plots: Vec<Plot>) -> Trial {
    Trial {
        design,
        treatments,
        control: None,
        plots,
        randomised: true,
        confidence: Confidence::NinetyFive,
        response: Response {
            what: "yield".to_owned(),
            unit: "bu/ac".to_owned(),
            better: Better::Higher,
            scale: Scale::Measure,
        },
        matters: None,
    }
}

fn of_groups(groups: &[Vec<f64>]) -> Trial {
    let names = (1..=groups.len()).map(|g| g.to_string()).collect();
    let plots = groups.iter().enumerate().flat_map(|(treatment, values)| {
        values.iter().enumerate().map(move |(block, v)| Plot { treatment, block, values: vec![*v] })
    });
    of_plots(DesignKind::CompletelyRandomised, names, plots.collect())
}

/// Two columns as treatments of a paired trial, the second one the control.
fn of_pairs(row: &Row) -> Trial {
    let table = Table::read(row.file().unwrap());
    let columns = match row.text("difference") {
        Some("cross-self") | None => ["cross_in", "self_in"],
        Some("year_1-year_2") => ["year_1", "year_2"],
        Some("preparation_1-preparation_2") => ["preparation_1", "preparation_2"],
        Some(other) => panic!("{}: nobody knows {other}", row.id),
    };
    let plots = table.lines.iter().enumerate().flat_map(|(block, line)| {
        let of = |treatment: usize| Plot {
            treatment,
            block,
            values: vec![table.num(line, columns[treatment])],
        };
        [of(0), of(1)]
    });
    let names = columns.map(str::to_owned).to_vec();
    let made = of_plots(DesignKind::Paired, names, plots.collect());
    Trial { control: Some(1), ..made }
}

pub(crate) fn paired(row: &Row) -> Answer {
    let found = analyse(&of_pairs(row)).unwrap();
    let effect = found.effects[0];
    Answer::one("mean", effect.difference)
        .and("n", f64::from(found.pairs.unwrap().pairs))
        .and("sd", found.pairs.unwrap().sd.unwrap())
        .and("se", effect.se.unwrap())
        .and("t", effect.t.unwrap())
        .and("df", f64::from(found.rests_on.error_df))
        .and("p", effect.p.unwrap())
        .and("ci_low", effect.low.unwrap())
        .and("ci_high", effect.high.unwrap())
}

/// The differences of the pairs of a file.
fn differences(trial: &Trial) -> Vec<f64> {
    let value = |t: usize, b: usize| {
        trial.plots.iter().find(|p| (p.treatment, p.block) == (t, b)).unwrap().values[0]
    };
    (0..trial.plots.len() / 2).map(|b| value(0, b) - value(1, b)).collect()
}

pub(crate) fn permutation(row: &Row) -> Answer {
    let trial = of_pairs(row);
    let eighths: Vec<f64> = differences(&trial).iter().map(|d| 8.0 * d).collect();
    let SignFlip { sum, at_least, equal, p } = sign_flip(&eighths).unwrap();
    let found = analyse(&trial).unwrap().pairs.unwrap().sign_flip.unwrap();
    assert!((found.p - p).abs() < 1e-12 && (found.statistic * 8.0 - sum).abs() < 1e-9);
    Answer::one("observed_sum", sum)
        .and("sums_at_least", f64::from(at_least))
        .and("sums_equal", f64::from(equal))
        .and("assignments", 2_f64.powi(i32::try_from(eighths.len()).unwrap()))
        .and("p_one_sided", p / 2.0)
        .and("p_two_sided", p)
        .and_list("eighths", eighths)
}

pub(crate) fn ranks(row: &Row) -> Answer {
    let trial = of_pairs(row);
    let found = signed_rank(&differences(&trial)).unwrap();
    let shown = analyse(&trial).unwrap().pairs.unwrap().signed_rank.unwrap();
    Answer::one("min_rank_sum", shown.statistic)
        .and("p", shown.p)
        .and("one_sided_sum", found.above)
        .and("p_one_sided", found.p / 2.0)
}

pub(crate) fn many_tests(row: &Row) -> Answer {
    let p = row.nums("p");
    let adjusted = match row.text("method") {
        Some("Holm") => holm(&p),
        Some("Benjamini-Hochberg") => benjamini_hochberg(&p),
        other => panic!("{}: nobody adjusts by {other:?}", row.id),
    };
    let below = |values: &[f64], level: f64| values.iter().filter(|p| **p <= level).count();
    let number = |n: usize| f64::from(u32::try_from(n).unwrap());
    Answer::list("adjusted", adjusted.clone())
        .and("rejected_at_5_pct", number(below(&adjusted, 0.05)))
        .and("rejected_by_bonferroni", number(below(&p, 0.05 / number(p.len()))))
        .and_list("adjusted_first_ten", adjusted.iter().copied().take(10))
        .and_list("adjusted_first_three", adjusted.iter().copied().take(3))
}

/// The effect of a pair of groups as the row names it: the first less the second.
fn effect(found: &Analysis, one: usize, other: usize) -> Effect {
    let of = |e: &&Effect| (e.treatment, e.against) == (other, one);
    let e = *found.effects.iter().find(of).unwrap();
    Effect { difference: -e.difference, low: e.high.map(|x| -x), high: e.low.map(|x| -x), ..e }
}

fn line(found: &Analysis, term: Term) -> Line {
    *found.table.iter().find(|l| l.term == term).unwrap()
}

pub(crate) fn all_pairs(row: &Row) -> Answer {
    let found = analyse(&of_groups(&groups(row))).unwrap();
    assert_eq!(found.comparison, Comparison::TukeyKramer);
    let mut answer = Answer::one("ss_treatment", line(&found, Term::Treatments).squares)
        .and("ss_error", line(&found, Term::Plots).squares)
        .and("mse", line(&found, Term::Plots).mean_square.unwrap())
        .and("f", line(&found, Term::Treatments).f.unwrap());
    if let Some(honest) = found.honest_difference {
        answer = answer.and("hsd_05", honest);
    }
    let keys = [
        (0, 1, ["d_1_2", "low_1_2", "high_1_2", "p_1_2"]),
        (0, 2, ["d_1_3", "low_1_3", "high_1_3", "p_1_3"]),
        (1, 2, ["d_2_3", "low_2_3", "high_2_3", "p_2_3"]),
    ];
    for (one, other, [d, low, high, p]) in keys {
        let e = effect(&found, one, other);
        answer = answer
            .and(d, e.difference)
            .and(low, e.low.unwrap())
            .and(high, e.high.unwrap())
            .and(p, e.p.unwrap());
    }
    let alike = found.effects.iter().filter(|e| e.p.unwrap() >= 0.05);
    let names = alike.map(|e| Got::Word(format!("{}-{}", e.against + 1, e.treatment + 1)));
    answer.values.push(("not_different", names.collect()));
    answer
}

pub(crate) fn dunnett(row: &Row) -> Answer {
    let table = Table::read(row.file().unwrap());
    let groups: Vec<Vec<f64>> =
        table.groups("group", "value").into_iter().map(|(_, values)| values).collect();
    let trial = Trial { control: Some(0), ..of_groups(&groups) };
    let found = analyse(&trial).unwrap();
    assert_eq!(found.comparison, Comparison::Dunnett);
    Answer::list("statistic", found.effects.iter().map(|e| e.t.unwrap()))
        .and_list("p", found.effects.iter().map(|e| e.p.unwrap()))
}

pub(crate) fn spread(row: &Row) -> Answer {
    let groups = groups(row);
    let variances: Vec<f64> = groups.iter().map(|g| sd(g).unwrap().powi(2)).collect();
    let (b, l) = (bartlett(&groups).unwrap(), brown_forsythe(&groups).unwrap());
    let n = f64::from(u32::try_from(groups[0].len()).unwrap());
    Answer::one("bartlett", b.statistic)
        .and("bartlett_p", b.p)
        .and("levene_median", l.statistic)
        .and("levene_p", l.p)
        .and("cochran_c", cochran(&variances, n).unwrap().1.statistic)
        .and_list("variance", variances)
}

pub(crate) fn grubbs_test(row: &Row) -> Answer {
    let table = Table::read(row.file().unwrap());
    let values: Vec<f64> = table.lines.iter().map(|l| table.num(l, "reading")).collect();
    let n = f64::from(u32::try_from(values.len()).unwrap());
    Answer::one("mean", mean(&values).unwrap())
        .and("sd", sd(&values).unwrap())
        .and("g", grubbs(&values).unwrap().g)
        .and("critical", grubbs_critical(2.0 * row.num("alpha"), n).unwrap())
}

fn planned(design: DesignKind, confidence: Confidence) -> Planned {
    Planned { design, treatments: 2, control: true, confidence }
}

pub(crate) fn power(row: &Row) -> Answer {
    if let Some(file) = row.file() {
        return paired_power(file);
    }
    let n: u32 = row.text("n").unwrap().split(' ').next().unwrap().parse().unwrap();
    let d = row.num("d");
    let paired = row.text("design") != Some("two-sample");
    if row.text("alternative") == Some("larger") {
        let df = f64::from(n) - 1.0;
        let critical = t_critical(2.0 * row.num("alpha"), df).unwrap();
        let effect = d * f64::from(n).sqrt();
        return Answer::one("power", noncentral_t_above(critical, df, effect).unwrap());
    }
    let design = if paired { DesignKind::Paired } else { DesignKind::CompletelyRandomised };
    // Differences vary by the square root of two more than plots.
    let sd = if paired { 0.5_f64.sqrt() } else { 1.0 };
    Answer::one("power", planned(design, Confidence::NinetyFive).power(n, d, sd).unwrap())
}

fn paired_power(file: &str) -> Answer {
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let n: u32 = table.text(line, "pairs").parse().unwrap();
        for (end, confidence) in [("05", Confidence::NinetyFive), ("10", Confidence::Ninety)] {
            let plan = planned(DesignKind::Paired, confidence);
            let sd = 0.5_f64.sqrt();
            let (detect, lsd) = (format!("detect_alpha_{end}"), format!("lsd_alpha_{end}"));
            let got = plan.detectable(n, sd, 0.8).unwrap();
            answer.cell(format!("{detect} at {n}"), table.text(line, &detect), got);
            let got = plan.least_difference(n, sd).unwrap();
            answer.cell(format!("{lsd} at {n}"), table.text(line, &lsd), got);
        }
    }
    answer
}

pub(crate) fn blocks(row: &Row) -> Answer {
    let table = Table::read(row.file().unwrap());
    let columns = (Some("block"), "variety", "yield");
    let made = trial(DesignKind::RandomisedBlocks, &table, columns);
    let found = analyse(&made).unwrap();
    let ninety = Trial { confidence: Confidence::Ninety, ..made.clone() };
    let loose = Trial { design: DesignKind::CompletelyRandomised, ..made };
    let (block, variety) = (line(&found, Term::Blocks), line(&found, Term::Treatments));
    let error = line(&found, Term::Plots);
    Answer::one("ss_block", block.squares)
        .and("f_block", block.f.unwrap())
        .and("p_block", block.p.unwrap())
        .and("ss_variety", variety.squares)
        .and("f_variety", variety.f.unwrap())
        .and("p_variety", variety.p.unwrap())
        .and("ss_error", error.squares)
        .and("df_error", f64::from(error.df))
        .and("mse", error.mean_square.unwrap())
        .and("ss_total", line(&found, Term::Total).squares)
        .and_list("means", found.means.iter().map(|m| m.adjusted.unwrap()))
        .and(
            "f_variety_without_blocks",
            line(&analyse(&loose).unwrap(), Term::Treatments).f.unwrap(),
        )
        .and("sed", found.effects[0].se.unwrap())
        .and("lsd_05", found.least_difference.unwrap())
        .and("lsd_10", analyse(&ninety).unwrap().least_difference.unwrap())
        .and("hsd_05", found.honest_difference.unwrap())
        .and("cv_pct", found.cv_percent.unwrap())
        .and("relative_efficiency", found.relative_efficiency.unwrap())
}

/// The source prints the table per hill; here it is one of plot means, four hills each.
pub(crate) fn sampled_blocks(row: &Row) -> Answer {
    let table = Table::read(row.file().unwrap());
    let columns = (Some("block"), "treatment", "tillers");
    let made = trial(DesignKind::RandomisedBlocks, &table, columns);
    let found = analyse(&made).unwrap();
    let parts = found.components.unwrap();
    let hills = parts.per_plot;
    let of = |term| line(&found, term);
    let ms = |term| of(term).mean_square.unwrap();
    let plots: Vec<f64> = made.plots.iter().map(|p| mean(&p.values).unwrap()).collect();
    Answer::one("ss_block", hills * of(Term::Blocks).squares)
        .and("ms_block", hills * ms(Term::Blocks))
        .and("ss_treatment", hills * of(Term::Treatments).squares)
        .and("ms_treatment", hills * ms(Term::Treatments))
        .and("ss_block_treatment", hills * of(Term::Plots).squares)
        .and("ms_block_treatment", hills * ms(Term::Plots))
        .and("ss_within", of(Term::Samples).squares)
        .and("ms_within", ms(Term::Samples))
        // What nobody should take for the test of treatments.
        .and("f_against_within", hills * ms(Term::Treatments) / ms(Term::Samples))
        .and("f_against_plots", of(Term::Treatments).f.unwrap())
        .and("p", of(Term::Treatments).p.unwrap())
        .and("plot_component", parts.plots)
        .and("sed", found.effects[0].se.unwrap())
        .and("lsd_05", found.least_difference.unwrap())
        .and("grand_mean", mean(&plots).unwrap())
}

pub(crate) fn critical(row: &Row) -> Option<Answer> {
    if row.text("statistic") == Some("Cochran C") {
        let (k, n) = (row.nums("k"), row.nums("n"));
        let of = |(k, n): (f64, f64)| cochran_critical(row.num("alpha"), k, n).unwrap();
        return Some(Answer::list("critical", k.into_iter().zip(n).map(of)));
    }
    let table = Table::read(row.file()?);
    let mut answer = Answer::default();
    for line in &table.lines {
        match row.file()? {
            "studentized_range.csv" => {
                let (k, df) = (table.num(line, "k"), table.num(line, "df"));
                let k: u32 = format!("{k}").parse().unwrap();
                let got = studentized_critical(0.05, k, df).unwrap();
                answer.cell(format!("q({k}, {df})"), table.text(line, "q_95"), got);
            }
            "grubbs_critical.csv" => {
                let n = table.num(line, "n");
                for (column, alpha) in [("one_sided_05", 0.10), ("two_sided_05", 0.05)] {
                    let got = grubbs_critical(alpha, n).unwrap();
                    answer.cell(format!("{column} at {n}"), table.text(line, column), got);
                }
            }
            _ => return None,
        }
    }
    Some(answer)
}

/// Tukey's chances beside the one-way table of three groups. The trial comes to the same table.
pub(crate) fn with_all_pairs(answer: Answer, groups: &[Vec<f64>], f: f64) -> Answer {
    let found = analyse(&of_groups(groups)).unwrap();
    let by_trial = line(&found, Term::Treatments).f.unwrap();
    assert!((by_trial - f).abs() <= 1e-4 * f, "a trial gives {by_trial}, the table {f}");
    if groups.len() != 3 {
        return answer;
    }
    let p = |one, other| effect(&found, one, other).p.unwrap();
    answer
        .and("tukey_p_ctrl_trt1", p(0, 1))
        .and("tukey_p_ctrl_trt2", p(0, 2))
        .and("tukey_p_trt1_trt2", p(1, 2))
}
