//! `POST /v1/what-if/spacing-quality`

use actix_web::post;
use domain::quantity::{Length, Measured, Ratio, System, bounds};
use domain::stand::{self, LossRange, Regions, SpacingError};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::member::entries;
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::{Quantities, Quantity};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::recommendations::answer::LossRangeOut;
use crate::v1::trace::{self, TraceStep};
use crate::v1::units::UnitsQuery;

/// Spacings of one row, and the spacing that was meant.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "spacings": {"unit": "[in_i]", "values": [
        8, 8.5, 7.5, 4, 12, 12.5, 16, 3, 8, 9, 7, 8, 24, 0.5, 8, 7.75, 8.25, 20, 28, 30
    ]},
    "meant": {"value": 8, "unit": "[in_i]"}
})))]
pub(super) struct SpacingQualityIn {
    /// Distances from seed to seed along the row, at least two. Bound: `seed_spacing`.
    pub spacings: Quantities,
    /// The spacing that the planter was set to. Bound: `seed_spacing`.
    pub meant: Quantity,
}

/// How evenly seed lies along a row.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "convention": "percent of spacings, borders to the region below",
    "regions": {"multiples": 3, "singles": 11, "one_skip": 3, "two_skips": 2, "more_skips": 1},
    "multiples": {"value": 15, "unit": "%"},
    "quality_of_feed": {"value": 55, "unit": "%"},
    "miss": {"value": 30, "unit": "%"},
    "singles_mean": {"value": 8.36364, "unit": "[in_i]"},
    "singles_sd": {"value": 1.31036, "unit": "[in_i]"},
    "precision_over_meant": {"value": 16.3795, "unit": "%"},
    "precision_over_singles_mean": {"value": 15.6674, "unit": "%"},
    "mean": {"value": 11.5, "unit": "[in_i]"},
    "sd": {"value": 8.07571, "unit": "[in_i]"},
    "cv": {"value": 70.2236, "unit": "%"},
    "trace": [
        {
            "step": "quality of feed",
            "formula": "100 n(0.5 x_ref < x <= 1.5 x_ref) / n",
            "inputs": [{"symbol": "x_ref", "value": 8, "unit": "[in_i]"}],
            "value": 55,
            "unit": "%",
            "source": "Iowa State University Extension. Plant uniformity measurements, n.d., citing Kachman and Smith 1995; Bracy, Parish. HortTechnology",
            "mark": "read",
            "mark_words": "read in the source"
        },
        {
            "step": "precision over the spacing that was meant",
            "formula": "100 S_2 / x_ref",
            "inputs": [
                {"symbol": "S_2", "value": 1.31036, "unit": "[in_i]"},
                {"symbol": "x_ref", "value": 8, "unit": "[in_i]"}
            ],
            "value": 16.3795,
            "unit": "%",
            "source": "Iowa State University Extension. Plant uniformity measurements, n.d., citing Kachman and Smith 1995; Bracy, Parish. HortTechnology",
            "mark": "from_memory",
            "mark_words": "from memory, source to confirm"
        }
    ]
})))]
pub(super) struct SpacingQualityResult {
    /// The convention that the shares follow: percent of the spacings, regions at 0.5, 1.5, 2.5 and
    /// 3.5 times the spacing that was meant, each border belonging to the region below it.
    #[schema(example = "percent of spacings, borders to the region below")]
    pub convention: String,
    /// Spacings in each region.
    pub regions: SpacingRegions,
    /// Share of multiples.
    pub multiples: Quantity,
    /// Share of singles (quality of feed).
    pub quality_of_feed: Quantity,
    /// Share of spacings with skips.
    pub miss: Quantity,
    /// Mean of the singles.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub singles_mean: Option<Quantity>,
    /// Standard deviation of the singles (n - 1).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub singles_sd: Option<Quantity>,
    /// Precision: that standard deviation over the spacing that was meant. Near 29 % singles carry
    /// no pattern at all.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub precision_over_meant: Option<Quantity>,
    /// Precision by the other convention: that standard deviation over the mean of the singles.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub precision_over_singles_mean: Option<Quantity>,
    /// Mean of all spacings.
    pub mean: Quantity,
    /// Standard deviation of all spacings (n - 1).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// Standard deviation of all spacings over their mean.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub cv: Option<Quantity>,
    /// Bushels an acre that corn may lose to that standard deviation, by two published figures;
    /// absent above 5 in, where neither holds. Guidance: later trials often found less.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub corn_loss_bu_ac: Option<LossRangeOut>,
    /// The calculation.
    #[schema(max_items = 1000)]
    pub trace: Vec<TraceStep>,
}

