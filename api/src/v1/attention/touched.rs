//! An entry, for the audit trail.

use super::find::Found;
use crate::writes::Touched;

/// The entry that something was said about.
pub(super) fn touched(found: &Found) -> Touched {
    let touched = Touched::new("attention_entry", found.key());
    match found.grower_id {
        Some(grower) => touched.of_grower(grower),
        None => touched,
    }
}
