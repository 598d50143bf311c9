//! What adds up over the fields of a season.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::dig::Cause;
use crate::learning::{CoverClass, SoilClass, SoilGroup};

/// Whole numbers that add up: of one field, a planter, a grower, a practice.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Sums {
    /// Fields.
    pub fields: u32,
    /// Recommendations of which a revision was issued.
    pub issued: u32,
    /// Revisions that were issued.
    pub revisions: u32,
    /// Recommendations of which a revision was seen.
    pub seen: u32,
    /// Recommendations that were planted by or dug behind.
    pub applied: u32,
    /// Recommendations behind which somebody dug.
    pub dug: u32,
    /// Digs, each once.
    pub digs: u32,
    /// Plantings that were reported.
    pub plantings: u32,
    /// Adjustments.
    pub adjustments: CauseSums,
    /// Adjustments for which no sign asked.
    pub without_cause: CauseSums,
    /// Adjustments by cause.
    pub causes: BTreeMap<Cause, CauseSums>,
    /// By soil and cover, each under its number.
    pub classes: BTreeMap<u8, ClassSums>,
    /// By Monday.
    pub weeks: BTreeMap<NaiveDate, WeekSums>,
    /// Seeds by bin of depth: at the first dig of a field, and at the last.
    pub depths: BTreeMap<i64, (u32, u32)>,
    /// Seeds within tolerance, and all: at the first dig.
    pub first_within: (u32, u32),
    /// The same at the last dig.
    pub last_within: (u32, u32),
    /// Digs by tolerance, µm.
    pub tolerances: BTreeMap<i64, u32>,
    /// Digs with a logged load, by bin of speed and load.
    pub loads: BTreeMap<i64, LoadSums>,
    /// Digs that pointed to something of the iron, and the last such day.
    pub iron: BTreeMap<Cause, (u32, Option<NaiveDate>)>,
}

/// Adjustments.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CauseSums {
    /// Proposed.
    pub proposed: u32,
    /// Accepted.
    pub accepted: u32,
    /// Declined.
    pub declined: u32,
}

/// The fields of a soil and cover.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClassSums {
    /// Fields that were dug in.
    pub dug: u32,
    /// Those whose first dig tells, and those in the window then.
    pub first: (u32, u32),
    /// Those that were dug again and whose last dig tells, and those in the window then.
    pub again: (u32, u32),
    /// Those whose last dig tells, and those in the window then.
    pub last: (u32, u32),
}

/// A week. What fields come to is counted as changes, so that weeks before them need no look.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct WeekSums {
    /// Revisions that were issued.
    pub issued: u32,
    /// Revisions that were seen.
    pub seen: u32,
    /// Digs.
    pub digs: u32,
    /// Adjustments that were proposed.
    pub proposed: u32,
    /// Adjustments that were accepted.
    pub accepted: u32,
    /// More (or fewer) fields whose last dig so far tells.
    pub told: i32,
    /// More (or fewer) of them in the window.
    pub inside: i32,
}

/// Digs with a logged load.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct LoadSums {
    /// Digs.
    pub digs: u32,
    /// Those with the load in the window.
    pub inside: u32,
}

/// How one field looks: what does not add up.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct FieldLook {
    /// Whether load and depth were in the window at the first dig.
    pub first_inside: Option<bool>,
    /// The same at the last dig.
    pub last_inside: Option<bool>,
    /// Mean depth less the depth that was wanted at the last dig, µm.
    pub last_off_um: Option<i64>,
}

/// A quarter mile per hour, mm/s.
const SPEED_BIN: i64 = 112;
/// N.
const LOAD_BIN: i64 = 50;
/// Bins of load under one bin of speed.
const LOADS: i64 = 10_000;

impl LoadSums {
    /// The bin of a speed in mm/s and a load in N.
    pub fn bin(speed_mm_s: i64, load_n: i64) -> i64 {
        let nearest = |value: i64, bin: i64| (value + bin / 2).div_euclid(bin);
        nearest(speed_mm_s, SPEED_BIN) * LOADS + nearest(load_n, LOAD_BIN).clamp(0, LOADS - 1)
    }

    /// The middle of a bin: speed in mm/s and load in N.
    pub fn middle(bin: i64) -> (i64, i64) {
        (bin.div_euclid(LOADS) * SPEED_BIN, bin.rem_euclid(LOADS) * LOAD_BIN)
    }
}

