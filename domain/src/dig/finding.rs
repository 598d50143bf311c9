//! A cause that the readings point to, with what speaks for it and against it.

use serde::{Deserialize, Serialize};

use crate::provenance::{Mark, Text};

/// What may be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// The soil is too wet to plant.
    SoilTooWet,
    /// Row cleaners carry the units.
    CleanerTooDeep,
    /// Row cleaners are wrapped.
    CleanerWrapped,
    /// The ends of the frame lift.
    FrameLifts,
    /// The bar runs too high.
    BarTooHigh,
    /// The bar runs too low.
    BarTooLow,
    /// Worn discs, or a lever that reads deeper than it is.
    WornOrMisread,
    /// Residue is tucked into the furrow.
    Hairpin,
    /// The discs do not touch as they should.
    DiscsApart,
    /// Seed does not reach the bottom of the furrow.
    SeedOffBottom,
    /// Loose arms or bushings.
    LooseUnit,
    /// Depth stops, levers or springs stand otherwise from row to row.
    UnevenRows,
    /// Too much down force.
    TooMuchForce,
    /// Too little down force.
    TooLittleForce,
    /// Too fast: the unit bounces.
    TooFast,
    /// The depth lever stands in the wrong notch.
    LeverOff,
    /// The seed lies in dry soil.
    DrySeedZone,
    /// Rows behind tyres run in packed soil.
    TyreTracks,
    /// Something is wrong on a single row.
    OddRow,
    /// The closing wheels do not break the wall.
    ClosingTooMild,
    /// The closing wheels miss the furrow.
    ClosingOffCentre,
    /// The closing wheels press too hard.
    ClosingTooHard,
    /// Spacing suffers from speed.
    SpacingTooFast,
    /// The meters place seed unevenly.
    Meter,
    /// The rate is off.
    RateOff,
}

/// The order in which causes are dealt with: soil, iron, settings, single rows, closing, seed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Class {
    /// No setting helps before the soil is fit.
    Soil,
    /// Worn, loose, wrapped or out of line: mend it before a setting is touched.
    Mechanical,
    /// Force, depth, speed.
    Setting,
    /// A matter of some rows, not of the planter.
    SomeRows,
    /// Closing the furrow.
    Closing,
    /// Meters and spacing.
    Seed,
}

/// How well the readings carry a cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Strength {
    /// Two or more readings speak for it and none against.
    Strong,
    /// More speaks for it than against.
    Likely,
    /// As much speaks against it, or more.
    Possible,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Finding {
    /// What may be wrong.
    pub cause: Cause,
    /// Where it stands in the order.
    pub class: Class,
    /// How well the readings carry it.
    pub strength: Strength,
    /// Rows that it concerns; empty means the whole planter.
    pub rows: Vec<u16>,
    /// What the signs mean.
    pub reading: Text,
    /// What to look at first.
    pub check: Text,
    /// What to change if the check confirms it.
    pub change: Text,
    /// Readings that speak for it.
    pub evidence_for: Vec<Text>,
    /// Readings that speak against it.
    pub evidence_against: Vec<Text>,
    /// How the rule is known.
    pub mark: Mark,
    /// Its source.
    pub source: Text,
}

/// What a rule saw.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Evidence {
    /// Speaks for it.
    pub pro: Vec<Text>,
    /// Speaks against it.
    pub con: Vec<Text>,
    /// Rows that it concerns; empty means the whole planter.
    pub rows: Vec<u16>,
}

impl Evidence {
    pub(super) fn pro(mut self, words: impl Into<Text>) -> Self {
        self.pro.push(words.into());
        self
    }

    pub(super) fn pro_if(self, so: bool, words: impl Into<Text>) -> Self {
        if so { self.pro(words) } else { self }
    }

    pub(super) fn con_if(mut self, so: bool, words: impl Into<Text>) -> Self {
        if so {
            self.con.push(words.into());
        }
        self
    }

    pub(super) fn on(mut self, rows: Vec<u16>) -> Self {
        self.rows = rows;
        self
    }

    pub(super) fn strength(&self) -> Strength {
        match (self.pro.len(), self.con.len()) {
            (2.., 0) => Strength::Strong,
            (pro, con) if pro > con => Strength::Likely,
            _ => Strength::Possible,
        }
    }
}
