//! `POST /v1/what-if/dig-plan`

use actix_web::post;
use actix_web::web::Data;
use domain::dig::{Ask, Bar, Spreads, plan};
use domain::provenance::Coefficients;

use super::dto::DigPlanIn;
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::coefficients::figures_in_force;
use crate::v1::dig_plan::DigPlanOut;
use crate::v1::recommendations::show::Show;
use crate::v1::units::UnitsQuery;

/// Plan of a dig.
///
/// Two stages: rows, then seeds. The mean of k rows with n seeds each varies by `s_between^2 / k +
/// s_within^2 / (k n)`; seeds on a row follow from what a walk to another row costs, rows from how
/// well the mean should be known. What digs showed of the spread is pooled with what is usual.
///
/// Worked example (variance of a mean of rows and seeds, limits by Student's t, IUPAC Gold Book
/// C01247; the usual spreads are assumptions): with standard deviations of 0.0625 in between rows
/// and 0.25 in within, five rows of five seeds know the mean to within `2.776 sqrt(0.0625^2 +
/// 0.25^2 / 5) / sqrt(5)` = 0.16 in, and four rows only to within 0.20 in.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_dig_plan", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = DigPlanIn, description = "The planter and earlier digs."),
    responses((status = 200, description = "What to dig.", body = DigPlanOut), ComputeErrors),
)]
#[post("/what-if/dig-plan")]
pub(in crate::v1::what_if) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<DigPlanIn>,
) -> Result<Answer<DigPlanOut>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    let show = Show(caller.units(query.0.units).into());
    body.into_inner().work_out(show, &k).map(Answer::ok)
}

impl DigPlanIn {
    fn work_out(self, show: Show, k: &Coefficients) -> Result<DigPlanOut, ApiError> {
        let asked = self.parse(k)?;
        let ask = Ask {
            bar: Bar {
                rows: asked.rows,
                tyre_rows: &asked.tyre_rows,
                sections: &[],
                cleaners: true,
            },
            tolerance: asked.tolerance,
            spreads: Spreads::pooled(&asked.seen, k),
            confidence: asked.confidence,
            dug: &asked.dug,
        };
        Ok(DigPlanOut::of(plan(&ask, k), show))
    }
}
