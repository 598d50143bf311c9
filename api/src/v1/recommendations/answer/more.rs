//! Whether to plant, remedies, what to measure, cautions.

use domain::conditions::Today;
use domain::provenance::Advice;
use domain::settings::{Caution, NextMeasurement, Remedy};
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::Quantity;
use crate::v1::recommendations::show::{Show, share};
use crate::v1::recommendations::words::{CautionCode, Verdict};
use crate::v1::trace::{Reason, reasons};

/// Whether to plant today.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "verdict": "plant",
    "because": [{
        "text": "the ball crumbles",
        "mark": "common_practice",
        "mark_words": "common practice, no source",
        "source": "common practice, no source"
    }],
    "watch": []
})))]
pub struct TodayOut {
    /// What to do.
    pub verdict: Verdict,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
}

impl TodayOut {
    pub(super) fn of(advice: Advice<Today>) -> Self {
        Self {
            verdict: advice.choice.into(),
            because: reasons(advice.because),
            watch: reasons(advice.watch),
        }
    }
}

/// What to do instead of more force.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "what": {
        "text": "slow down from 6.5 mph (10.5 km/h) to 5 mph (8 km/h)",
        "mark": "derived",
        "mark_words": "derived",
        "source": "statics"
    },
    "need_then": {"value": 301, "unit": "[lbf_av]"},
    "enough": false
})))]
pub struct RemedyOut {
    /// What to do, with how much.
    pub what: Reason,
    /// The down force on each row that would then be needed, hopper half full.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub need_then: Option<Quantity>,
    /// Whether that is within reach.
    pub enough: bool,
}

impl RemedyOut {
    pub(super) fn of(remedy: Remedy, show: Show) -> Self {
        Self {
            what: remedy.what.into(),
            need_then: remedy.need_then.map(|force| show.down_force(force)),
            enough: remedy.enough,
        }
    }
}

/// One thing to measure and how much it would narrow the answer.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "measure": "pull of the coulter: lift it clear on one row and dig",
    "narrows_by": 0.46
})))]
pub struct NextMeasurementOut {
    /// What to do.
    #[schema(example = "pull of the coulter: lift it clear on one row and dig")]
    pub measure: String,
    /// By which share, 0 to 1, the spread of the needed down force would shrink.
    #[schema(minimum = 0, maximum = 1, example = 0.46)]
    pub narrows_by: f64,
}

impl NextMeasurementOut {
    pub(super) fn of(next: NextMeasurement) -> Self {
        Self { measure: next.measure.into_owned(), narrows_by: share(next.narrows_by) }
    }
}

/// Something that can hurt somebody.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "code": "digging_behind",
    "text": "Digging: planter stopped and parked, the driver sees you, nobody between or under raised units."
})))]
pub struct CautionOut {
    /// Its name, for programs.
    pub code: CautionCode,
    /// What people read.
    #[schema(example = "Digging: planter stopped and parked, the driver sees you.")]
    pub text: String,
}

impl CautionOut {
    /// The caution with its sentence.
    pub fn of(caution: Caution) -> Self {
        Self { code: caution.into(), text: caution.reason().text.into_owned() }
    }
}
