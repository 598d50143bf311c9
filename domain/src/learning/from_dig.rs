//! From a dig check and a sheet to the numbers that the learning works with.

use super::balance::{DugBalance, WheelEdges};
use super::decide::Need;
use super::event::{DigEvent, RowSeen};
use super::place::Place;
use crate::conditions::{Conditions, Moisture, TextureGroup};
use crate::dig::{Cause, Class, Context, Finding, Observation, RowReading, Statistics, Wall};
use crate::planter::{Hopper, Planter, real_depth};
use crate::provenance::Coefficients;
use crate::quantity::{Force, Length, Measured, Speed};
use crate::settings::forces::load_for_loss;
use crate::settings::{AsSet, DugRow, LoadWindow};
use crate::stats::Range;

/// Whether a finding must be dealt with before the down force is touched: wet soil, or iron that is
/// wrong on the whole planter, or a lever that is surely off. What is wrong on some rows does not wait for the others.
pub fn blocks_force(finding: &Finding) -> bool {
    match finding.class {
        Class::Soil => true,
        Class::Mechanical => finding.rows.is_empty(),
        Class::Setting => finding.cause == Cause::LeverOff,
        Class::SomeRows | Class::Closing | Class::Seed => false,
    }
}

/// What a finding spoils for the learning.
fn spoils_load(finding: &Finding) -> bool {
    finding.rows.is_empty()
        && matches!(finding.cause, Cause::CleanerTooDeep | Cause::CleanerWrapped)
}

fn spoils_depth(finding: &Finding) -> bool {
    finding.rows.is_empty()
        && matches!(
            finding.cause,
            Cause::WornOrMisread
                | Cause::Hairpin
                | Cause::DiscsApart
                | Cause::SeedOffBottom
                | Cause::LooseUnit
                | Cause::UnevenRows
                | Cause::LeverOff
        )
}

/// The event of a dig; `None` where a cleaner carries the units, or no row speaks for the planter.
pub fn event_of_dig(
    id: u128,
    place: Place,
    dig: &Observation,
    case: &Context<'_>,
    statistics: &Statistics,
    findings: &[Finding],
) -> Option<DigEvent> {
    if findings.iter().any(spoils_load) {
        return None;
    }
    // The field by its safer readings, as the sheet was worked out.
    let (field, _) = case.conditions.settled(case.coefficients);
    let aside = rows_aside(statistics, findings);
    let deep_enough = !findings.iter().any(spoils_depth);
    let frame = findings.iter().any(|f| f.cause == Cause::FrameLifts);
    let rows: Vec<RowSeen> = dig
        .rows()
        .iter()
        .filter(|r| !(aside.contains(&r.row) || frame && r.outer))
        .map(|r| row_seen(r, deep_enough && !r.behind_tyre, walls_tell(&field)))
        .collect();
    if rows.is_empty() {
        return None;
    }
    let lever = case.lever_in_use(dig);
    let set = AsSet {
        down_force: case.force_in_use(dig),
        speed: case.speed_in_use(dig),
        box_share: dig.box_share(),
    };
    let stop = real_depth(lever, &case.planter.unit.opener);
    let balance = balance_of(case.planter, &field, case.coefficients, stop, set, case.window);
    Some(DigEvent { dig: id, place, balance, rows })
}

fn rows_aside(statistics: &Statistics, findings: &[Finding]) -> Vec<u16> {
    let apart = statistics.depth.iter().flat_map(|d| d.set_aside.iter().map(|s| s.row));
    let odd = findings
        .iter()
        .filter(|f| matches!(f.cause, Cause::OddRow | Cause::CleanerWrapped))
        .flat_map(|f| f.rows.iter().copied());
    apart.chain(odd).collect()
}

fn row_seen(row: &RowReading, with_depths: bool, walls_tell: bool) -> RowSeen {
    let on_bottom = row.seed_on_bottom != Some(false);
    let depths = if with_depths && on_bottom {
        row.seed_depths.iter().map(|d| d.si()).collect()
    } else {
        Vec::new()
    };
    RowSeen {
        behind_tyre: row.behind_tyre,
        wheels: row.gauge_wheels.filter(|_| !row.contradicts_itself()),
        print: row.print,
        shiny: row.wall.filter(|_| walls_tell).map(|wall| wall == Wall::Shiny),
        logged: row.logged_load.map(|l| l.mean.si()),
        depths,
    }
}

/// Whether a shiny wall tells of too much load: in wetter or finer soil it shines by itself, in drier
/// soil it never does.
fn walls_tell(field: &Conditions) -> bool {
    let fine = field.texture.is_some_and(|t| t.group() == TextureGroup::Fine);
    field.moisture == Some(Moisture::Moist) && !fine
}

fn balance_of(
    planter: &Planter,
    field: &Conditions,
    k: &Coefficients,
    stop: Length,
    set: AsSet,
    window: LoadWindow,
) -> DugBalance {
    let row = DugRow::at(planter, field, k, stop, set);
    let metal = metal(&row);
    let shallower = DugRow::at(planter, field, k, stop * 0.9, set);
    let grows = (metal / self::metal(&shallower)).ln() / (1.0_f64 / 0.9).ln();
    let steepness = grows / row.factors().0;
    DugBalance {
        pushes: row.opener_when_free().likely + row.coulter(),
        metal,
        steepness: if steepness.is_finite() { steepness.clamp(0.5, 3.0) } else { 1.0 },
        stop: stop.si(),
        edges: WheelEdges { free: k.wheel_free.value, locked: window.ceiling.si() },
    }
}

fn metal(row: &DugRow) -> f64 {
    row.possible_resistance().likely * row.opener_per_newton() + row.coulter()
}

/// What a row needs at a depth and speed, over the hopper as it empties.
pub fn need_of_row(
    planter: &Planter,
    field: &Conditions,
    k: &Coefficients,
    depth: Length,
    speed: Speed,
    window: LoadWindow,
) -> Need {
    let (field, _) = field.settled(k);
    let at = |box_share: f64| {
        let set = AsSet { down_force: Force::from_si(0.0), speed, box_share };
        DugRow::at(planter, &field, k, depth, set)
    };
    let half = at(0.5);
    let carried = |row: &DugRow| row.opener_when_free().likely + row.coulter();
    let levels = match planter.unit.hopper {
        Hopper::Central => vec![(1.0, carried(&half))],
        Hopper::PerRow { .. } => vec![
            (1.0 / 6.0, carried(&at(1.0))),
            (4.0 / 6.0, carried(&half)),
            (1.0 / 6.0, carried(&at(0.0))),
        ],
    };
    Need { levels, metal: metal(&half), lows: lows(&window, k), window }
}

/// Five points of the scatter along the row, each standing for a fifth of it, as the loads that keep
/// contact. Without room only the lightest class is asked for.
fn lows(window: &LoadWindow, k: &Coefficients) -> Vec<(f64, f64)> {
    if !window.room {
        return vec![(1.0, window.low.si())];
    }
    let scatter = Range::of(&k.load_scatter);
    let tolerated = window.edges.map_or(k.contact_loss_tolerated.value, |e| e.tolerated_loss);
    let low = |p: f64| {
        let contact = load_for_loss(tolerated, Force::from_si(scatter.quantile(p))).si();
        (0.2, contact.max(k.least_load.value).min(window.ceiling.si()))
    };
    [0.1, 0.3, 0.5, 0.7, 0.9].map(low).to_vec()
}
