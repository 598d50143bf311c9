//! What the rules look at: the signs of the rows that speak for the planter, counted.

use super::context::Context;
use super::decision::Decision;
use super::observation::Observation;
use super::reading::{CleanerRunning, Closure, PrintDepth, RowReading, Wall, WheelFeel};
use super::set_aside::{Apart, SetAside};
use super::settled::Side;
use super::statistics::{DepthStatistics, RowDepth, Statistics};
use crate::conditions::{BallTest, CoverState, Moisture, TossTest};
use crate::planter::{DiscVerdict, disc_wear};
use crate::quantity::{Force, Length, Measured};
use crate::stats::{count, mean};

const INCH: f64 = 0.0254;
/// Level at which a row counts as different, as for rows that are set aside.
const LEVEL: f64 = 0.05;

/// A dig, ready to be judged.
pub(super) struct Scene<'a> {
    /// The dig.
    pub dig: &'a Observation,
    /// The case.
    pub case: &'a Context<'a>,
    /// Its statistics.
    pub stats: &'a Statistics,
    /// The next down force; none while causes are still looked for.
    pub decision: Option<Decision>,
    /// Rows that speak for the planter.
    usual: Vec<&'a RowReading>,
}

/// How many rows show a sign, of those where somebody looked.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Tally {
    /// Rows that show it.
    pub yes: Vec<u16>,
    /// Rows where it was looked for.
    pub of: usize,
}

impl Tally {
    /// More than half of the rows that were looked at, so at least one.
    pub(super) fn most(&self) -> bool {
        self.yes.len() * 2 > self.of
    }

    /// At least one row.
    pub(super) fn any(&self) -> bool {
        !self.yes.is_empty()
    }

    /// Most rows, and at least two: one row does not speak for the planter.
    pub(super) fn agreed(&self) -> bool {
        self.most() && self.yes.len() >= 2
    }

    /// `on 3 of 4 rows`.
    pub(super) fn words(&self) -> String {
        format!("on {} of {} rows", self.yes.len(), self.of)
    }

    /// No row for a sign that the whole planter shows, else the rows that show it.
    pub(super) fn rows_if_few(&self) -> Vec<u16> {
        if self.agreed() { Vec::new() } else { self.yes.clone() }
    }
}

impl<'a> Scene<'a> {
    pub(super) fn new(dig: &'a Observation, case: &'a Context<'a>, stats: &'a Statistics) -> Self {
        let aside: Vec<u16> =
            stats.depth.iter().flat_map(|d| d.set_aside.iter().map(|s| s.row)).collect();
        let usual = dig.rows().iter().filter(|r| !aside.contains(&r.row)).collect();
        Self { dig, case, stats, decision: None, usual }
    }

    /// Rows that speak for the planter.
    pub(super) fn usual(&self) -> &[&'a RowReading] {
        &self.usual
    }

    /// Counts a sign over the rows that speak for the planter.
    pub(super) fn tally(&self, sign: impl Fn(&RowReading) -> Option<bool>) -> Tally {
        let mut tally = Tally::default();
        for row in &self.usual {
            let Some(seen) = sign(row) else { continue };
            tally.of += 1;
            if seen {
                tally.yes.push(row.row);
            }
        }
        tally
    }

    /// How the wheels turn, without rows that contradict themselves.
    pub(super) fn wheels(&self, feel: WheelFeel) -> Tally {
        self.tally(|r| wheel_feel(r).map(|w| w == feel))
    }

    /// On most rows the wheels turn with effort or cannot be turned.
    pub(super) fn wheels_carry(&self) -> bool {
        self.tally(|r| wheel_feel(r).map(|w| w != WheelFeel::SpinFree)).most()
    }

    /// Whether most of the outer rows show a sign, where it was looked for.
    pub(super) fn of_outer(&self, sign: impl Fn(&RowReading) -> Option<bool>) -> Option<bool> {
        let seen: Vec<bool> = self.dig.rows().iter().filter(|r| r.outer).filter_map(sign).collect();
        let yes = seen.iter().filter(|yes| **yes).count();
        (!seen.is_empty()).then_some(yes * 2 > seen.len())
    }

