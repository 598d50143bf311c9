//! Rows that are a matter of their own.

use super::super::finding::Evidence;
use super::super::reading::{Bottom, CleanerRunning, RowReading, WheelFeel};
use super::super::say;
use super::super::scene::{Scene, wheel_feel};
use super::super::set_aside::{Apart, SetAside};
use crate::provenance::Text;
use crate::quantity::{Length, Measured};

pub(in super::super) fn tyre_tracks(scene: &Scene<'_>) -> Option<Evidence> {
    let aside = scene.aside(Apart::BehindTyre);
    let free = scene.free_only(|r| r.behind_tyre);
    if aside.is_empty() && free.is_empty() {
        return None;
    }
    let mut rows: Vec<u16> = aside.iter().map(|s| s.row).chain(free.iter().copied()).collect();
    rows.sort_unstable();
    rows.dedup();
    let mut evidence = Evidence::default();
    if let Some(first) = aside.first() {
        let by = say::inches(Length::from_si(first.difference.si().abs()));
        evidence = evidence.pro(format!("rows behind tyres lie {by} shallower than the others"));
    }
    let own = scene.dig.rows().iter().filter(|r| rows.contains(&r.row));
    let felt: Vec<WheelFeel> = own.filter_map(wheel_feel).collect();
    let stopped = !felt.is_empty() && felt.iter().all(|feel| *feel != WheelFeel::SpinFree);
    Some(
        evidence
            .pro_if(!free.is_empty(), "only behind tyres do the gauge wheels spin free")
            .con_if(aside.is_empty() && scene.depth().is_some(), "seed lies there as elsewhere")
            .con_if(stopped, "their gauge wheels carry load: they reach their stop")
            .on(rows),
    )
}

pub(in super::super) fn odd_row(scene: &Scene<'_>) -> Option<Evidence> {
    let aside = scene.aside(Apart::Odd);
    let (depth_rows, mut pro): (Vec<u16>, Vec<Text>) =
        aside.iter().map(|s| (s.row, Text::Owned(depth_words(s)))).unzip();
    let mut rows = depth_rows;
    if let Some((row, words)) = lone_wheels(scene) {
        rows.push(row);
        pro.push(Text::Owned(words));
    }
    rows.sort_unstable();
    rows.dedup();
    let mut con: Vec<Text> = Vec::new();
    if aside.is_empty() && scene.depth().is_some() {
        con.push(Text::Borrowed("seed lies there as deep as on the others"));
    }
    if few_seeds(scene, &rows) {
        con.push(Text::Borrowed("fewer than three seeds were measured there"));
    }
    for reading in scene.dig.rows().iter().filter(|r| rows.contains(&r.row)) {
        pro.extend(own_signs(reading).map(|w| Text::Owned(format!("row {}: {w}", reading.row))));
    }
    (!rows.is_empty()).then_some(Evidence { pro, con, rows })
}

fn few_seeds(scene: &Scene<'_>, rows: &[u16]) -> bool {
    let measured = scene.dig.rows().iter().filter(|r| rows.contains(&r.row));
    measured.map(|r| r.seed_depths.len()).any(|seeds| (1..3).contains(&seeds))
}

fn depth_words(aside: &SetAside) -> String {
    let by = say::inches(Length::from_si(aside.difference.si().abs()));
    let side = if aside.difference.si() < 0.0 { "shallower" } else { "deeper" };
    format!("row {} lies {by} {side} than the others", aside.row)
}

/// A single row whose wheels turn otherwise than those of all the others, of three or more; not
/// where its place already explains it.
fn lone_wheels(scene: &Scene<'_>) -> Option<(u16, String)> {
    let felt: Vec<(&RowReading, WheelFeel)> =
        scene.dig.rows().iter().filter_map(|r| Some((r, r.gauge_wheels?))).collect();
    if felt.len() < 3 {
        return None;
    }
    let (row, feel) = felt.iter().find(|(row, feel)| {
        let mut others = felt.iter().filter(|(r, _)| r.row != row.row).map(|(_, f)| f);
        let first = others.next();
        first.is_some_and(|f| f != feel) && others.all(|f| Some(f) == first)
    })?;
    if (row.behind_tyre || row.outer) && *feel == WheelFeel::SpinFree {
        return None;
    }
    let how = match feel {
        WheelFeel::SpinFree => "spin free",
        WheelFeel::TurnWithEffort => "turn with effort",
        WheelFeel::Locked => "cannot be turned",
    };
    Some((row.row, format!("only on row {} the gauge wheels {how}", row.row)))
}

fn own_signs(row: &RowReading) -> impl Iterator<Item = &'static str> {
    let wrapped = (row.cleaner == Some(CleanerRunning::Wrapped)).then_some("wrapped cleaner");
    let deep = (row.cleaner == Some(CleanerRunning::BelowSurface)).then_some("cleaner runs deep");
    let ridged = (row.bottom == Some(Bottom::W)).then_some("W bottom");
    let tucked = (row.residue_in_furrow == Some(true)).then_some("residue in the furrow");
    [wrapped, deep, ridged, tucked].into_iter().flatten()
}
