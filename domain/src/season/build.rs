//! From sums to the sections of the report.

use std::collections::BTreeMap;

use super::report::{
    Adjustments, Advice, CauseCount, CountedShare, CoverShares, DEPTH_BIN, DepthBin,
    DepthDistribution, FEWEST_GROWERS, InWindow, LoadAtSpeed, SeedCount, ShedReason, SoilShares,
    Week, WindowShares,
};
use super::sums::{CauseSums, ClassSums, LoadSums, Sums, classes};
use crate::dig::{Cause, RULES};
use crate::learning::{CoverClass, SoilClass, SoilGroup};
use crate::quantity::{Force, Length, Measured, Speed};

/// Sums of many growers, with how many growers stand behind each part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Totals {
    /// The sums.
    pub sums: Sums,
    /// Growers.
    pub growers: u32,
    /// Growers with a field that was dug in.
    pub dug: u32,
    /// Growers with a dug field, by soil and cover.
    classes: BTreeMap<u8, u32>,
    soils: BTreeMap<SoilGroup, u32>,
    covers: BTreeMap<CoverClass, u32>,
}

impl Totals {
    /// Adds all that one grower has.
    pub fn add_grower(&mut self, sums: &Sums) {
        self.sums.add(sums);
        self.growers += 1;
        self.dug += u32::from(!sums.classes.is_empty());
        let known = |code: &u8| classes().find(|(known, _)| known == code).map(|(_, class)| class);
        let of_grower: Vec<SoilClass> = sums.classes.keys().filter_map(known).collect();
        let soils: std::collections::BTreeSet<_> = of_grower.iter().map(|it| it.soil).collect();
        let covers: std::collections::BTreeSet<_> = of_grower.iter().map(|it| it.cover).collect();
        for code in sums.classes.keys() {
            *self.classes.entry(*code).or_default() += 1;
        }
        for soil in soils {
            *self.soils.entry(soil).or_default() += 1;
        }
        for cover in covers {
            *self.covers.entry(cover).or_default() += 1;
        }
    }

    /// What was advised, seen, applied and dug.
    pub fn advice(&self) -> Advice {
        let Sums { issued, revisions, seen, applied, dug, .. } = self.sums;
        let of_issued = |count| CountedShare::of(count, issued);
        Advice {
            issued,
            revisions,
            seen: of_issued(seen),
            applied: of_issued(applied),
            dug: of_issued(dug),
        }
    }

    /// All fields in the window.
    pub fn shares(&self) -> WindowShares {
        self.shares_where(self.dug, |_| true)
    }

    /// Fields in the window, by soil and cover.
    pub fn in_window(&self) -> InWindow {
        let by_soil = self.soils.iter().map(|(soil, growers)| SoilShares {
            soil: *soil,
            shares: self.shares_where(*growers, |class| class.soil == *soil),
        });
        let by_cover = self.covers.iter().map(|(cover, growers)| CoverShares {
            cover: *cover,
            shares: self.shares_where(*growers, |class| class.cover == *cover),
        });
        InWindow { all: self.shares(), by_soil: by_soil.collect(), by_cover: by_cover.collect() }
    }

    fn shares_where(&self, growers: u32, of: impl Fn(SoilClass) -> bool) -> WindowShares {
        let mut sum = ClassSums::default();
        for (code, class) in classes() {
            if let Some(more) = self.sums.classes.get(&code).filter(|_| of(class)) {
                sum.add(*more);
            }
        }
        let share = |(of, inside): (u32, u32)| CountedShare::of(inside, of);
        WindowShares {
            growers,
            fields_dug: sum.dug,
            first_pass: share(sum.first),
            dug_again: share(sum.again),
            after_adjustment: share(sum.last),
            few_growers: growers < FEWEST_GROWERS,
        }
    }

    /// The soils and covers in which somebody dug.
    pub fn classes_dug(&self) -> Vec<SoilClass> {
        classes().filter(|(code, _)| self.classes.contains_key(code)).map(|(_, it)| it).collect()
    }