    /// Rows whose wheels spin free and yet leave a deep print.
    pub(super) fn free_yet_deep(&self) -> Vec<u16> {
        self.dig.rows().iter().filter(|r| r.contradicts_itself()).map(|r| r.row).collect()
    }

    pub(super) fn walls(&self, wall: Wall) -> Tally {
        self.tally(|r| r.wall.map(|w| w == wall))
    }

    pub(super) fn prints(&self, print: PrintDepth) -> Tally {
        self.tally(|r| r.print.map(|p| p == print))
    }

    pub(super) fn closures(&self, closure: Closure) -> Tally {
        self.tally(|r| r.closed.map(|c| c == closure))
    }

    pub(super) fn cleaners(&self, running: CleanerRunning) -> Tally {
        self.tally(|r| r.cleaner.map(|c| c == running))
    }

    /// Mean of the logged loads, and how many rows logged one.
    pub(super) fn logged(&self) -> Option<(Force, usize)> {
        let loads: Vec<f64> =
            self.usual.iter().filter_map(|r| r.logged_load.map(|l| l.mean.si())).collect();
        Some((Force::from_si(mean(&loads)?), loads.len()))
    }

    pub(super) fn depth(&self) -> Option<&DepthStatistics> {
        self.stats.depth.as_ref()
    }

    /// Mean of the planter less the target; negative is shallow.
    pub(super) fn off(&self) -> Option<Length> {
        self.depth().map(|d| d.planter.mean - d.target)
    }

    /// The mean lies shallower than the tolerance, sure or not.
    pub(super) fn shallow(&self) -> bool {
        self.depth().is_some_and(|d| d.planter.mean < d.target - d.tolerance)
    }

    /// The mean lies deeper than the tolerance, sure or not.
    pub(super) fn deep(&self) -> bool {
        self.depth().is_some_and(|d| d.planter.mean > d.target + d.tolerance)
    }

    /// The mean lies within tolerance, sure or not.
    pub(super) fn on_target(&self) -> bool {
        self.depth().is_some() && !self.shallow() && !self.deep()
    }

    pub(super) fn side(&self) -> Option<Side> {
        self.depth().map(|d| d.settled.side)
    }

    /// Two or more rows whose means differ by no more than half the tolerance (one standard
    /// deviation).
    pub(super) fn rows_alike(&self) -> bool {
        self.depth().is_some_and(|d| {
            let half = d.tolerance / 2.0;
            d.planter.rows >= 2 && self.spread_of_rows().is_some_and(|s| s <= half)
        })
    }

    /// Rows whose means differ by more than the tolerance (one standard deviation), and by more than
    /// the seeds of one row do.
    pub(super) fn rows_differ(&self) -> bool {
        self.depth().is_some_and(|d| {
            let beyond = |between: Length, within: Length| between > d.tolerance.max(within);
            d.spread.between.zip(d.spread.within).is_some_and(|(b, w)| beyond(b, w))
        })
    }

    fn spread_of_rows(&self) -> Option<Length> {
        let depth = self.depth()?;
        depth.spread.between.or_else(|| {
            // One seed a row: the spread of the rows holds the spread of the seeds as well.
            let aside = |row: u16| depth.set_aside.iter().any(|s| s.row == row);
            let means: Vec<f64> =
                depth.rows.iter().filter(|r| !aside(r.row)).map(|r| r.mean.si()).collect();
            crate::stats::sd(&means).map(Length::from_si)
        })
    }

    /// Seeds scatter within two or more rows by more than is good, even at the low limit of the
    /// spread.
    pub(super) fn scattered(&self) -> bool {
        let good = self.case.coefficients.depth_sd_good.value * INCH;
        let rows = self.depth().filter(|d| d.planter.rows >= 2);
        rows.and_then(|d| d.spread.within_low).is_some_and(|s| s.si() > good)
    }

