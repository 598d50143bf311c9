//! The dig after a dig: nothing where it is settled, a few more rows where they settle it, a fresh
//! dig where something was changed.

use super::super::observation::Observation;
use super::super::reading::WheelFeel;
use super::super::set_aside::Apart;
use super::super::settled::Side;
use super::super::statistics::{DepthStatistics, Statistics};
use super::size::{Asked, Size, SoFar, size};
use super::spreads::rows_seen;
use super::wheels::{WheelsSettled, wheels_settled};
use super::{
    Ask, Bar, CONFIDENCE, DigPlan, DugRow, Purpose, SpreadSeen, Spreads, look_at, numbers, place,
    plan, planned, rows, say, steps,
};
use crate::provenance::{Coefficients, Mark, Reason, Text, Trace, sources};
use crate::quantity::{Length, Measured};

/// A dig that was made.
#[derive(Debug, Clone, Copy)]
pub struct AfterDig<'a> {
    /// The planter.
    pub bar: Bar<'a>,
    /// The dig.
    pub dig: &'a Observation,
    /// Its statistics.
    pub statistics: &'a Statistics,
    /// What earlier digs on this planter showed of the spread.
    pub earlier: &'a [SpreadSeen],
    /// How far from the target a seed may lie.
    pub tolerance: Length,
    /// Whether something is changed before the next dig.
    pub changed: bool,
}

/// Plans the next dig; `None` where this one settles it.
///
/// The rows that are asked for are those of [`Settled`](super::super::Settled), which rest on the
/// same count.
pub fn next_dig(after: &AfterDig<'_>, k: &Coefficients) -> Option<DigPlan> {
    let depth = after.statistics.depth.as_ref();
    let wheels = after.wheels();
    let found = match depth {
        Some(depth) if !after.changed => {
            let off = matches!(depth.settled.side, Side::Shallow | Side::Deep);
            if off && wheels.is_none() {
                Some(after.afresh(k))
            } else {
                after.settling(depth, wheels.as_ref(), k)
            }
        }
        _ => Some(after.afresh(k)),
    };
    let plan = found?;
    let open = wheels.filter(|w| !w.settled);
    Some(match open {
        Some(open) => with_second_place(plan, open, k),
        None => plan,
    })
}

