//! From the wire to what a plan is asked for, every refusal named.

use std::collections::BTreeSet;

use domain::dig::{CONFIDENCE, DugRow, SpreadSeen};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, bounds};

use super::dto::{DigPlanIn, DugBefore, SeenSpread};
use crate::http::{ApiError, BadMember, Refused};
use crate::v1::planters::rows_behind_tyres;
use crate::v1::what_if::member::{entries, number, optional, whole};

/// What a plan is asked for.
pub(super) struct Asked {
    pub rows: u16,
    pub tyre_rows: Vec<u16>,
    pub tolerance: Length,
    pub confidence: f64,
    pub seen: Vec<SpreadSeen>,
    pub dug: Vec<DugRow>,
}

const COUNTED: &str = "rows are counted from 1 at the left end";

impl DigPlanIn {
    pub(super) fn parse(&self, k: &Coefficients) -> Result<Asked, ApiError> {
        let mut refused = Refused::default();
        let why = "planters have up to 64 rows";
        let rows = u32::from(self.rows_of_planter);
        refused.take(whole("/rows_of_planter", rows, (1, 64), why));
        let tyre_rows = refused.take_all(rows_behind_tyres(
            "/tyre_rows",
            &self.tyre_rows,
            self.rows_of_planter,
        ));
        let given = self.tolerance.as_ref();
        let tolerance = optional(&mut refused, given, "/tolerance", &bounds::DEPTH_TOLERANCE);
        let why = "below an even chance an interval says nothing, and nobody digs for certainty";
        let confidence = self
            .confidence
            .and_then(|given| refused.take(number("/confidence", given, (0.5, 0.99), why)));
        refused.take(entries("/seen", self.seen.len(), (0, 100), "the last digs are enough"));
        let seen = self.seen.iter().enumerate();
        let seen: Vec<SpreadSeen> =
            seen.filter_map(|(index, one)| one.parse(index, &mut refused)).collect();
        refused.take(entries("/dug", self.dug.len(), (0, 64), "planters have up to 64 rows"));
        let mut before = BTreeSet::new();
        let dug = self.dug.iter().enumerate();
        let dug: Vec<DugRow> = dug
            .filter_map(|(index, one)| one.parse(index, rows, &mut before, &mut refused))
            .collect();
        refused.finish()?;
        Ok(Asked {
            rows: self.rows_of_planter,
            tyre_rows: tyre_rows.unwrap_or_default(),
            tolerance: tolerance
                .unwrap_or_else(|| Length::from_si(k.depth_tolerance.value * 0.0254)),
            confidence: confidence.unwrap_or(CONFIDENCE),
            seen,
            dug,
        })
    }
}

impl SeenSpread {
    fn parse(&self, index: usize, refused: &mut Refused) -> Option<SpreadSeen> {
        let at = |name: &str| format!("/seen/{index}/{name}");
        let why = "one row shows no spread between rows";
        let rows = refused.take(whole(&at("rows"), self.rows, (2, 64), why));
        let why = "with one seed on each row nothing is known of the spread within";
        let seeds = refused.take(whole(&at("seeds"), self.seeds, (3, 12_800), why));
        let sd = &bounds::DEPTH_SD;
        let between = refused.take(self.sd_between_rows.parse(&at("sd_between_rows"), sd));
        let within = refused.take(self.sd_within_rows.parse(&at("sd_within_rows"), sd));
        let (between, within, rows, seeds) = (between?, within?, rows?, seeds?);
        let seen = SpreadSeen::new(between, within, rows, seeds);
        if seen.is_none() {
            refused.add(
                BadMember::new(at("seeds"), "There are not more seeds than rows.")
                    .given(seeds)
                    .allowed(format!("more than {rows}"))
                    .why(why),
            );
        }
        seen
    }
}

impl DugBefore {
    fn parse(
        &self,
        index: usize,
        rows: u32,
        before: &mut BTreeSet<u16>,
        refused: &mut Refused,
    ) -> Option<DugRow> {
        let at = format!("/dug/{index}/row");
        refused.take(whole(&at, u32::from(self.row), (1, rows.clamp(1, 64)), COUNTED))?;
        if !before.insert(self.row) {
            refused.add(BadMember::new(at, "This row was given before.").given(self.row));
        }
        Some(DugRow { row: self.row, odd: self.odd })
    }
}