/// How many spacings lie in each region, by the spacing that was meant.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "multiples": 3, "singles": 11, "one_skip": 3, "two_skips": 2, "more_skips": 1
})))]
pub(super) struct SpacingRegions {
    /// Up to 0.5.
    #[schema(example = 3)]
    pub multiples: u32,
    /// Above 0.5 to 1.5.
    #[schema(example = 11)]
    pub singles: u32,
    /// Above 1.5 to 2.5.
    #[schema(example = 3)]
    pub one_skip: u32,
    /// Above 2.5 to 3.5.
    #[schema(example = 2)]
    pub two_skips: u32,
    /// Above 3.5.
    #[schema(example = 1)]
    pub more_skips: u32,
}

/// Quality of seed spacing.
///
/// The percent-of-spacings form, in which each spacing is put into a region by the spacing that was
/// meant; the answer names the convention, and gives the precision by both of its conventions.
///
/// Worked example (definitions of Bracy and Parish, `HortTechnology`, and of Iowa State University
/// Extension, Plant uniformity measurements; the 20 spacings are constructed to hold every border):
/// 15 % multiples, 55 % quality of feed, 30 % misses, precision 16.4 %.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_spacing_quality", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = SpacingQualityIn, description = "The spacings."),
    responses(
        (status = 200, description = "The indices.", body = SpacingQualityResult),
        ComputeErrors,
    ),
)]
#[post("/what-if/spacing-quality")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<SpacingQualityIn>,
) -> Result<Answer<SpacingQualityResult>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl SpacingQualityIn {
    fn work_out(self, system: System) -> Result<SpacingQualityResult, ApiError> {
        let mut refused = Refused::default();
        let why = "one spacing has no evenness";
        refused.take(entries("/spacings/values", self.spacings.values.len(), (2, 1000), why));
        let spacings = refused.take_all(self.spacings.parse("/spacings", &bounds::SEED_SPACING));
        let meant = refused.take(self.meant.parse("/meant", &bounds::SEED_SPACING));
        let (Some(spacings), Some(meant)) = (spacings, meant) else {
            return Err(refused.into());
        };
        refused.finish()?;
        let found = stand::spacing_quality(&spacings, meant).map_err(bad)?;
        let length = |length: Length| Quantity::show(&bounds::SEED_SPACING, length, system);
        let percent = |x: f64| Quantity::show(&bounds::SHARE, Ratio::from_si(x / 100.0), system);
        let loss = found.sd.and_then(stand::spacing_loss);
        let mut trace = trace::steps_of(found.trace);
        trace.extend(loss.iter().flat_map(|loss| trace::steps(loss.steps.clone())));
        Ok(SpacingQualityResult {
            convention: "percent of spacings, borders to the region below".to_owned(),
            regions: found.regions.into(),
            multiples: percent(found.multiples_percent),
            quality_of_feed: percent(found.quality_of_feed_percent),
            miss: percent(found.miss_percent),
            singles_mean: found.singles_mean.map(length),
            singles_sd: found.singles_sd.map(length),
            precision_over_meant: found.precision_over_meant.map(percent),
            precision_over_singles_mean: found.precision_over_singles_mean.map(percent),
            mean: length(found.mean),
            sd: found.sd.map(length),
            cv: found.cv_percent.map(percent),
            corn_loss_bu_ac: loss
                .map(|it| LossRangeOut::of(LossRange { low: it.low, high: it.high })),
            trace,
        })
    }
}

impl From<Regions> for SpacingRegions {
    fn from(regions: Regions) -> Self {
        let Regions { multiples, singles, one_skip, two_skips, more_skips } = regions;
        Self { multiples, singles, one_skip, two_skips, more_skips }
    }
}

fn bad(error: SpacingError) -> BadMember {
    let pointer = match error {
        SpacingError::None => "/spacings/values".to_owned(),
        SpacingError::NothingMeant => "/meant".to_owned(),
        SpacingError::Impossible { position } => {
            format!("/spacings/values/{}", position.saturating_sub(1))
        }
    };
    BadMember::new(pointer, format!("{error}."))
}
