//! `POST /v1/what-if/depth-statistics`

use std::collections::BTreeSet;

use actix_web::post;
use domain::dig::{
    self, DepthStatistics, Observation, ObservationError, RowReading, SettingsInUse, Wanted,
};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured, Ratio, System, bounds};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use super::depth_steps::steps;
use super::member::{entries, optional, whole};
use super::step::answer;
use crate::auth::{Caller, CanRead};
use crate::http::patch::present;
use crate::http::quantity::{Quantities, Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, BadMember, Body, Query, Refused};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::conditions::Crop;
use crate::v1::trace::TraceStep;
use crate::v1::units::UnitsQuery;

/// Seed depths of some rows.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "crop": "soybean",
    "depth_wanted": {"value": 1.5, "unit": "[in_i]"},
    "rows_of_planter": 6,
    "rows": [
        {"row": 1, "depths": {"unit": "[in_i]", "values": [1.545, 1.44, 1.44, 1.52, 1.58]}},
        {"row": 2, "depths": {"unit": "[in_i]", "values": [1.54, 1.555, 1.49, 1.56, 1.495]}},
        {"row": 3, "depths": {"unit": "[in_i]", "values": [1.595, 1.55, 1.605, 1.51, 1.56]}},
        {"row": 4, "depths": {"unit": "[in_i]", "values": [1.445, 1.44, 1.595, 1.465, 1.545]}},
        {"row": 5, "depths": {"unit": "[in_i]", "values": [1.595, 1.63, 1.515, 1.635, 1.625]}},
        {"row": 6, "depths": {"unit": "[in_i]", "values": [1.52, 1.455, 1.45, 1.48, 1.445]}}
    ]
})))]
pub(super) struct DepthStatisticsIn {
    /// The crop; for corn the share of seed that lies too shallow to root well is told.
    pub crop: Crop,
    /// The depth that was wanted. Bound: `planting_depth`.
    pub depth_wanted: Quantity,
    /// How far from it a seed may lie; the coefficient `depth_tolerance` when absent. Bound:
    /// `depth_tolerance`.
    #[serde(default, deserialize_with = "present")]
    #[schema(nullable = false)]
    pub tolerance: Option<Quantity>,
    /// Rows of the planter.
    #[schema(minimum = 1, maximum = 64, example = 16)]
    pub rows_of_planter: u32,
    /// The rows that were dug.
    #[schema(min_items = 1, max_items = 64)]
    pub rows: Vec<DugRow>,
}

/// Seed depths of one row.
#[derive(Debug, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({
    "row": 1, "depths": {"unit": "[in_i]", "values": [1.545, 1.44, 1.44, 1.52, 1.58]}
})))]
pub(super) struct DugRow {
    /// The row, counted from 1 at the left end.
    #[schema(minimum = 1, maximum = 64, example = 1)]
    pub row: u32,
    /// Depth of each seed, from the soil surface under the residue. Bound: `seed_depth`.
    pub depths: Quantities,
    /// Whether the row runs behind a tractor or planter tyre.
    #[serde(default)]
    #[schema(default = false)]
    pub behind_tyre: bool,
    /// Whether it is one of the outer rows of the bar.
    #[serde(default)]
    #[schema(default = false)]
    pub outer: bool,
}

/// What the depths say.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({"todo": "depth-statistics"})))]
pub(super) struct DepthSummary {
    /// Seeds that were measured.
    #[schema(example = 30)]
    pub seeds: u32,
    /// Mean of all seeds.
    pub mean: Quantity,
    /// Standard deviation of all seeds; absent with a single seed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
    /// How far from the wanted depth a seed may lie.
    pub tolerance: Quantity,
    /// Share of seeds within tolerance.
    pub within_tolerance: CountedShare,
    /// The mean with rows as units, over the rows that speak for the planter.
    pub planter: PlanterMean,
    /// Standard deviation between rows; absent when it can't be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd_between_rows: Option<Quantity>,
    /// Standard deviation from seed to seed within a row; absent when it can't be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd_within_rows: Option<Quantity>,
    /// Share of the variance that lies between rows, 0 to 1; absent when it can't be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0.418487)]
    pub intraclass: Option<f64>,
    /// Numbers of rows that do not speak for the planter, and were set aside.
    #[schema(max_items = 64, example = json!([]))]
    pub rows_set_aside: Vec<u16>,
    /// Whether the dig settles where the mean lies.
    #[schema(example = true)]
    pub settled: bool,
    /// The same in words.
    #[schema(example = "the mean lies within tolerance")]
    pub settled_words: String,
    /// Rows to dig besides those that were dug, where that is likely to settle it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = 0)]
    pub more_rows: Option<u16>,
    /// Row by row.
    #[schema(max_items = 64)]
    pub rows: Vec<RowSummary>,
    /// Coefficients that stood in for what was not given.
    #[schema(max_items = 100)]
    pub defaults: Vec<Coefficient>,
    /// The calculation.
    #[schema(max_items = 100)]
    pub trace: Vec<TraceStep>,
}

