//! How much is to be planted and how a day goes, on the wire.

use domain::quantity::{Bound, Measured, bounds};
use domain::settings::Work;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::http::quantity::Quantity;
use crate::http::{BadMember, Refused};
use crate::v1::mirror::mirror;

mirror! {
    /// Where the area of the work comes from: `given`, or nobody gave it and all is said for
    /// `hundred_acres`.
    WorkArea = domain::settings::WorkArea { Given HundredAcres }

    /// What bounds the speed: `contact` of the gauge wheels, `metering` of the seed, even `depth`.
    SpeedBound = domain::settings::SpeedBound { Contact Metering Depth }

    /// In what a source gives a loss of yield: `percent` of the best yield, or `bushels_per_acre`.
    LossUnit = domain::stand::LossUnit { Percent BushelsPerAcre }

    /// How a tractor drives: rear wheels, front wheels that help, four equal wheels, tracks.
    TractorKind = domain::settings::TractorKind { TwoWheel FrontAssist FourWheel Tracks }

    /// The ground under the tractor.
    TractionSurface = domain::settings::TractionSurface { Concrete Firm Tilled Soft }
}

/// How much is to be planted, and how a day in the field goes. What is absent is assumed and said
/// so.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "area": {"value": 400, "unit": "[acr_us]"},
    "efficiency": {"value": 60, "unit": "%"},
    "hours_a_day": 10,
    "suitable_share": {"value": 48, "unit": "%"},
    "expected_yield_bu_ac": 200
})))]
pub struct WorkIn {
    /// Area to plant at this pace; of a recommendation the field's own area when absent. Without
    /// either everything is said for 100 acres. Bound: `field_area`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub area: Option<Quantity>,
    /// Share of the time in the field in which the planter plants; the coefficient
    /// `field_efficiency` when absent. Bound: `positive_share`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub efficiency: Option<Quantity>,
    /// Hours in the field on a day that is fit; the coefficient `hours_a_day` when absent.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 0.5, maximum = 24, example = 10)]
    pub hours_a_day: Option<f64>,
    /// Share of the calendar days that are fit for fieldwork; the coefficient `suitable_share` when
    /// absent. Bound: `positive_share`.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub suitable_share: Option<Quantity>,
    /// Yield to expect when planted in good time, bushels an acre. With it losses in percent and in
    /// bushels are turned into each other.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, minimum = 1, maximum = 400, example = 200)]
    pub expected_yield_bu_ac: Option<f64>,
}

impl WorkIn {
    /// Into the domain. Refusals are named under `at`, as in `/goals/work`.
    pub fn parse(&self, at: &str, refused: &mut Refused) -> Work {
        let Self { area, efficiency, hours_a_day, suitable_share, expected_yield_bu_ac } = self;
        let mut read = Reader { at, refused };
        let share = &bounds::POSITIVE_SHARE;
        Work {
            area: read.take("area", area.as_ref(), &bounds::FIELD_AREA),
            efficiency: read.take("efficiency", efficiency.as_ref(), share),
            hours_a_day: read.number(
                "hours_a_day",
                *hours_a_day,
                (0.5, 24.0),
                "a day has 24 hours",
            ),
            suitable_share: read.take("suitable_share", suitable_share.as_ref(), share),
            expected_yield_bu_ac: read.number(
                "expected_yield_bu_ac",
                *expected_yield_bu_ac,
                (1.0, 400.0),
                "no field of corn or soybean yields more than 400 bu/ac",
            ),
        }
    }
}

struct Reader<'a> {
    at: &'a str,
    refused: &'a mut Refused,
}

impl Reader<'_> {
    fn take<Q: Measured>(
        &mut self,
        name: &str,
        given: Option<&Quantity>,
        bound: &Bound<Q>,
    ) -> Option<Q> {
        let pointer = format!("{}/{name}", self.at);
        given.and_then(|quantity| self.refused.take(quantity.parse(&pointer, bound)))
    }

    fn number(
        &mut self,
        name: &str,
        given: Option<f64>,
        (least, most): (f64, f64),
        why: &str,
    ) -> Option<f64> {
        let value = given?;
        if (least..=most).contains(&value) {
            return Some(value);
        }
        let allowed = format!("{least} to {most}");
        let detail = format!("{value} is outside {allowed}.");
        let pointer = format!("{}/{name}", self.at);
        self.refused.add(BadMember::new(pointer, detail).given(value).allowed(allowed).why(why));
        None
    }
}
