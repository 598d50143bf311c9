//! Tables that are sections of the report.

use domain::conditions::Crop;
use domain::quantity::Measured;
use domain::season::report::{FieldStand, TrialSummary, WornPart};
use uuid::Uuid;

use super::{Cell, Row};

fn numbered(at: usize) -> Cell {
    Cell::Whole(i64::try_from(at + 1).unwrap_or(i64::MAX))
}

fn crop(it: Crop) -> Cell {
    Cell::Word(crate::reports::page::crop(it).to_owned())
}

pub(super) fn stands(it: &[FieldStand]) -> Vec<Row> {
    let row = |(at, stand): (usize, &FieldStand)| {
        vec![
            numbered(at),
            Cell::Id(Uuid::from_u128(stand.field.id)),
            crop(stand.crop),
            Cell::Day(stand.planted_on),
            Cell::Day(stand.counted_on),
            Cell::Number(stand.population.si(), 3),
            Cell::number(stand.population_low.map(Measured::si), 3),
            Cell::number(stand.population_high.map(Measured::si), 3),
            Cell::number(stand.emergence.map(|share| share * 100.0), 1),
        ]
    };
    it.iter().enumerate().map(row).collect()
}

pub(super) fn effects(it: &[TrialSummary]) -> Vec<Row> {
    let all = it.iter().flat_map(|trial| trial.effects.iter().map(move |effect| (trial, effect)));
    all.enumerate()
        .map(|(at, (trial, effect))| {
            vec![
                numbered(at),
                Cell::Id(Uuid::from_u128(trial.trial.id)),
                Cell::Text(trial.trial.name.clone()),
                Cell::Text(trial.response.clone()),
                Cell::Word(trial.unit.clone()),
                Cell::Text(effect.treatment.clone()),
                Cell::Text(effect.against.clone()),
                Cell::Number(effect.difference, 4),
                Cell::number(effect.low, 4),
                Cell::number(effect.high, 4),
                Cell::number(effect.p, 6),
            ]
        })
        .collect()
}

pub(super) fn wear(it: &[WornPart]) -> Vec<Row> {
    let row = |(at, part): (usize, &WornPart)| {
        let rows: Vec<String> = part.rows.iter().map(ToString::to_string).collect();
        vec![
            numbered(at),
            Cell::Id(Uuid::from_u128(part.planter.id)),
            Cell::Word(part.part.clone()),
            Cell::Text(rows.join(" ")),
            Cell::Day(part.measured_on),
            Cell::Number(part.measured.si() * 1e3, 2),
            Cell::number(part.limit.map(|it| it.si() * 1e3), 2),
            // From m per m² to mm per km².
            Cell::number(part.wear_per_area.map(|it| it * 1e9), 3),
            Cell::number(part.area_left.map(Measured::si), 0),
            Cell::Flag(part.replace),
        ]
    };
    it.iter().enumerate().map(row).collect()
}
