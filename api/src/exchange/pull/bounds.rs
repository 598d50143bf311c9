//! How much is fetched at most.

use std::time::Duration;

/// Most bytes of a page.
pub const PAGE_BYTES: usize = 32 * 1024 * 1024;
/// Most bytes of a run.
pub const RUN_BYTES: usize = 96 * 1024 * 1024;
/// Most values of JSON in a page: what is read takes many times the room of what was sent.
pub const PAGE_VALUES: usize = 4_000_000;
/// Most pages of a run.
pub const RUN_PAGES: u32 = 2000;
/// Most records of a run.
pub const RUN_RECORDS: usize = 50_000;
/// Longest wait that a records system may ask for at once.
pub const WAIT: Duration = Duration::from_mins(2);
/// How often it may ask us to wait for one page.
pub const WAITS: u8 = 5;
/// Longest time for one page.
pub const PAGE_TIME: Duration = Duration::from_secs(30);
/// Longest time for fetching in a run.
pub const RUN_TIME: Duration = Duration::from_mins(20);

/// What may be used up.
#[derive(Debug, Clone, Copy)]
pub struct Bounds {
    /// Bytes of a page.
    pub page_bytes: usize,
    /// Bytes in all.
    pub bytes: usize,
    /// Pages in all.
    pub pages: u32,
    /// Records in all.
    pub records: usize,
    /// Time for one page.
    pub page_time: Duration,
    /// Longest wait that is kept; with none, being told to wait ends it.
    pub wait: Duration,
}

impl Bounds {
    /// For a run.
    pub const RUN: Self = Self {
        page_bytes: PAGE_BYTES,
        bytes: RUN_BYTES,
        pages: RUN_PAGES,
        records: RUN_RECORDS,
        page_time: PAGE_TIME,
        wait: WAIT,
    };
    /// For a test, whose caller waits.
    pub const TEST: Self = Self {
        page_bytes: PAGE_BYTES / 4,
        pages: 10,
        page_time: Duration::from_secs(8),
        wait: Duration::ZERO,
        ..Self::RUN
    };
}
