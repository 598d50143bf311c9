//! One field behind one planter in one season, from its rows to its sums.

use std::collections::BTreeMap;

use chrono::{DateTime, Datelike, Days, NaiveDate, Utc};

use super::dig_facts::DigFacts;
use super::sums::{CauseSums, ClassSums, FieldLook, LoadSums, Sums, WeekSums, code_of};
use crate::learning::SoilClass;

/// A revision that was issued at some time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Revision {
    /// Its recommendation.
    pub series: u128,
    /// When it was issued.
    pub issued_at: DateTime<Utc>,
    /// When it was seen.
    pub seen_at: Option<DateTime<Utc>>,
}

/// A dig.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DigSeen {
    /// Its id: digs of one moment stand in the order in which they came.
    pub id: u128,
    /// Its recommendation.
    pub series: u128,
    /// When.
    pub dug_at: DateTime<Utc>,
    /// What it says.
    pub facts: DigFacts,
}

/// What became of a change that was proposed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Nobody has decided.
    Open,
    /// It was accepted then.
    Accepted(DateTime<Utc>),
    /// It was declined.
    Declined,
}

/// A change that a dig proposed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Proposed {
    /// The dig.
    pub dig: u128,
    /// When.
    pub at: DateTime<Utc>,
    /// What became of it.
    pub outcome: Outcome,
}

/// A planting that was reported.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Planted {
    /// The recommendation that it names.
    pub series: Option<u128>,
    /// The day.
    pub on: NaiveDate,
}

/// A field behind a planter, with all that ever happened there, and the season that is asked about.
pub struct FieldSeason<'a> {
    /// Its revisions.
    pub revisions: &'a [Revision],
    /// Its digs.
    pub digs: &'a [DigSeen],
    /// What they proposed.
    pub proposed: &'a [Proposed],
    /// Its plantings.
    pub planted: &'a [Planted],
    /// The season: from this moment to before that.
    pub span: (DateTime<Utc>, DateTime<Utc>),
    /// The same in days.
    pub days: (NaiveDate, NaiveDate),
    /// The day of a moment where the practice is.
    pub day: &'a dyn Fn(DateTime<Utc>) -> NaiveDate,
}

