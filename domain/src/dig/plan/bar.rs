//! The planter as somebody with a spade sees it: rows across, tyres ahead, parts of the frame.

use crate::planter::{Cleaner, FrameSection, Planter};

/// The rows of a planter and where they run.
#[derive(Debug, Clone, Copy)]
pub struct Bar<'a> {
    /// Rows of the planter, counted from 1 at the left end.
    pub rows: u16,
    /// Rows behind a tractor or planter tyre.
    pub tyre_rows: &'a [u16],
    /// Parts of the frame from left to right, empty where nobody gave them.
    pub sections: &'a [FrameSection],
    /// Whether row cleaners are fitted.
    pub cleaners: bool,
}

/// A row that was dug before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DugRow {
    /// The row.
    pub row: u16,
    /// Whether it differed from the rest and was set aside.
    pub odd: bool,
}

/// A run of neighbouring rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Part {
    /// What people call it.
    pub name: String,
    first: u16,
    last: u16,
}

impl<'a> Bar<'a> {
    /// The bar of a planter.
    pub fn of(planter: &'a Planter) -> Self {
        Self {
            rows: planter.rows,
            tyre_rows: &planter.tyre_rows,
            sections: &planter.frame,
            cleaners: planter.unit.cleaner != Cleaner::None,
        }
    }

    pub(super) fn behind_tyre(&self, row: u16) -> bool {
        self.tyre_rows.contains(&row)
    }

    /// Rows that count as outer at one end: one in eight, and at least one.
    pub(super) fn outer_at_an_end(&self) -> u16 {
        self.rows.div_ceil(8)
    }

    pub(super) fn outer_left(&self, row: u16) -> bool {
        row <= self.outer_at_an_end()
    }

    pub(super) fn outer_right(&self, row: u16) -> bool {
        row > self.rows.saturating_sub(self.outer_at_an_end())
    }

    /// Whether the sections of the frame carry all rows.
    pub(super) fn has_sections(&self) -> bool {
        let carried: u32 = self.sections.iter().map(|s| u32::from(s.rows)).sum();
        carried == u32::from(self.rows)
    }

    /// The sections of the frame where they carry all rows, else thirds of the bar.
    pub(super) fn parts(&self) -> Vec<Part> {
        let runs: Vec<(String, u16)> = if self.has_sections() {
            self.sections.iter().map(|s| (s.name.clone(), s.rows)).collect()
        } else {
            let side = self.rows / 3;
            let middle = self.rows - 2 * side;
            let runs = [("left third", side), ("middle", middle), ("right third", side)];
            runs.into_iter().map(|(name, rows)| (name.to_owned(), rows)).collect()
        };
        let mut next = 1;
        runs.into_iter()
            .filter(|(_, rows)| *rows > 0)
            .map(|(name, rows)| {
                let first = next;
                next += rows;
                Part { name, first, last: next - 1 }
            })
            .collect()
    }
}

impl Part {
    pub(super) fn carries(&self, row: u16) -> bool {
        (self.first..=self.last).contains(&row)
    }
}