/// A counted share with its 95 % limits (Wilson).
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "share": {"value": 100, "unit": "%"}, "low": {"value": 77.1, "unit": "%"},
    "high": {"value": 100, "unit": "%"}, "counted": 30, "worth": 11.2
})))]
pub(super) struct CountedShare {
    /// The share that was seen.
    pub share: Quantity,
    /// Low limit.
    pub low: Quantity,
    /// High limit.
    pub high: Quantity,
    /// Seeds that were counted.
    #[schema(example = 30)]
    pub counted: u32,
    /// Independent seeds that they are worth: seeds of one row resemble each other.
    #[schema(example = 11.2)]
    pub worth: f64,
}

/// A mean with rows as units.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "mean": {"value": 1.5275, "unit": "[in_i]"}, "low": {"value": 1.478, "unit": "[in_i]"},
    "high": {"value": 1.577, "unit": "[in_i]"}, "rows": 6
})))]
pub(super) struct PlanterMean {
    /// Mean of the row means.
    pub mean: Quantity,
    /// Low limit of 95 %; absent with one row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub low: Option<Quantity>,
    /// High limit of 95 %; absent with one row.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub high: Option<Quantity>,
    /// Rows that it rests on.
    #[schema(example = 6)]
    pub rows: u32,
}

/// One row.
#[derive(Debug, Serialize, ToSchema)]
#[schema(examples(json!({
    "row": 1, "seeds": 5, "mean": {"value": 1.505, "unit": "[in_i]"},
    "sd": {"value": 0.0626, "unit": "[in_i]"}
})))]
pub(super) struct RowSummary {
    /// The row.
    #[schema(example = 1)]
    pub row: u16,
    /// Seeds that were measured in it.
    #[schema(example = 5)]
    pub seeds: u32,
    /// Their mean.
    pub mean: Quantity,
    /// Their standard deviation; absent with a single seed.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub sd: Option<Quantity>,
}

/// Statistics of seed depths.
///
/// Rows are the units, not seeds: ten seeds of one row say little about the other rows. The interval
/// of the mean is Student's t over row means; the spread is split into a part between rows and a
/// part within rows (one-way random model).
///
/// Worked example (Davies and Goldsmith 1972, Statistical Methods in Research and Production: six
/// batches of five, data read, answers computed; their grams stand here as thousandths of an inch):
/// mean 1.5275 in, standard deviations 0.0420 in between and 0.0495 in within rows, 42 % of the
/// variance between rows.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_depth_statistics", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = DepthStatisticsIn, description = "The depths."),
    responses((status = 200, description = "What they say.", body = DepthSummary), ComputeErrors),
)]
#[post("/what-if/depth-statistics")]
pub(super) async fn calculate(
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<DepthStatisticsIn>,
) -> Result<Answer<DepthSummary>, ApiError> {
    answer(body.into_inner().work_out(caller.units(query.0.units).into())).await
}

impl DepthStatisticsIn {
    fn work_out(self, system: System) -> Result<DepthSummary, ApiError> {
        let k = &Coefficients::STANDARD;
        let (wanted, rows) = self.parse()?;
        let dig = Observation::new(SettingsInUse::default(), rows, String::new(), wanted.rows)
            .map_err(|errors| errors.iter().map(bad).collect::<Vec<_>>())?;
        let found = dig::statistics(&dig, &wanted, k).depth.ok_or_else(nothing_measured)?;
        let defaults = match self.tolerance {
            Some(_) => vec![],
            None => vec![Coefficient::from(&k.depth_tolerance)],
        };
        Ok(summary(found, defaults, system))
    }