impl AfterDig<'_> {
    /// The wheels of the rows that speak for the planter.
    fn wheels(&self) -> Option<WheelsSettled> {
        let feels: Vec<WheelFeel> = self
            .dig
            .rows()
            .iter()
            .filter(|r| !self.aside(r.row))
            .filter_map(|r| r.gauge_wheels)
            .collect();
        wheels_settled(&feels, self.bar.rows)
    }

    fn aside(&self, row: u16) -> bool {
        let all = self.statistics.depth.iter().flat_map(|d| d.set_aside.iter());
        all.clone().any(|aside| aside.row == row)
    }

    fn spreads(&self, k: &Coefficients) -> Spreads {
        let here = self.statistics.depth.as_ref().and_then(|d| SpreadSeen::of(d, k));
        let seen: Vec<SpreadSeen> = self.earlier.iter().copied().chain(here).collect();
        Spreads::pooled(&seen, k)
    }

    fn afresh(&self, k: &Coefficients) -> DigPlan {
        let aside = self.statistics.depth.iter().flat_map(|d| d.set_aside.iter());
        let odd: Vec<u16> = aside.filter(|a| a.why == Apart::Odd).map(|a| a.row).collect();
        let rows = self.dig.rows().iter().map(|r| r.row);
        let dug: Vec<DugRow> = rows.map(|row| DugRow { row, odd: odd.contains(&row) }).collect();
        let ask = Ask {
            bar: self.bar,
            tolerance: self.tolerance,
            spreads: self.spreads(k),
            confidence: CONFIDENCE,
            dug: &dug,
        };
        plan(&ask, k)
    }

    fn settling(
        &self,
        depth: &DepthStatistics,
        wheels: Option<&WheelsSettled>,
        k: &Coefficients,
    ) -> Option<DigPlan> {
        let for_depth = if depth.settled.settled { Some(0) } else { depth.settled.more_rows };
        let for_wheels = wheels.and_then(|w| w.more_rows).unwrap_or(0);
        let rows = for_depth.unwrap_or(0).max(for_wheels);
        if rows > 0 {
            return Some(self.more_rows(depth, rows, for_depth != Some(0), k));
        }
        if for_depth.is_none() { self.more_seeds(depth, k) } else { None }
    }

    fn more_rows(
        &self,
        depth: &DepthStatistics,
        count: u16,
        seeds_too: bool,
        k: &Coefficients,
    ) -> DigPlan {
        let dug: Vec<u16> = self.dig.rows().iter().map(|r| r.row).collect();
        let chosen = rows::more(&self.bar, &dug, count);
        let list = say::list(&numbers(&chosen));
        let seeds = if seeds_too { seeds_before(depth) } else { 0 };
        let in_all = speaking(depth).saturating_add(count);
        let what = if seeds_too {
            format!("{} on each", say::seeds(seeds))
        } else {
            "look at the wheels; no seed need be dug".to_owned()
        };
        let more = say::upper(&say::more_rows(count));
        let words = format!("{more} would likely settle it. Dig {list}: {what}, {}.", here());
        DigPlan {
            look_at: if seeds_too { look_at::everything(&self.bar) } else { look_at::load() },
            rows: planned(&self.bar, chosen, &dug),
            words: Text::Owned(words),
            ..self.within_margin(depth, (in_all, seeds), Purpose::MoreRows, k)
        }
    }

    /// All rows were dug: more seeds on each, where that can settle it.
    fn more_seeds(&self, depth: &DepthStatistics, k: &Coefficients) -> Option<DigPlan> {
        let asked = Asked { half_width: margin(depth), confidence: CONFIDENCE };
        let Size { rows: in_all, seeds, reaches, .. } =
            size(&self.spreads(k), asked, self.bar.rows, k);
        let more = seeds.saturating_sub(seeds_before(depth));
        let dug: Vec<u16> = self.dig.rows().iter().map(|r| r.row).collect();
        if !reaches || more == 0 || dug.len() < usize::from(self.bar.rows) {
            return None;
        }
        let chosen = rows::those(&self.bar, &dug);
        let words = format!(
            "Every row was dug: {} more on each of them would likely settle it, {}.",
            say::seeds(more),
            here()
        );
        Some(DigPlan {
            look_at: Vec::new(),
            rows: planned(&self.bar, chosen, &dug),
            seeds_per_row: more,
            words: Text::Owned(words),
            ..self.within_margin(depth, (in_all, seeds), Purpose::MoreSeeds, k)
        })
    }

    /// What is common to both: the width that settles it, with `rows` rows of `seeds` in all.
    fn within_margin(
        &self,
        depth: &DepthStatistics,
        (rows, seeds): (u16, u16),
        purpose: Purpose,
        k: &Coefficients,
    ) -> DigPlan {
        let spreads = self.spreads(k);
        let wanted = margin(depth);
        let so_far = match purpose {
            Purpose::MoreRows => SoFar::of(&rows_seen(depth)),
            Purpose::Afresh | Purpose::MoreSeeds => SoFar::default(),
        };
        let one_row = spreads.of_a_row(f64::from(seeds));
        let likely = so_far.likely_sd(u32::from(rows), one_row);
        let half_width = so_far.half_width(rows, one_row, CONFIDENCE).filter(|_| seeds > 0);
        let step = half_width.and_then(|_| steps::half_width(likely, rows, seeds, CONFIDENCE));
        DigPlan {
            purpose,
            rows: Vec::new(),
            seeds_per_row: seeds,
            half_width_wanted: wanted,
            half_width,
            chance: None,
            enough: half_width.is_none_or(|half| half <= wanted * (1.0 + 1e-9)),
            spreads,
            places: vec![place::first(k)],
            look_at: Vec::new(),
            stop_early: None,
            words: Text::Borrowed(""),
            because: vec![Reason {
                text: depth.settled.words.clone(),
                mark: Mark::Derived,
                source: Text::Borrowed(sources::TWO_STAGE),
            }],
            trace: Trace { steps: step.into_iter().collect() },
        }
    }
}

fn here() -> &'static str {
    "in the same pass and near the first ones"
}

fn with_second_place(plan: DigPlan, open: WheelsSettled, k: &Coefficients) -> DigPlan {
    let places = plan.places.into_iter().chain([place::second(k)]).collect();
    let why = Reason {
        text: open.words,
        mark: Mark::Derived,
        source: Text::Borrowed(sources::WILSON_SHARE),
    };
    let because = plan.because.into_iter().chain([why]).collect();
    DigPlan { places, because, ..plan }
}

/// How far the mean lies from the nearer edge of the tolerance.
fn margin(depth: &DepthStatistics) -> Length {
    let off = (depth.planter.mean.si() - depth.target.si()).abs();
    Length::from_si((off - depth.tolerance.si()).abs())
}

fn speaking(depth: &DepthStatistics) -> u16 {
    u16::try_from(depth.planter.rows).unwrap_or(u16::MAX)
}

/// Seeds on a row as they were dug, on the mean.
fn seeds_before(depth: &DepthStatistics) -> u16 {
    let rows = depth.rows.len().max(1);
    let seeds = usize::try_from(depth.seeds).unwrap_or(usize::MAX);
    u16::try_from(seeds.div_ceil(rows)).unwrap_or(u16::MAX).max(1)
}
