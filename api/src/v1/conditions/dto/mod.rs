//! What goes over the wire.

mod cover;
mod observations;
mod report;

pub use cover::{CoverClipIn, CoverCropIn, PestsIn};
pub use observations::ConditionsIn;
pub use report::{ConditionsPage, ConditionsReport, ConditionsRequest};