    fn parse(&self) -> Result<(Wanted, Vec<RowReading>), ApiError> {
        let k = &Coefficients::STANDARD;
        let mut refused = Refused::default();
        let depth = refused.take(self.depth_wanted.parse("/depth_wanted", &bounds::PLANTING_DEPTH));
        let given = self.tolerance.as_ref();
        let tolerance = optional(&mut refused, given, "/tolerance", &bounds::DEPTH_TOLERANCE);
        let why = "planters have up to 64 rows";
        let on_planter =
            refused.take(whole("/rows_of_planter", self.rows_of_planter, (1, 64), why));
        refused.take(entries("/rows", self.rows.len(), (1, 64), why));
        let mut seen = BTreeSet::new();
        let rows: Vec<RowReading> = self
            .rows
            .iter()
            .enumerate()
            .filter_map(|(index, row)| row.parse(index, &mut seen, &mut refused))
            .collect();
        let (Some(depth), Some(on_planter)) = (depth, on_planter) else {
            return Err(refused.into());
        };
        refused.finish()?;
        let wanted = Wanted {
            depth,
            tolerance: tolerance
                .unwrap_or_else(|| Length::from_si(k.depth_tolerance.value * 0.0254)),
            spacing: None,
            // Only spacings need it, and none are given here.
            row_width: Length::from_si(0.762),
            rows: u16::try_from(on_planter).unwrap_or(u16::MAX),
            crop: self.crop.into(),
        };
        Ok((wanted, rows))
    }
}

impl DugRow {
    fn parse(
        &self,
        index: usize,
        seen: &mut BTreeSet<u32>,
        refused: &mut Refused,
    ) -> Option<RowReading> {
        let at = |name: &str| format!("/rows/{index}/{name}");
        let why = "rows are counted from 1 at the left end";
        let row = refused.take(whole(&at("row"), self.row, (1, 64), why));
        if !seen.insert(self.row) {
            let detail = "This row was given before: put its depths together.";
            refused.add(BadMember::new(at("row"), detail).given(self.row));
        }
        let why = "a row is dug by measuring its seeds";
        let few = entries(&at("depths/values"), self.depths.values.len(), (1, 200), why);
        refused.take(few);
        let depths = refused.take_all(self.depths.parse(&at("depths"), &bounds::SEED_DEPTH));
        Some(RowReading {
            behind_tyre: self.behind_tyre,
            outer: self.outer,
            seed_depths: depths?,
            ..RowReading::of(u16::try_from(row?).ok()?)
        })
    }
}

fn bad(error: &ObservationError) -> BadMember {
    let pointer = match error {
        ObservationError::NotOnPlanter { index, .. } | ObservationError::Twice { index, .. } => {
            format!("/rows/{index}/row")
        }
        ObservationError::TooMany { index, .. } => format!("/rows/{index}/depths/values"),
        ObservationError::NoRows
        | ObservationError::NothingRead
        | ObservationError::Impossible { .. } => "/rows".to_owned(),
    };
    BadMember::new(pointer, format!("{error}."))
}

fn nothing_measured() -> ApiError {
    BadMember::new("/rows", "No depth was measured.").into()
}

fn summary(found: DepthStatistics, defaults: Vec<Coefficient>, system: System) -> DepthSummary {
    let trace = steps(&found);
    let length = |length| Quantity::show(&bounds::SEED_DEPTH, length, system);
    DepthSummary {
        seeds: found.seeds,
        mean: length(found.mean),
        sd: found.sd.map(length),
        tolerance: length(found.tolerance),
        within_tolerance: share(found.within, system),
        planter: PlanterMean {
            mean: length(found.planter.mean),
            low: found.planter.low.map(length),
            high: found.planter.high.map(length),
            rows: found.planter.rows,
        },
        sd_between_rows: found.spread.between.map(length),
        sd_within_rows: found.spread.within.map(length),
        intraclass: found.spread.intraclass.map(six_digits),
        rows_set_aside: found.set_aside.iter().map(|row| row.row).collect(),
        settled: found.settled.settled,
        settled_words: found.settled.words.into_owned(),
        more_rows: found.settled.more_rows,
        rows: found
            .rows
            .iter()
            .map(|row| RowSummary {
                row: row.row,
                seeds: row.seeds,
                mean: length(row.mean),
                sd: row.sd.map(length),
            })
            .collect(),
        defaults,
        trace,
    }
}

fn share(share: dig::Share, system: System) -> CountedShare {
    let percent = |x| Quantity::show(&bounds::SHARE, Ratio::from_si(x), system);
    CountedShare {
        share: percent(share.share),
        low: percent(share.low),
        high: percent(share.high),
        counted: share.of,
        worth: six_digits(share.worth),
    }
}
