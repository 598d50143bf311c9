//! Sheets that are sections of the report, and the heads of sheets of rows.

use domain::season::report::SeasonReport;

use super::filled::Value;
use crate::reports::page::shed_reason;
use crate::reports::tables::Column;
use crate::reports::words::{In, rows as row_words};

/// `depth_off_mm`, with its unit where the name has none.
pub(super) fn head(column: &Column) -> String {
    let words = column.name.replace('_', " ");
    match column.unit {
        Some(unit) => {
            let stem = column
                .name
                .rsplit_once('_')
                .map_or(column.name, |(stem, _)| stem)
                .replace('_', " ");
            let stem = if column.name.ends_with("m_s") || column.name.ends_with("mm_km2") {
                stem.rsplit_once(' ').map_or(stem.clone(), |(stem, _)| stem.to_owned())
            } else {
                stem
            };
            format!("{stem} ({unit})")
        }
        None => words,
    }
}

pub(super) const TRIALS: &[&str] = &[
    "Trial",
    "Response",
    "Unit (UCUM)",
    "Design",
    "Treatment",
    "Against",
    "Difference",
    "Low, 95 %",
    "High, 95 %",
    "p",
    "What can be concluded",
];

pub(super) fn trials(report: &SeasonReport) -> Vec<Vec<Value>> {
    let all = report
        .trials
        .iter()
        .flat_map(|trial| trial.effects.iter().map(move |effect| (trial, effect)));
    all.map(|(trial, effect)| {
        vec![
            Value::text(&trial.trial.name),
            Value::text(&trial.response),
            Value::text(&trial.unit),
            Value::text(&trial.design),
            Value::text(&effect.treatment),
            Value::text(&effect.against),
            Value::Number(effect.difference),
            Value::maybe(effect.low, Value::Number),
            Value::maybe(effect.high, Value::Number),
            Value::maybe(effect.p, Value::Number),
            Value::text(&trial.verdict),
        ]
    })
    .collect()
}

pub(super) fn wear_heads(system: In) -> Vec<String> {
    let unit = system.depth_unit();
    vec![
        "Planter".to_owned(),
        "Part".to_owned(),
        "Rows".to_owned(),
        "Measured on".to_owned(),
        format!("Measured ({unit})"),
        format!("Limit ({unit})"),
        "Wears".to_owned(),
        "Land left".to_owned(),
        "At its limit on".to_owned(),
        "Replace".to_owned(),
    ]
}

pub(super) fn wear(report: &SeasonReport, system: In) -> Vec<Vec<Value>> {
    report
        .wear
        .iter()
        .map(|part| {
            vec![
                Value::text(&part.planter.name),
                Value::text(&part.words),
                Value::Text(row_words(&part.rows)),
                Value::Day(part.measured_on),
                Value::Number(system.depth_value(part.measured)),
                Value::maybe(part.limit, |it| Value::Number(system.depth_value(it))),
                Value::maybe(part.wear_per_area, |it| Value::Text(system.wear(it))),
                Value::maybe(part.area_left, |it| Value::Text(system.area(it))),
                Value::maybe(part.at_limit_on, Value::Day),
                Value::Flag(part.replace),
            ]
        })
        .collect()
}

pub(super) const SHED: &[&str] =
    &["Planter", "Mend or look at", "Rows", "Why", "Digs", "Last seen"];

pub(super) fn shed(report: &SeasonReport) -> Vec<Vec<Value>> {
    report
        .shed_list
        .iter()
        .map(|item| {
            vec![
                Value::text(&item.planter.name),
                Value::text(&item.words),
                Value::Text(row_words(&item.rows)),
                Value::text(shed_reason(item.reason)),
                Value::count(item.digs),
                Value::maybe(item.day, Value::Day),
            ]
        })
        .collect()
}
