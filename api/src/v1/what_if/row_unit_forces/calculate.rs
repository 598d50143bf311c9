//! `POST /v1/what-if/row-unit-forces`

use actix_web::post;
use actix_web::web::Data;
use domain::provenance::Coefficients;
use domain::quantity::{Measured, Ratio, System, bounds};
use domain::settings::forces::{self, Balance};

use super::dto::{RowUnitForces, RowUnitForcesIn};
use super::parse::Case;
use super::parts::RowUnitParts;
use super::steps::{Load, steps};
use crate::app::AppState;
use crate::auth::{Caller, CanRead};
use crate::http::quantity::Quantity;
use crate::http::responses::ComputeErrors;
use crate::http::{Answer, ApiError, Body, Query};
use crate::v1::coefficients::dto::Coefficient;
use crate::v1::coefficients::figures_in_force;
use crate::v1::recommendations::show::Show;
use crate::v1::units::UnitsQuery;

/// Forces on a row unit.
///
/// The vertical balance: `G = W_u + W_s + W_att + F_dp - H tan(theta) - R_o - R_c - R_rc - R_cl`.
/// A balance of nothing or less means that the unit rides out, not that it runs light. No more down
/// force than needed: the answer gives the force for the load that is wanted. The opener and coulter
/// coefficients are assumptions with wide ranges until digs correct them; the answer lists each that
/// was used.
///
/// Worked example (statics; the loads are the model's defaults, no published case): at 50 mm in
/// moist bare soil, opener 500 N and coulter 792 N, a load of 783 N needs 757 N (170 lbf) of down
/// force.
#[utoipa::path(
    tag = "what-if", operation_id = "what_if_row_unit_forces", security(("bearer" = ["read"])),
    params(UnitsQuery),
    request_body(content = RowUnitForcesIn, description = "The row unit."),
    responses((status = 200, description = "The balance.", body = RowUnitForces), ComputeErrors),
)]
#[post("/what-if/row-unit-forces")]
pub(in crate::v1::what_if) async fn calculate(
    app: Data<AppState>,
    caller: Caller<CanRead>,
    query: Query<UnitsQuery>,
    body: Body<RowUnitForcesIn>,
) -> Result<Answer<RowUnitForces>, ApiError> {
    let k = figures_in_force(&app.db, caller.scope()).await?;
    body.into_inner().work_out(caller.units(query.0.units).into(), &k).map(Answer::ok)
}

impl RowUnitForcesIn {
    fn work_out(self, system: System, k: &Coefficients) -> Result<RowUnitForces, ApiError> {
        let Case { worked, scatter, load_wanted, mut defaults } = self.parse(k)?;
        let aim = &k.contact_loss_aimed;
        let wanted = load_wanted.unwrap_or_else(|| {
            defaults.push(Coefficient::from(aim));
            forces::load_for_loss(aim.value, scatter.force)
        });
        let balance = worked.balance;
        let load = balance.gauge_wheel_load();
        // A unit that rides out has no load whose scatter could be told: its wheels carry nothing.
        let loss =
            if balance.rides_out() { 1.0 } else { forces::contact_loss(load, scatter.force) };
        let needed = balance.needed_down_force(wanted);
        let ranges = self.ranges(&worked, wanted, Show(system), k);
        let trace = steps(&worked, Load { wanted, scatter: scatter.force, loss }, k);
        defaults.extend(scatter.default);
        let force = |force| Quantity::show(&bounds::ROW_FORCE, force, system);
        Ok(RowUnitForces {
            parts: parts(&balance, system),
            balance: force(balance.sum()),
            gauge_wheel_load: force(load),
            rides_out: balance.rides_out(),
            contact_loss: Quantity::show(&bounds::SHARE, Ratio::from_si(loss), system),
            load_wanted: force(wanted),
            down_force_needed: force(needed),
            ranges,
            defaults,
            trace,
        })
    }
}

fn parts(balance: &Balance, system: System) -> RowUnitParts {
    let force = |force| Quantity::show(&bounds::ROW_FORCE, force, system);
    RowUnitParts {
        unit_weight: force(balance.unit),
        seed_weight: force(balance.seed),
        attachment_weight: force(balance.attachments),
        down_force: force(balance.down_force),
        arm_force: force(balance.arms),
        opener: force(balance.opener),
        coulter: force(balance.coulter),
        cleaner_lift: force(balance.cleaner),
        closing_lift: force(balance.closing),
    }
}
