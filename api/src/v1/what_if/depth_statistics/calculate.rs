//! `POST /v1/what-if/depth-statistics`

use actix_web::post;
use actix_web::web::Data;
use domain::dig::{self, DepthStatistics, Observation, SettingsInUse};
use domain::provenance::Coefficients;
use domain::quantity::{Measured, Ratio, System, bounds};

use super::dto::{DepthStatisticsIn, DepthSummary};
use super::parse::{bad, nothing_measured};
use super::parts::{CountedShare, PlanterMean, RowSummary};
use super::steps::steps;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::{Quantity, six_digits};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::units::UnitsQuery;

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
pub(in crate::v1::what_if) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<DepthStatisticsIn>,
) -> Result<Answer<DepthSummary>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl DepthStatisticsIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<DepthSummary, ApiError> {
        let (wanted, rows) = self.parse(k)?;
        let dig = Observation::new(SettingsInUse::default(), rows, String::new(), wanted.rows)
            .map_err(|errors| errors.iter().map(bad).collect::<Vec<_>>())?;
        let found = dig::statistics(&dig, &wanted, k).depth.ok_or_else(nothing_measured)?;
        let defaults = match self.tolerance {
            Some(_) => vec![],
            None => vec![Coefficient::from(&k.depth_tolerance)],
        };
        Ok(summary(found, defaults, system))
    }
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
