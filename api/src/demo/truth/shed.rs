//! How the parts of a planter really wear, and what whoever measures in the shed reads.

use super::super::dice::Dice;
use super::INCH;
use super::iron::Iron;

/// Diameter that a disc loses while its row plants one acre, in m: least and most, by soil.
const LOSS_AN_ACRE: (f64, f64) = (3.0e-5, 6.0e-5);
/// How far a tape is off on a worn disc, m.
const TAPE: f64 = 0.4e-3;
/// The finest mark of a tape, in.
const MARK: f64 = 1.0 / 32.0;

/// What happened to a planter between two days in the shed.
#[derive(Debug, Clone, Copy)]
pub(in crate::demo) struct Worked<'a> {
    /// Name of the planter.
    pub planter: &'a str,
    /// Acres that it planted.
    pub acres: f64,
    /// Which day in the shed.
    pub day: &'a str,
}

impl Iron {
    /// Diameter that the discs of a row really have lost over some acres of the planter, m. Each row has
    /// its own: stones, tyre tracks and the steel differ.
    pub(in crate::demo) fn worn(&self, row: u16, worked: Worked<'_>) -> f64 {
        let soil =
            Dice::of(&format!("{} soil", worked.planter)).between(LOSS_AN_ACRE.0, LOSS_AN_ACRE.1);
        let own = Dice::of(&format!("{} steel {row}", worked.planter)).between(0.85, 1.15);
        let track = if self.behind_tyre(row) { 1.25 } else { 1.0 };
        soil * own * track * worked.acres / f64::from(self.rows.max(1))
    }

    /// What a tape reads on the discs of a row, in; never more than new.
    pub(in crate::demo) fn tape(&self, row: u16, worked: Worked<'_>) -> f64 {
        let now = self.disc - 2.0 * (self.lost + self.lost_unseen) - self.worn(row, worked);
        let words = format!("{} tape {row} {}", worked.planter, worked.day);
        let read = now + Dice::of(&words).scatter(TAPE);
        ((read / INCH / MARK).round() * MARK).min(self.disc / INCH)
    }
}
