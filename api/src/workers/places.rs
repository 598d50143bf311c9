//! The places that are free.

use std::sync::Arc;

use tokio::task::JoinSet;

use super::work::Work;

/// The places that are free.
#[derive(Debug)]
pub struct Places<'a, W: Work> {
    work: &'a Arc<W>,
    at_work: &'a mut JoinSet<()>,
}

impl<'a, W: Work> Places<'a, W> {
    pub(super) fn of(work: &'a Arc<W>, at_work: &'a mut JoinSet<()>) -> Self {
        Self { work, at_work }
    }

    /// How many there are.
    pub fn free(&self) -> usize {
        self.work.places().saturating_sub(self.at_work.len())
    }

    /// How many there are, as a database counts rows.
    pub fn free_rows(&self) -> u64 {
        u64::try_from(self.free()).unwrap_or(u64::MAX)
    }

    /// Begins a piece in one of them.
    pub fn begin(&mut self, piece: W::Piece) {
        let work = self.work.clone();
        self.at_work.spawn(async move { work.carry_out(piece).await });
    }
}