    /// Single rows whose seeds surely scatter more than those of the others, and by more than is good.
    pub(super) fn scattered_rows(&self) -> Vec<u16> {
        let good = self.case.coefficients.depth_sd_good.value * INCH;
        let rows = self.depth().map(|d| d.rows.as_slice()).unwrap_or_default();
        let sure = |r: &&RowDepth| {
            r.scatter_p.is_some_and(|p| p < LEVEL) && r.sd.is_some_and(|sd| sd.si() > good)
        };
        rows.iter().filter(sure).map(|r| r.row).collect()
    }

    /// Rows whose wheels spin free.
    pub(super) fn free_rows(&self) -> Vec<u16> {
        let is_free = |r: &&RowReading| wheel_feel(r) == Some(WheelFeel::SpinFree);
        self.dig.rows().iter().filter(is_free).map(|r| r.row).collect()
    }

    /// The row whose spacings were measured, if it is only one.
    pub(super) fn only_row_with_spacings(&self) -> Vec<u16> {
        let measured = self.dig.rows().iter().filter(|r| !r.spacings.is_empty());
        let rows: Vec<u16> = measured.map(|r| r.row).collect();
        if rows.len() == 1 { rows } else { Vec::new() }
    }

    /// Rows that were set aside for a reason.
    pub(super) fn aside(&self, why: Apart) -> Vec<SetAside> {
        let all = self.depth().map(|d| d.set_aside.as_slice()).unwrap_or_default();
        all.iter().filter(|s| s.why == why).copied().collect()
    }

    /// Whether the soil is too wet, where somebody looked: one sign is enough.
    pub(super) fn soil_wet(&self) -> Option<bool> {
        let looked = self.signs_of_wet_soil();
        (!looked.is_empty()).then(|| looked.into_iter().any(|wet| wet))
    }

    /// One sign says that the soil is too wet, another that it is fit.
    pub(super) fn soil_disputed(&self) -> bool {
        let looked = self.signs_of_wet_soil();
        looked.contains(&true) && looked.contains(&false)
    }

    fn signs_of_wet_soil(&self) -> Vec<bool> {
        let field = self.case.conditions;
        let ribbon = self.case.coefficients.ribbon_too_wet.value * INCH;
        let signs = [
            field.moisture.map(|m| m >= Moisture::Wet),
            field.ball.map(|b| b == BallTest::Deforms),
            field.toss.map(|t| t == TossTest::LandsWhole),
            field.ribbon.map(|r| r.si() > ribbon + 1e-9),
        ];
        signs.into_iter().flatten().collect()
    }

    /// Whether a living cover stands there.
    pub(super) fn cover_is_green(&self) -> bool {
        let state = self.case.conditions.cover.and_then(|cover| cover.state);
        state.is_some_and(CoverState::is_green)
    }

    /// State of the opener discs.
    pub(super) fn discs(&self) -> DiscVerdict {
        let usual = Length::from_si(self.case.coefficients.disc_wear_limit.value * INCH);
        disc_wear(&self.case.planter.unit.opener, usual)
    }

    /// Rows among `own` whose wheels spin free while most of the others are firm.
    pub(super) fn free_only(&self, own: impl Fn(&RowReading) -> bool) -> Vec<u16> {
        let feel = |r: &RowReading| wheel_feel(r).map(|w| w == WheelFeel::SpinFree);
        let (mut free, mut own_seen, mut rest_free, mut rest_seen) = (Vec::new(), 0, 0, 0);
        for row in self.dig.rows() {
            let Some(is_free) = feel(row) else { continue };
            match (own(row), is_free) {
                (true, true) => free.push(row.row),
                (false, true) => rest_free += 1,
                (_, false) => {}
            }
            if own(row) { own_seen += 1 } else { rest_seen += 1 }
        }
        let clear = free.len() == own_seen && rest_seen > 0 && rest_free * 2 < rest_seen;
        if clear { free } else { Vec::new() }
    }

    /// Seeds per row that were measured, on the mean.
    pub(super) fn seeds_per_row(&self) -> f64 {
        self.depth().map_or(0.0, |d| f64::from(d.seeds) / count(d.rows.len()).max(1.0))
    }
}

/// How the wheels of a row turn; none where the print contradicts it.
pub(super) fn wheel_feel(row: &RowReading) -> Option<WheelFeel> {
    if row.contradicts_itself() { None } else { row.gauge_wheels }
}
