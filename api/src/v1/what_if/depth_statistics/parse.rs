//! From the wire to a dig, every refusal named.

use std::collections::BTreeSet;

use domain::dig::{ObservationError, RowReading, Wanted};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, bounds};

use super::dto::{DepthStatisticsIn, DugRow};
use crate::http::{ApiError, BadMember, Refused};
use crate::v1::what_if::member::{entries, optional, whole};

impl DepthStatisticsIn {
    pub(super) fn parse(&self, k: &Coefficients) -> Result<(Wanted, Vec<RowReading>), ApiError> {
        let mut refused = Refused::default();
        let depth = refused.take(self.depth_wanted.parse("/depth_wanted", &bounds::PLANTING_DEPTH));
        let given = self.tolerance.as_ref();
        let tolerance = optional(&mut refused, given, "/tolerance", &bounds::DEPTH_TOLERANCE);
        let why = "planters have up to 64 rows";
        let on_planter =
            refused.take(whole("/rows_of_planter", self.rows_of_planter, (1, 64), why));
        refused.take(entries("/rows", self.rows.len(), (1, 64), why));
        let mut seen = BTreeSet::new();
        let rows: Vec<RowReading> = self
            .rows
            .iter()
            .enumerate()
            .filter_map(|(index, row)| row.parse(index, &mut seen, &mut refused))
            .collect();
        let (Some(depth), Some(on_planter)) = (depth, on_planter) else {
            return Err(refused.into());
        };
        refused.finish()?;
        let wanted = Wanted {
            depth,
            tolerance: tolerance
                .unwrap_or_else(|| Length::from_si(k.depth_tolerance.value * 0.0254)),
            spacing: None,
            // Only spacings need it, and none are given here.
            row_width: Length::from_si(0.762),
            rows: u16::try_from(on_planter).unwrap_or(u16::MAX),
            crop: self.crop.into(),
        };
        Ok((wanted, rows))
    }
}

impl DugRow {
    fn parse(
        &self,
        index: usize,
        seen: &mut BTreeSet<u32>,
        refused: &mut Refused,
    ) -> Option<RowReading> {
        let at = |name: &str| format!("/rows/{index}/{name}");
        let why = "rows are counted from 1 at the left end";
        let row = refused.take(whole(&at("row"), self.row, (1, 64), why));
        if !seen.insert(self.row) {
            let detail = "This row was given before: put its depths together.";
            refused.add(BadMember::new(at("row"), detail).given(self.row));
        }
        let why = "a row is dug by measuring its seeds";
        let few = entries(&at("depths/values"), self.depths.values.len(), (1, 200), why);
        refused.take(few);
        let depths = refused.take_all(self.depths.parse(&at("depths"), &bounds::SEED_DEPTH));
        Some(RowReading {
            behind_tyre: self.behind_tyre,
            outer: self.outer,
            seed_depths: depths?,
            ..RowReading::of(u16::try_from(row?).ok()?)
        })
    }
}

pub(super) fn bad(error: &ObservationError) -> BadMember {
    let pointer = match error {
        ObservationError::NotOnPlanter { index, .. } | ObservationError::Twice { index, .. } => {
            format!("/rows/{index}/row")
        }
        ObservationError::TooMany { index, .. } => format!("/rows/{index}/depths/values"),
        ObservationError::NoRows
        | ObservationError::NothingRead
        | ObservationError::BeyondStretch { .. }
        | ObservationError::Impossible { .. } => "/rows".to_owned(),
    };
    BadMember::new(pointer, format!("{error}."))
}

pub(super) fn nothing_measured() -> ApiError {
    BadMember::new("/rows", "No depth was measured.").into()
}
