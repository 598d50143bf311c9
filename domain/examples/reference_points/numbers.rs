//! Units and statistics.

use domain::quantity::{UNITS, unit};
use domain::stats::{
    OneWay, Spread, Usual, apart, holm, mean, phi, phi_inverse, sd, sd_limits, t_critical,
    t_p_value, units_needed, wilson,
};
use serde_json::{Value, json};

use crate::args::{Args, Function, one};

pub(crate) const FUNCTIONS: &[(&str, Function)] = &[
    ("unit_table", |_| UNITS.iter().map(|u| json!([u.code, u.kind])).collect()),
    ("convert", |a| {
        let (from, to) = (unit(a.text(1)).unwrap(), unit(a.text(2)).unwrap());
        one(to.of_si(from.to_si(a.num(0))))
    }),
    ("phi", |a| one(phi(a.num(0)))),
    ("phi_inverse", |a| one(phi_inverse(a.num(0)))),
    ("t_critical", |a| one(t_critical(a.num(0), a.num(1)))),
    ("t_p_value", |a| one(t_p_value(a.num(0), a.num(1)))),
    ("units_needed", |a| one(units_needed(a.num(0), a.num(1), a.whole(2)).map(f64::from))),
    ("wilson", |a| pair(wilson(a.num(0), a.num(1), a.num(2)))),
    ("sd_limits", |a| pair(sd_limits(a.num(0), a.num(1), a.num(2)))),
    ("holm", |a| json!(holm(&a.list(0)))),
    ("mean_sd", |a| {
        let readings = a.list(0);
        pair(mean(&readings).zip(sd(&readings)))
    }),
    ("one_way", one_way),
    ("apart", |a| {
        let usual = Usual { grain: 0.0, between: 0.0 };
        pair(apart(&a.lists(0), &a.lists(1), usual).map(|d| (d.difference, d.p)))
    }),
    ("sum_with_product", |a| {
        let spread = three(a, 0).plus(three(a, 1).times(three(a, 2)));
        json!([spread.mean(), spread.sd(), spread.skew()])
    }),
    ("by_ratio", |a| {
        let v = a.list(0);
        let spread = Spread::by_ratio(v[0], v[1], v[2]);
        json!([spread.mean(), spread.sd(), spread.skew()])
    }),
    ("mixture", |a| {
        let spread = three(a, 0).mixed(a.num(2), three(a, 1));
        json!([spread.mean(), spread.sd(), spread.skew()])
    }),
    ("curve", |a| {
        let spread = three(a, 0);
        let curve = spread.curve();
        let x = spread.mean() + a.num(1) * spread.sd();
        json!([spread.mean(), spread.sd(), spread.skew(), curve.below(x), curve.quantile(a.num(2))])
    }),
];

fn pair(found: Option<(f64, f64)>) -> Value {
    found.map_or(Value::Null, |(a, b)| json!([a, b]))
}

/// A triangular number from a list of low, likely and high.
fn three(args: &Args<'_>, at: usize) -> Spread {
    let v = args.list(at);
    Spread::triangular(v[0], v[1], v[2])
}

fn one_way(args: &Args<'_>) -> Value {
    let Some(table) = OneWay::of(&args.lists(0)) else { return Value::Null };
    let parts = table.components().zip(table.f()).zip(table.p());
    parts.map_or(Value::Null, |((c, f), p)| {
        json!([table.between_ss, table.within_ss, f, p, table.n0, c.moment, c.intraclass()])
    })
}
