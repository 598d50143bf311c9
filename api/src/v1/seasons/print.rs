//! Of whom a report is printed, in which units, and on which paper.

use serde::Deserialize;
use utoipa::IntoParams;
use uuid::Uuid;

use super::query::ReportQuery;
use crate::reports::file::PaperSize;
use crate::v1::units::Units;

/// Of whom the report is, in which units, and on which paper.
#[derive(Debug, Clone, Copy, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub(super) struct PrintQuery {
    /// Of this grower. At most one of the three is given; without any the report is of all that the
    /// caller sees.
    #[serde(default)]
    #[param(nullable = false)]
    pub(super) grower_id: Option<Uuid>,
    /// Of this planter.
    #[serde(default)]
    #[param(nullable = false)]
    pub(super) planter_id: Option<Uuid>,
    /// Of the growers that this advisor looks after now.
    #[serde(default)]
    #[param(nullable = false)]
    pub(super) advisor_id: Option<Uuid>,
    /// Units of the answer; those of the account when absent.
    #[serde(default)]
    #[param(nullable = false, inline, example = "us")]
    pub(super) units: Option<Units>,
    /// The paper: US Letter, or A4.
    #[serde(default)]
    #[param(nullable = false, inline, example = "letter")]
    pub(super) paper: Option<PaperSize>,
}

impl PrintQuery {
    /// What is asked for, without the paper.
    pub(super) fn report(self) -> ReportQuery {
        let Self { grower_id, planter_id, advisor_id, units, paper: _ } = self;
        ReportQuery { grower_id, planter_id, advisor_id, units }
    }
}
