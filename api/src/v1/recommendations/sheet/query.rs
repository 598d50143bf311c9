//! In which units a sheet is printed, and on which paper.

use serde::Deserialize;
use utoipa::IntoParams;

use crate::reports::file::PaperSize;
use crate::v1::units::Units;

/// Units and paper of a sheet.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct SheetQuery {
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub units: Option<Units>,
    /// The paper: US Letter, or A4.
    #[serde(default)]
    #[param(nullable = false, inline, example = "letter")]
    pub paper: Option<PaperSize>,
}
