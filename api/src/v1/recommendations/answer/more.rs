//! Whether to plant, remedies, what to measure, cautions.

use domain::conditions::Today;
use domain::provenance::Advice;
use domain::settings::{Caution, NextMeasurement, Remedy};
use serde::Serialize;
use utoipa::ToSchema;

use super::example_at;
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
#[schema(examples(json!(example_at("/measure_next/0"))))]
pub struct NextMeasurementOut {
    /// What to do.
    #[schema(example = "pull of the coulter: lift it clear on one row and dig")]
    pub measure: String,
    /// By which share, 0 to 1, the range of the needed down force would shrink.
    #[schema(minimum = 0, maximum = 1, example = 0.46)]
    pub narrows_by: f64,
    /// The figures behind it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub narrowing: Option<NarrowingOut>,
}

/// What a measurement would do to the range of the needed down force, hopper half full, and to the
/// chance of being right. Where the range ends up nobody knows before it is made; its width counts.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!(example_at("/measure_next/0/narrowing"))))]
pub struct NarrowingOut {
    /// Low end (5 %) as things are.
    pub low_now: Quantity,
    /// High end (95 %) as things are.
    pub high_now: Quantity,
    /// Low end once it is measured, if it turns out as expected.
    pub low_then: Quantity,
    /// High end once it is measured.
    pub high_then: Quantity,
    /// Chance, 0 to 1, that the load lies in the window now, at the best setting.
    #[schema(minimum = 0, maximum = 1, example = 0.3)]
    pub chance_now: f64,
    /// The same once it is measured and the setting follows.
    #[schema(minimum = 0, maximum = 1, example = 0.4)]
    pub chance_then: f64,
}

impl NextMeasurementOut {
    pub(super) fn of(next: NextMeasurement, show: Show) -> Self {
        let force = |force| show.down_force(force);
        Self {
            measure: next.measure.into_owned(),
            narrows_by: share(next.narrows_by),
            narrowing: next.narrowing.map(|n| NarrowingOut {
                low_now: force(n.low_now),
                high_now: force(n.high_now),
                low_then: force(n.low_then),
                high_then: force(n.high_then),
                chance_now: share(n.chance_now),
                chance_then: share(n.chance_then),
            }),
        }
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
