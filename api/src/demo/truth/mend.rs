//! What happens to the iron when somebody does what a dig asked for.

use super::iron::Iron;
use super::{INCH, POUND_FORCE};

/// What one step more gives the rows behind tyres, N.
const ONE_STEP: f64 = 80.0 * POUND_FORCE;
/// Weight plates that hang on a unit, N.
const PLATES: f64 = 60.0 * POUND_FORCE;
/// How far hoppers are filled where the unit is too heavy.
const HALF: f64 = 0.4;

impl Iron {
    /// The iron after the cause that a dig named was looked at and mended.
    ///
    /// Only what is really wrong gets better: a row that is looked at without a fault stays as it
    /// is.
    pub(in crate::demo) fn mended(mut self, cause: &str) -> Self {
        match cause {
            "worn_or_misread" => self.lost_unseen = 0.0,
            "cleaner_too_deep" => {
                self.cleaner = 0.0;
                self.cleaners_deep = false;
            }
            "frame_lifts" => self.ends_miss = 0.0,
            "odd_row" => self.odd_row = None,
            "tyre_tracks" => self.behind_tyres = ONE_STEP,
            "closing_off_centre" => self.closing_centred = true,
            "hairpin" => self.cuts_clean = true,
            "meter" => self.skips_doubles = (0.015, 0.01),
            "too_much_force" => self.fill_most = HALF,
            "too_little_force" => self.attachments += PLATES,
            _ => {}
        }
        self
    }

    /// The iron with the coulters lifted clear.
    pub(in crate::demo) fn without_coulters(mut self) -> Self {
        self.coulter = false;
        self.coulter_on_unit = false;
        self.coulter_above = 6.0 * INCH;
        self
    }
}