impl FieldSeason<'_> {
    /// What the season of the field adds up to.
    pub fn sums(&self) -> (Sums, FieldLook, SoilClass) {
        let digs = self.digs_within();
        let mut sums = Sums { digs: whole(digs.len()), ..Sums::default() };
        let planted = self.planted_within();
        sums.plantings = whole(planted.len());
        self.count_advice(&mut sums, &digs, &planted);
        self.count_adjustments(&mut sums, &digs);
        let class = digs.first().map_or(SoilClass::UNKNOWN, |dig| dig.facts.class);
        let telling: Vec<&DigSeen> = digs.iter().copied().filter(|dig| dig.facts.tells).collect();
        if !digs.is_empty() {
            sums.classes.insert(code_of(class), class_sums(&telling));
        }
        self.count_digs(&mut sums, &digs);
        self.count_window(&mut sums, &telling);
        count_depths(&mut sums, &telling);
        sums.weeks.retain(|_, week| *week != WeekSums::default());
        sums.fields = u32::from(!sums.is_empty());
        let look = FieldLook {
            first_inside: telling.first().and_then(|dig| dig.facts.inside()),
            last_inside: telling.last().and_then(|dig| dig.facts.inside()),
            last_off_um: telling.last().and_then(|dig| dig.facts.off_um),
        };
        (sums, look, class)
    }

    fn within(&self, at: DateTime<Utc>) -> bool {
        self.span.0 <= at && at < self.span.1
    }

    /// The digs of the season in their order, each once.
    fn digs_within(&self) -> Vec<&DigSeen> {
        let inside = |dig: &&DigSeen| dig.facts.once && self.within(dig.dug_at);
        let mut digs: Vec<&DigSeen> = self.digs.iter().filter(inside).collect();
        digs.sort_by_key(|dig| (dig.dug_at, dig.id));
        digs
    }

    fn planted_within(&self) -> Vec<Planted> {
        let inside = |it: &&Planted| self.days.0 <= it.on && it.on < self.days.1;
        self.planted.iter().filter(inside).copied().collect()
    }

    fn count_advice(&self, sums: &mut Sums, digs: &[&DigSeen], planted: &[Planted]) {
        let mut series = BTreeMap::<u128, bool>::new();
        for revision in self.revisions {
            if self.within(revision.issued_at) {
                sums.revisions += 1;
                *series.entry(revision.series).or_default() |= revision.seen_at.is_some();
                self.week(sums, revision.issued_at).issued += 1;
            }
            if let Some(at) = revision.seen_at.filter(|at| self.within(*at)) {
                self.week(sums, at).seen += 1;
            }
        }
        // A planting that names no recommendation is by the one of the field, where there is one.
        let only = series.len() == 1;
        for (id, seen) in series {
            let dug = digs.iter().any(|dig| dig.series == id);
            let by = |it: &Planted| it.series.map_or(only, |named| named == id);
            sums.issued += 1;
            sums.seen += u32::from(seen);
            sums.dug += u32::from(dug);
            sums.applied += u32::from(dug || planted.iter().any(by));
        }
    }

    fn count_adjustments(&self, sums: &mut Sums, digs: &[&DigSeen]) {
        for it in self.proposed {
            let Some(dig) = digs.iter().find(|dig| dig.id == it.dig) else { continue };
            let one = CauseSums {
                proposed: 1,
                accepted: u32::from(matches!(it.outcome, Outcome::Accepted(_))),
                declined: u32::from(it.outcome == Outcome::Declined),
            };
            sums.adjustments.add(one);
            match dig.facts.cause {
                Some(cause) => sums.causes.entry(cause).or_default().add(one),
                None => sums.without_cause.add(one),
            }
            if self.within(it.at) {
                self.week(sums, it.at).proposed += 1;
            }
            if let Outcome::Accepted(at) = it.outcome
                && self.within(at)
            {
                self.week(sums, at).accepted += 1;
            }
        }
    }

    fn count_digs(&self, sums: &mut Sums, digs: &[&DigSeen]) {
        for dig in digs {
            self.week(sums, dig.dug_at).digs += 1;
            let day = (self.day)(dig.dug_at);
            for cause in &dig.facts.iron {
                let here = sums.iron.entry(*cause).or_default();
                *here = (here.0 + 1, here.1.max(Some(day)));
            }
        }
    }

    /// How the field stands from dig to dig.
    fn count_window(&self, sums: &mut Sums, telling: &[&DigSeen]) {
        let mut before = None;
        for dig in telling {
            let now = dig.facts.inside();
            let more = |is: fn(Option<bool>) -> bool| i32::from(is(now)) - i32::from(is(before));
            let (told, inside) = (more(|it| it.is_some()), more(|it| it == Some(true)));
            let week = self.week(sums, dig.dug_at);
            week.told += told;
            week.inside += inside;
            before = now;
            if let Some(load) = dig.facts.load_n {
                let bin = LoadSums::bin(dig.facts.speed_mm_s, load);
                let here = sums.loads.entry(bin).or_default();
                here.digs += 1;
                here.inside += u32::from(dig.facts.load_inside == Some(true));
            }
        }
    }

    fn week<'s>(&self, sums: &'s mut Sums, at: DateTime<Utc>) -> &'s mut WeekSums {
        let day = (self.day)(at);
        let since = Days::new(u64::from(day.weekday().num_days_from_monday()));
        let monday = day.checked_sub_days(since).unwrap_or(day);
        sums.weeks.entry(monday).or_default()
    }
}

fn class_sums(telling: &[&DigSeen]) -> ClassSums {
    let pair = |dig: Option<&&DigSeen>| {
        let inside = dig.and_then(|dig| dig.facts.inside());
        (u32::from(inside.is_some()), u32::from(inside == Some(true)))
    };
    let again = telling.last().filter(|_| telling.len() > 1);
    ClassSums {
        dug: 1,
        first: pair(telling.first()),
        again: pair(again),
        last: pair(telling.last()),
    }
}

fn count_depths(sums: &mut Sums, telling: &[&DigSeen]) {
    if let Some(first) = telling.first() {
        sums.first_within = (first.facts.within, first.facts.seeds);
        for (bin, seeds) in &first.facts.depths {
            sums.depths.entry(*bin).or_default().0 += seeds;
        }
    }
    if let Some(last) = telling.last() {
        sums.last_within = (last.facts.within, last.facts.seeds);
        for (bin, seeds) in &last.facts.depths {
            sums.depths.entry(*bin).or_default().1 += seeds;
        }
    }
    for dig in telling.iter().filter(|dig| dig.facts.seeds > 0) {
        *sums.tolerances.entry(dig.facts.tolerance_um).or_default() += 1;
    }
}

fn whole(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