    /// What digs proposed to change.
    pub fn adjustments(&self) -> Adjustments {
        let CauseSums { proposed, accepted, declined } = self.sums.adjustments;
        let line = |(cause, sums): (Option<Cause>, CauseSums)| {
            let CauseSums { proposed, accepted, declined } = sums;
            CauseCount { cause, proposed, accepted, declined }
        };
        let none = std::iter::once((None, self.sums.without_cause));
        let named = self.sums.causes.iter().map(|(cause, sums)| (Some(*cause), *sums));
        let mut causes: Vec<CauseCount> =
            named.chain(none).map(line).filter(|it| it.proposed > 0).collect();
        causes.sort_by_key(|it| std::cmp::Reverse(it.proposed));
        let open = proposed.saturating_sub(accepted.saturating_add(declined));
        Adjustments { proposed, accepted, declined, open, causes }
    }

    /// Week by week.
    pub fn weeks(&self) -> Vec<Week> {
        let (mut told, mut inside) = (0_i32, 0_i32);
        let count = |sum: i32| u32::try_from(sum).unwrap_or_default();
        let week = |(starts, it): (&chrono::NaiveDate, &super::WeekSums)| {
            told += it.told;
            inside += it.inside;
            Week {
                starts: *starts,
                issued: it.issued,
                seen: it.seen,
                digs: it.digs,
                proposed: it.proposed,
                accepted: it.accepted,
                in_window: CountedShare::of(count(inside), count(told)),
            }
        };
        self.sums.weeks.iter().map(week).collect()
    }

    /// Where seed lay.
    pub fn depths(&self) -> DepthDistribution {
        let metres = |um: &i64| Length::from_si(real(*um) * 1e-6);
        let bin = |(bin, seeds): (&i64, &(u32, u32))| DepthBin {
            off: Length::from_si(real(*bin) * DEPTH_BIN),
            first: u64::from(seeds.0),
            last: u64::from(seeds.1),
        };
        let seeds = |(count, of): (u32, u32)| SeedCount { count: count.into(), of: of.into() };
        DepthDistribution {
            bin: Length::from_si(DEPTH_BIN),
            bins: self.sums.depths.iter().map(bin).collect(),
            least_tolerance: self.sums.tolerances.keys().next().map(metres),
            most_tolerance: self.sums.tolerances.keys().next_back().map(metres),
            first_within: seeds(self.sums.first_within),
            last_within: seeds(self.sums.last_within),
        }
    }

    /// Loads that were logged, against the speed.
    pub fn loads(&self) -> Vec<LoadAtSpeed> {
        let point = |(bin, sums): (&i64, &LoadSums)| {
            let (speed, load) = LoadSums::middle(*bin);
            LoadAtSpeed {
                speed: Speed::from_si(real(speed) * 1e-3),
                load: Force::from_si(real(load)),
                digs: sums.digs,
                inside: sums.inside,
            }
        };
        self.sums.loads.iter().map(point).collect()
    }
}

/// What digs behind a planter pointed to in the iron: words, digs, and the last such day; the most
/// frequent first.
pub fn shed_of_digs(sums: &Sums) -> Vec<(ShedReason, String, u32, Option<chrono::NaiveDate>)> {
    let mut list: Vec<_> = sums
        .iron
        .iter()
        .filter_map(|(cause, (digs, last))| {
            let rule = RULES.iter().find(|rule| rule.cause == *cause)?;
            Some((ShedReason::Digs, format!("{}: {}", rule.reading, rule.check), *digs, *last))
        })
        .collect();
    list.sort_by_key(|(_, _, digs, _)| std::cmp::Reverse(*digs));
    list
}

/// A whole number of a few digits, as a figure.
fn real(whole: i64) -> f64 {
    i32::try_from(whole).map_or(0.0, f64::from)
}
