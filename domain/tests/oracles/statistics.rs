//! Rows about statistics: intervals, critical values, variance in groups.

use domain::stats::{
    ComponentLimits, OneWay, mean, phi_inverse, sd, t_critical, units_needed, wilson,
};

use crate::answer::Answer;
use crate::data::Table;
use crate::row::Row;
use crate::trials;

pub(crate) fn binomial_limits(row: &Row) -> Answer {
    assert_eq!(row.text("method"), Some("Wilson"));
    let (low, high) = wilson(row.num("count"), row.num("n"), row.num("confidence")).unwrap();
    Answer::one("low", low).and("high", high)
}

pub(crate) fn critical_values(row: &Row) -> Answer {
    if let Some(answer) = trials::critical(row) {
        return answer;
    }
    let Some(file) = row.file() else {
        let alpha = row.num("alpha");
        let rows = row.nums("rows").into_iter();
        return Answer::list("critical", rows.map(|k| phi_inverse(1.0 - alpha / (2.0 * k))));
    };
    let table = Table::read(file);
    let mut answer = Answer::default();
    for line in &table.lines {
        let df = table.num(line, "df");
        for (column, alpha) in
            [("two_sided_10", 0.10), ("two_sided_05", 0.05), ("two_sided_01", 0.01)]
        {
            let got = t_critical(alpha, df).unwrap();
            answer.cell(format!("{column} at {df}"), table.text(line, column), got);
        }
    }
    answer
}

pub(crate) fn sample_size(row: &Row) -> Answer {
    let table = Table::read(row.file().unwrap());
    let mut answer = Answer::default();
    for line in &table.lines {
        let (s, e) = (table.num(line, "s"), table.num(line, "e"));
        let n = units_needed(s, e, 1000).unwrap();
        answer.cell(format!("n for s {s}, e {e}"), table.text(line, "n_t"), f64::from(n));
        // Without allowance for a spread that is itself estimated: (z s / e)^2, rounded up.
        let normal = (phi_inverse(0.975) * s / e).powi(2).ceil();
        answer.cell(format!("normal n for s {s}, e {e}"), table.text(line, "n_normal"), normal);
    }
    answer
}

pub(crate) fn groups(row: &Row) -> Vec<Vec<f64>> {
    let name = row.file().unwrap();
    let table = Table::read(name);
    let (by, of) = match name {
        "trial_instruments.csv" => ("instrument", "reading"),
        "trial_silver_weights.csv" => ("instrument", "atomic_weight"),
        "trial_cancellation_sets.csv" => ("treatment", "response"),
        "trial_batches_1.csv" | "trial_batches_2.csv" => ("batch", "yield"),
        "trial_six_targets_four_judges.csv" => ("target", "rating"),
        "trial_plant_growth.csv" => ("group", "weight"),
        "trial_handbook_levels.csv"
        | "trial_five_sites.csv"
        | "trial_spread_three_lots.csv"
        | "trial_three_groups.csv" => ("group", "value"),
        "trial_soybean_rows_uniformity.csv" | "trial_corn_grid_uniformity.csv" => {
            ("column", "yield_bu_per_acre")
        }
        other => panic!("{}: {other} has no columns here", row.id),
    };
    let table = match row.text("set") {
        None => table,
        Some(set) => {
            let mut table = table;
            let keep: Vec<bool> = table.lines.iter().map(|l| table.text(l, "set") == set).collect();
            let mut keep = keep.into_iter();
            table.lines.retain(|_| keep.next().unwrap());
            table
        }
    };
    let wanted = row.text("groups").map(|g| g.split('|').map(str::to_owned).collect::<Vec<_>>());
    let all = table.groups(by, of).into_iter();
    all.filter(|(name, _)| wanted.as_ref().is_none_or(|w| w.contains(name)))
        .map(|(_, values)| values)
        .collect()
}

/// The least difference between two group means that is significant at 5 %, by Student's t.
fn least_difference(table: &OneWay, groups: &[Vec<f64>]) -> f64 {
    let two = groups.iter().take(2).map(|g| 1.0 / f64::from(u32::try_from(g.len()).unwrap()));
    let noise = table.within_ms().unwrap() * two.sum::<f64>();
    t_critical(0.05, table.within_df()).unwrap() * noise.sqrt()
}

pub(crate) fn one_way(row: &Row) -> Answer {
    let groups = groups(row);
    let all: Vec<f64> = groups.iter().flatten().copied().collect();
    let table = OneWay::of(&groups).unwrap();
    let parts = table.components().unwrap();
    let (between, within) = (table.between_ms().unwrap(), table.within_ms().unwrap());
    let r2 = table.between_ss / (table.between_ss + table.within_ss);
    let alike = ComponentLimits::of(&groups, 0.95).unwrap().intraclass.unwrap();
    let answer = Answer::one("ssb", table.between_ss)
        .and("ss_treatment", table.between_ss)
        .and("df_b", table.between_df())
        .and("msb", between)
        .and("ssw", table.within_ss)
        .and("ss_error", table.within_ss)
        .and("df_w", table.within_df())
        .and("msw", within)
        .and("mse", within)
        .and("f", table.f().unwrap())
        .and("p", table.p().unwrap())
        .and("r2", r2)
        .and("residual_sd", within.sqrt())
        .and("s2_b", parts.between)
        .and("reported_s2_b", parts.between)
        .and("moment_estimate", parts.moment)
        .and("s_b", parts.between.sqrt())
        .and("s_w", parts.within.sqrt())
        .and("icc", parts.intraclass())
        .and("icc_low", alike.0)
        .and("icc_high", alike.1)
        .and("se_grand_mean", (between / table.readings).sqrt())
        .and("n", table.readings)
        .and("n0", table.n0)
        .and("grand_mean", table.grand_mean)
        .and("mean", table.grand_mean)
        .and("cv_pct", 100.0 * sd(&all).unwrap() / table.grand_mean)
        .and_list("means", groups.iter().map(|g| mean(g).unwrap()))
        .and_list("variance", groups.iter().map(|g| sd(g).unwrap().powi(2)))
        .and("lsd_05", least_difference(&table, &groups));
    if row.topic == "one_way_anova" {
        trials::with_all_pairs(answer, &groups, table.f().unwrap())
    } else {
        answer
    }
}
