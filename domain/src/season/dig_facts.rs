//! What a dig says about the season, in whole numbers.

use serde::{Deserialize, Serialize};

use super::report::DEPTH_BIN;
use crate::dig::{
    Cause, Class, Context, DepthStatistics, Judgement, NoticeCode, Observation, Share, WheelFeel,
};
use crate::learning::SoilClass;
use crate::quantity::Measured;
use crate::stats::mean;

/// What a dig says about the season.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct DigFacts {
    /// Soil and cover as the sheet knew them.
    pub class: SoilClass,
    /// Whether it is another dig than those before: the same readings sent twice count once.
    pub once: bool,
    /// Whether it says how the advice did: it was not dug before its settings were issued, and its
    /// units are not in doubt.
    pub tells: bool,
    /// Whether the mean depth lies within tolerance; none where no depth was measured.
    pub depth_inside: Option<bool>,
    /// Whether the load lies in the window; none where nobody logged it or felt the wheels.
    pub load_inside: Option<bool>,
    /// Mean depth less the depth that was wanted, µm.
    pub off_um: Option<i64>,
    /// How far from it a seed may lie, µm.
    pub tolerance_um: i64,
    /// Speed while the dug rows were planted, mm/s: as reported, else as advised.
    pub speed_mm_s: i64,
    /// Load on the gauge wheels, N, where it was logged.
    pub load_n: Option<i64>,
    /// Seeds by bin of depth: how many bins off the depth that was wanted, and how many seeds.
    pub depths: Vec<(i64, u32)>,
    /// Seeds within tolerance.
    pub within: u32,
    /// Seeds that were measured.
    pub seeds: u32,
    /// The cause that its proposal deals with.
    pub cause: Option<Cause>,
    /// What of the iron it points to.
    pub iron: Vec<Cause>,
}

impl DigFacts {
    /// What a judged dig says; `notices` are those that it was kept with.
    pub fn of(
        dig: &Observation,
        judged: &Judgement,
        case: &Context<'_>,
        notices: &[NoticeCode],
    ) -> Self {
        let depth = judged.statistics.depth.as_ref();
        let logged = logged(dig, depth);
        let whole = |scaled: f64| whole(scaled.round());
        Self {
            class: SoilClass::of(case.conditions),
            once: !notices.contains(&NoticeCode::SameReadings),
            tells: notices.iter().all(|code| tells(*code)),
            depth_inside: depth.map(on_target),
            load_inside: load_inside(dig, depth, logged, case),
            off_um: depth.map(|it| whole((it.planter.mean - it.target).si() * 1e6)),
            tolerance_um: whole(case.tolerance.si() * 1e6),
            speed_mm_s: whole(case.speed_in_use(dig).si() * 1e3),
            load_n: logged.map(whole),
            depths: bins(dig, case.depth_target.si()),
            within: depth.map_or(0, |it| seeds_of(it.within)),
            seeds: depth.map_or(0, |it| it.seeds),
            cause: judged.proposal.cause,
            iron: iron(judged),
        }
    }

    /// Whether load and depth were both in the window; none where that can't be told.
    pub fn inside(&self) -> Option<bool> {
        match (self.depth_inside, self.load_inside) {
            (Some(true), Some(true)) => Some(true),
            (Some(false), _) | (_, Some(false)) => Some(false),
            _ => None,
        }
    }
}

fn tells(code: NoticeCode) -> bool {
    match code {
        NoticeCode::RevisionReplaced | NoticeCode::ResemblesAnother | NoticeCode::RowsPicked => {
            true
        }
        NoticeCode::DugBeforeIssue
        | NoticeCode::SettingsNotReported
        | NoticeCode::SameReadings
        | NoticeCode::UnitDoubtful => false,
    }
}

/// The mean lies within tolerance, sure or not.
fn on_target(depth: &DepthStatistics) -> bool {
    (depth.planter.mean - depth.target).si().abs() <= depth.tolerance.si() + 1e-9
}

/// Rows that do not speak for the planter are left out.
fn speaks(depth: Option<&DepthStatistics>, row: u16) -> bool {
    depth.is_none_or(|it| it.set_aside.iter().all(|aside| aside.row != row))
}

/// Mean of the logged loads, N.
fn logged(dig: &Observation, depth: Option<&DepthStatistics>) -> Option<f64> {
    let rows = dig.rows().iter().filter(|row| speaks(depth, row.row));
    let loads: Vec<f64> = rows.filter_map(|row| Some(row.logged_load?.mean.si())).collect();
    mean(&loads)
}

/// A logged load against the window of the sheet; else whether most wheels turn with effort.
fn load_inside(
    dig: &Observation,
    depth: Option<&DepthStatistics>,
    logged: Option<f64>,
    case: &Context<'_>,
) -> Option<bool> {
    if let Some(load) = logged {
        return Some(case.window.low.si() <= load && load <= case.window.ceiling.si());
    }
    let rows = dig.rows().iter().filter(|row| speaks(depth, row.row) && !row.contradicts_itself());
    let felt: Vec<WheelFeel> = rows.filter_map(|row| row.gauge_wheels).collect();
    let effort = felt.iter().filter(|feel| **feel == WheelFeel::TurnWithEffort).count();
    (!felt.is_empty()).then_some(effort * 2 > felt.len())
}

/// Farthest bin: what lies beyond counts there.
const FARTHEST: f64 = 24.0;

fn bins(dig: &Observation, target: f64) -> Vec<(i64, u32)> {
    let mut bins = std::collections::BTreeMap::<i64, u32>::new();
    for depth in dig.rows().iter().flat_map(|row| &row.seed_depths) {
        let off = ((depth.si() - target) / DEPTH_BIN).round().clamp(-FARTHEST, FARTHEST);
        *bins.entry(whole(off)).or_default() += 1;
    }
    bins.into_iter().collect()
}

/// How many seeds a share stands for.
fn seeds_of(share: Share) -> u32 {
    u32::try_from(whole((share.share * f64::from(share.of)).round())).unwrap_or_default()
}

/// Findings that are a matter of the iron: mended in the shed.
fn iron(judged: &Judgement) -> Vec<Cause> {
    let found = judged.findings.iter().filter(|it| it.class == Class::Mechanical);
    found.map(|it| it.cause).collect()
}

/// A figure that was rounded, as a whole number. What is no number, or beyond all bounds, is 0.
fn whole(rounded: f64) -> i64 {
    let digits = format!("{rounded:.0}");
    digits.parse().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::whole;

    #[test]
    fn figures_become_whole_numbers() {
        for (figure, number) in [(0.0, 0), (-0.0, 0), (-7.0, -7), (6_350.0, 6_350), (f64::NAN, 0)] {
            assert_eq!(whole(figure), number);
        }
    }
}
