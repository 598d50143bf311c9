//! `POST /v1/what-if/seeding-rate`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::Coefficients;
use domain::quantity::{Length, System, bounds};
use domain::settings::{SeedingGoal, seeding};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::optional;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query, Refused};
use crate::v1::coefficients::figures_in_force;
use crate::v1::conditions::Crop;
use crate::v1::trace::{self, Assumed, Reason, TraceStep};
use crate::v1::units::UnitsQuery;

/// The stand that is wanted, and what grows of the seed.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "soybean",
    "stand": {"value": 100_000, "unit": "1/[acr_us]"},
    "germination": {"value": 95, "unit": "%"},
    "survival": {"value": 85, "unit": "%"},
    "row_width": {"value": 15, "unit": "[in_i]"}
})))]
pub(super) struct SeedingRateIn {
    /// The crop.
    pub crop: Crop,
    /// Plants per area that are wanted; the usual stand of the crop when absent. Bound:
    /// `seed_population`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub stand: Option<Quantity>,
    /// Germination on the seed tag; the usual one when absent. Bound: `positive_share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub germination: Option<Quantity>,
    /// Share of germinating seed that becomes plants; the usual one when absent. Bound:
    /// `positive_share`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub survival: Option<Quantity>,
    /// Distance between rows, for the spacing. Bound: `row_width`.
    pub row_width: Quantity,
}

/// The rate to set.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "rate": {"value": 123_839, "unit": "1/[acr_us]"},
    "rate_low": {"value": 123_839, "unit": "1/[acr_us]"},
    "rate_high": {"value": 123_839, "unit": "1/[acr_us]"},
    "spacing": {"value": 3.37678, "unit": "[in_i]"},
    "seeds_per_foot": 3.55368,
    "thousandth_acre": {"value": 34.8481, "unit": "[ft_i]"},
    "seeds_in_thousandth_acre": 123.839,
    "because": [
        {
            "text": "soybean: stand wanted, divided by germination and by the share that survives (about 85 %)",
            "mark": "read",
            "mark_words": "read in the source",
            "source": "University of Nebraska 2016. Soybean seeding rate tips"
        }
    ],
    "watch": [
        {
            "text": "count seeds in a thousandth of an acre behind two or three rows: each seed is a thousand an acre",
            "mark": "derived",
            "mark_words": "derived",
            "source": "definition of the unit"
        }
    ],
    "assumed": [],
    "trace": [
        {
            "step": "seeding rate",
            "formula": "P / (share that becomes plants)",
            "inputs": [
                {"symbol": "P", "value": 100_000, "unit": "1/[acr_us]"},
                {"symbol": "share that becomes plants", "value": 0.8075, "unit": "1"}
            ],
            "value": 123_839,
            "unit": "1/[acr_us]",
            "low": 123_839,
            "high": 123_839,
            "source": "University of Nebraska 2016. Soybean seeding rate tips",
            "mark": "read",
            "mark_words": "read in the source"
        },
        {
            "step": "spacing in the row",
            "formula": "1 / (P W)",
            "inputs": [
                {"symbol": "P", "value": 123_839, "unit": "1/[acr_us]"},
                {"symbol": "W", "value": 15, "unit": "[in_i]"}
            ],
            "value": 3.37678,
            "unit": "[in_i]",
            "source": "definition of the unit",
            "mark": "derived",
            "mark_words": "derived"
        },
        {
            "step": "row that is a thousandth of an acre",
            "formula": "0.001 acre / W",
            "inputs": [{"symbol": "W", "value": 15, "unit": "[in_i]"}],
            "value": 34.8481,
            "unit": "[ft_i]",
            "source": "definition of the unit",
            "mark": "derived",
            "mark_words": "derived"
        }
    ]
})))]
pub(super) struct SeedingRate {
    /// Seeds per area to set.
    pub rate: Quantity,
    /// Rate if everything grows as well as is likely.
    pub rate_low: Quantity,
    /// Rate if it grows as badly as is likely.
    pub rate_high: Quantity,
    /// Distance from seed to seed in the row.
    pub spacing: Quantity,
    /// Seeds in one foot of row.
    #[schema(example = 3.554)]
    pub seeds_per_foot: f64,
    /// Length of one row that is a thousandth of an acre.
    pub thousandth_acre: Quantity,
    /// Seeds that must lie in that length.
    #[schema(example = 123.8)]
    pub seeds_in_thousandth_acre: f64,
    /// Why.
    #[schema(max_items = 100)]
    pub because: Vec<Reason>,
    /// What to watch.
    #[schema(max_items = 100)]
    pub watch: Vec<Reason>,
    /// What stood in for what was not given.
    #[schema(max_items = 100)]
    pub assumed: Vec<Assumed>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// Seeding rate for a stand.
///
/// `rate = stand / (germination x survival)`. What is not given is taken from the coefficients,
/// and the answer says so and gives the range.
///
/// Worked example (University of Nebraska, 2016, Soybean seeding rate tips): a stand of 100,000
/// with 95 % germination and 85 % survival needs 123,839 seeds an acre. The row width is ours.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_seeding_rate", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SeedingRateIn, description = "Stand and seed."),
    responses((status = 200, description = "The rate.", body = SeedingRate), ComputeErrors),
)]
#[post("/what-if/seeding-rate")]
pub(super) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SeedingRateIn>,
) -> Result<Answer<SeedingRate>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl SeedingRateIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<SeedingRate, ApiError> {
        let (goal, width) = self.parse()?;
        let advice = seeding(goal, self.crop.into(), width, k);
        let choice = advice.choice;
        let rate = |seeds| Quantity::show(&bounds::SEED_POPULATION, seeds, system);
        Ok(SeedingRate {
            rate: rate(choice.rate),
            rate_low: rate(choice.rate_low),
            rate_high: rate(choice.rate_high),
            spacing: Quantity::show(&bounds::SEED_SPACING, choice.spacing, system),
            seeds_per_foot: six_digits(choice.seeds_per_foot),
            thousandth_acre: Quantity::show(&bounds::ROW_LENGTH, choice.thousandth_acre, system),
            seeds_in_thousandth_acre: six_digits(choice.seeds_in_thousandth),
            because: trace::reasons(advice.because),
            watch: trace::reasons(advice.watch),
            assumed: trace::assumed(advice.assumed),
            trace: trace::steps(choice.steps),
        })
    }

    fn parse(&self) -> Result<(SeedingGoal, Length), ApiError> {
        let mut refused = Refused::default();
        let stand = self.stand.as_ref();
        let plants = optional(&mut refused, stand, "/stand", &bounds::SEED_POPULATION);
        let tag = self.germination.as_ref();
        let germination = optional(&mut refused, tag, "/germination", &bounds::POSITIVE_SHARE);
        let grown = self.survival.as_ref();
        let survival = optional(&mut refused, grown, "/survival", &bounds::POSITIVE_SHARE);
        let width = refused.take(self.row_width.parse("/row_width", &bounds::ROW_WIDTH));
        let Some(width) = width else { return Err(refused.into()) };
        refused.finish()?;
        Ok((SeedingGoal::Stand { plants, germination, survival }, width))
    }
}
