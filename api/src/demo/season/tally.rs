//! How often things happened.

/// How often things happened in a field.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Tally {
    /// Conditions reports.
    pub reports: u32,
    /// Recommendations, each revision counted.
    pub sheets: u32,
    /// Digs.
    pub digs: u32,
    /// Adjustments that were accepted or declined.
    pub decisions: u32,
}