const SOILS: [SoilGroup; 4] =
    [SoilGroup::Unknown, SoilGroup::Coarse, SoilGroup::Medium, SoilGroup::Fine];
const COVERS: [CoverClass; 3] = [CoverClass::NoCover, CoverClass::Living, CoverClass::Dead];

/// Every soil and cover, with its number.
pub(super) fn classes() -> impl Iterator<Item = (u8, SoilClass)> {
    let all = SOILS.into_iter().flat_map(|soil| COVERS.map(|cover| SoilClass { soil, cover }));
    (0..).zip(all)
}

/// The number of a soil and cover.
pub(super) fn code_of(class: SoilClass) -> u8 {
    classes().find(|(_, known)| *known == class).map_or(0, |(code, _)| code)
}

fn add_pair(to: &mut (u32, u32), more: (u32, u32)) {
    to.0 = to.0.saturating_add(more.0);
    to.1 = to.1.saturating_add(more.1);
}

impl Sums {
    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        self.revisions == 0 && self.digs == 0 && self.plantings == 0
    }

    /// Adds those of another.
    pub fn add(&mut self, more: &Self) {
        for (to, more) in [
            (&mut self.fields, more.fields),
            (&mut self.issued, more.issued),
            (&mut self.revisions, more.revisions),
            (&mut self.seen, more.seen),
            (&mut self.applied, more.applied),
            (&mut self.dug, more.dug),
            (&mut self.digs, more.digs),
            (&mut self.plantings, more.plantings),
        ] {
            *to = to.saturating_add(more);
        }
        self.adjustments.add(more.adjustments);
        self.without_cause.add(more.without_cause);
        add_pair(&mut self.first_within, more.first_within);
        add_pair(&mut self.last_within, more.last_within);
        self.add_maps(more);
    }

    fn add_maps(&mut self, more: &Self) {
        for (cause, sums) in &more.causes {
            self.causes.entry(*cause).or_default().add(*sums);
        }
        for (class, sums) in &more.classes {
            self.classes.entry(*class).or_default().add(*sums);
        }
        for (week, sums) in &more.weeks {
            self.weeks.entry(*week).or_default().add(*sums);
        }
        for (bin, seeds) in &more.depths {
            add_pair(self.depths.entry(*bin).or_default(), *seeds);
        }
        for (tolerance, digs) in &more.tolerances {
            *self.tolerances.entry(*tolerance).or_default() += digs;
        }
        for (bin, sums) in &more.loads {
            let here = self.loads.entry(*bin).or_default();
            here.digs += sums.digs;
            here.inside += sums.inside;
        }
        for (cause, (digs, last)) in &more.iron {
            let here = self.iron.entry(*cause).or_default();
            *here = (here.0 + digs, here.1.max(*last));
        }
    }
}

impl CauseSums {
    /// Adds those of another.
    pub fn add(&mut self, more: Self) {
        self.proposed += more.proposed;
        self.accepted += more.accepted;
        self.declined += more.declined;
    }
}

impl ClassSums {
    /// Adds those of another.
    pub fn add(&mut self, more: Self) {
        self.dug += more.dug;
        add_pair(&mut self.first, more.first);
        add_pair(&mut self.again, more.again);
        add_pair(&mut self.last, more.last);
    }
}

impl WeekSums {
    fn add(&mut self, more: Self) {
        self.issued += more.issued;
        self.seen += more.seen;
        self.digs += more.digs;
        self.proposed += more.proposed;
        self.accepted += more.accepted;
        self.told += more.told;
        self.inside += more.inside;
    }
}

#[cfg(test)]
mod tests {
    use super::{LoadSums, classes, code_of};

    #[test]
    fn each_class_has_its_number() {
        assert_eq!(classes().count(), 12);
        assert!(classes().all(|(code, class)| code_of(class) == code));
    }

    #[test]
    fn a_bin_is_near_what_is_in_it() {
        for (speed, load) in [(2_235, 783), (0, 0), (1_788, 4_449)] {
            let (middle, newton) = LoadSums::middle(LoadSums::bin(speed, load));
            assert!((middle - speed).abs() <= 56 && (newton - load).abs() <= 25);
        }
    }
}
