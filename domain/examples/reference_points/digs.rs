//! What a dig says in numbers: limits with rows as units, spacings against the wanted one.

use domain::conditions::Crop;
use domain::dig::{
    LimitsOf, Observation, RowReading, SettingsInUse, SpacingAgainst, Statistics, Wanted,
    statistics,
};
use domain::provenance::Coefficients;
use domain::quantity::Length;
use domain::stats::{
    ComponentLimits, Pooled, f_point, f_tail, figure_limits, fisher_exact, mean_limits,
};
use serde_json::{Value, json};

use crate::args::{Args, Function, one, quantity, shown};

const INCH: &str = "[in_i]";

pub(crate) const FUNCTIONS: &[(&str, Function)] = &[
    ("f_point", |a| one(f_point(a.num(0), a.num(1), a.num(2)))),
    ("f_tail", |a| one(f_tail(a.num(0), a.num(1), a.num(2)))),
    ("fisher_exact", |a| one(fisher_exact(a.whole(0), a.whole(1), a.whole(2), a.whole(3)))),
    ("component_limits", |a| {
        ComponentLimits::of(&a.lists(0), a.num(1)).map_or(Value::Null, |l| {
            let (low, high) = l.intraclass.unwrap();
            json!([l.between.0, l.between.1, l.total.0, l.total.1, low, high])
        })
    }),
    ("mean_limits", |a| pair(mean_limits(&a.lists(0), a.num(1)))),
    ("sd_by_group", |a| pair(figure_limits(&a.lists(0), |p| p.sd, a.num(1)))),
    ("cv_by_group", |a| {
        let cv = |p: Pooled| p.sd.map(|s| s / p.mean);
        pair(figure_limits(&a.lists(0), cv, a.num(1)))
    }),
    ("scatter", |a| {
        let depth = of_dig(&a.lists(0), &[]).depth.unwrap();
        json!(depth.rows.iter().map(|r| r.scatter_p).collect::<Vec<_>>())
    }),
    ("dig_spacings", dig_spacings),
];

fn pair(found: Option<(f64, f64)>) -> Value {
    found.map_or(Value::Null, |(a, b)| json!([a, b]))
}

/// The statistics of a dig with these depths and spacings, row by row in inches: 2 in were wanted,
/// a quarter inch off allowed, 6.5 in from seed to seed in 30 in rows.
fn of_dig(depths: &[Vec<f64>], spacings: &[Vec<f64>]) -> Statistics {
    let inches = |list: &Vec<f64>| list.iter().map(|v| quantity(*v, INCH)).collect();
    let mut rows: Vec<RowReading> = (1..=64).map(RowReading::of).collect();
    rows.truncate(depths.len().max(spacings.len()));
    for (row, depths) in rows.iter_mut().zip(depths) {
        row.seed_depths = inches(depths);
    }
    for (row, spacings) in rows.iter_mut().zip(spacings) {
        row.spacings = inches(spacings);
    }
    let dig = Observation::new(SettingsInUse::default(), rows, String::new(), 64).unwrap();
    let wanted = Wanted {
        depth: quantity(2.0, INCH),
        tolerance: quantity(0.25, INCH),
        spacing: Some(quantity(6.5, INCH)),
        row_width: quantity(30.0, INCH),
        rows: 64,
        crop: Crop::Corn,
    };
    statistics(&dig, &wanted, &Coefficients::STANDARD)
}

/// Named numbers, all rows together and each row with its own indices.
fn dig_spacings(args: &Args<'_>) -> Value {
    let found = of_dig(&[], &args.lists(0)).spacing.unwrap();
    let inch = |l: Length| shown(l, INCH);
    let per_acre = |p| shown(p, "1/[acr_us]");
    json!({
        "of_planter": found.limits_of == Some(LimitsOf::Planter),
        "mean": inch(found.mean),
        "mean_limits": found.mean_limits.map(|l| [inch(l.low), inch(l.high)]),
        "sd": found.sd.map(inch),
        "sd_limits": found.sd_limits.map(|l| [inch(l.low), inch(l.high)]),
        "cv": found.cv,
        "cv_limits": found.cv_limits.map(|l| [l.low, l.high]),
        "population": found.population.map(per_acre),
        "population_limits": found.population_limits.map(|l| [per_acre(l.low), per_acre(l.high)]),
        "against": found.against.map(|a| indices(&a)),
        "rows": found.rows.iter().map(|r| json!({
            "mean_limits": r.mean_limits.map(|l| [inch(l.low), inch(l.high)]),
            "sd": r.sd.map(inch),
            "against": r.against.map(|a| indices(&a)),
            "meter_check": r.meter_check,
            "faults_p": r.faults_p,
        })).collect::<Vec<_>>(),
    })
}

fn indices(a: &SpacingAgainst) -> Value {
    let share = |s: domain::dig::Share| [s.share, s.low, s.high, s.worth];
    let (r, p) = (a.regions.unwrap(), a.positions);
    json!({
        "regions": [r.multiples, r.singles, r.one_skip, r.two_skips, r.more_skips],
        "positions": p.map(|p| [p.multiples, p.singles, p.empty]),
        "multiples": share(a.multiples),
        "singles": share(a.singles),
        "skips": share(a.skips),
        "precision": [a.precision_over_wanted, a.precision_over_mean],
        "precision_limits": a.precision_over_wanted_limits.map(|l| [l.low, l.high]),
        "singles_cv_limits": a.precision_over_mean_limits.map(|l| [l.low, l.high]),
        "population_off": a.population_off,
        "population_off_limits": a.population_off_limits.map(|l| [l.low, l.high]),
    })
}
