//! Dry matter and nitrogen of a cover crop, on the wire.

use std::borrow::Cow;

use domain::conditions;
use domain::quantity::ArealMassDensity;
use domain::stats::Range;
use serde::Serialize;
use utoipa::ToSchema;

use crate::http::quantity::{Quantity, six_digits};

/// A mass on an area, with its range.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "likely": {"value": 4400, "unit": "[lb_av]/[acr_us]"},
    "low": {"value": 2640, "unit": "[lb_av]/[acr_us]"},
    "high": {"value": 6160, "unit": "[lb_av]/[acr_us]"}
})))]
pub struct MassRange {
    /// The figure to work with.
    pub likely: Quantity,
    /// Low end.
    pub low: Quantity,
    /// High end.
    pub high: Quantity,
}

impl MassRange {
    /// Each figure in the units that `show` gives.
    pub fn of(range: &conditions::MassRange, show: impl Fn(ArealMassDensity) -> Quantity) -> Self {
        Self { likely: show(range.likely), low: show(range.low), high: show(range.high) }
    }
}

/// Carbon to nitrogen, with its range. Above 24 microbes take nitrogen from the soil for a while.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({"likely": 31.5, "low": 12, "high": 50})))]
pub struct CarbonToNitrogen {
    /// The figure to work with.
    #[schema(example = 31.5)]
    pub likely: f64,
    /// Low end.
    #[schema(example = 12)]
    pub low: f64,
    /// High end.
    #[schema(example = 50)]
    pub high: f64,
}

impl From<Range> for CarbonToNitrogen {
    fn from(range: Range) -> Self {
        let Range { low, likely, high } = range;
        Self { likely: six_digits(likely), low: six_digits(low), high: six_digits(high) }
    }
}

/// Nitrogen that comes free in the first year, by one source. Sources differ; all are shown.
#[derive(Debug, Clone, Serialize, ToSchema)]
#[schema(examples(json!({
    "tilled": false,
    "share": 0.4,
    "nitrogen": {"value": 104.544, "unit": "[lb_av]/[acr_us]"},
    "source": "North Carolina, left on the surface: Cover-crop biomass and N worksheet, n.d."
})))]
pub struct NitrogenCredit {
    /// Whether the tops are worked into the soil rather than left on it.
    pub tilled: bool,
    /// Share of the nitrogen in the tops, 0 to 1.
    #[schema(minimum = 0, maximum = 1, example = 0.4)]
    pub share: f64,
    /// The nitrogen, from the likely figure.
    pub nitrogen: Quantity,
    /// Where the share holds, and who says so.
    #[schema(
        example = "North Carolina, left on the surface: Cover-crop biomass and N worksheet, n.d."
    )]
    pub source: String,
}

/// The credits, in order.
pub fn credits(
    list: &[conditions::NitrogenCredit],
    show: impl Fn(ArealMassDensity) -> Quantity,
) -> Vec<NitrogenCredit> {
    let credit = |it: &conditions::NitrogenCredit| NitrogenCredit {
        tilled: it.tilled,
        share: six_digits(it.share),
        nitrogen: show(it.nitrogen),
        source: Cow::into_owned(it.source.clone()),
    };
    list.iter().map(credit).collect()
}
