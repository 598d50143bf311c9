//! The steps of the balance of one row unit.

use domain::provenance::{Coefficients, Input, Mark, sources};
use domain::quantity::{Force, Measured};
use domain::settings::forces::{Balance, Soil};

use super::parse::Worked;
use crate::v1::trace::TraceStep;
use crate::v1::what_if::arm_angle::arm_force_step;
use crate::v1::what_if::contact_loss::share_step;
use crate::v1::what_if::step::Known;

const OPENER: Known = Known {
    step: "opener",
    formula: "R_o = K_o (d / 50 mm)^n s_m f_res (D / 381 mm)",
    source: sources::STATICS,
    mark: Mark::Derived,
};
const COULTER: Known = Known {
    step: "coulter on the unit",
    formula: "R_c = K_c (d_c / 50 mm)^n s_m f_res",
    source: sources::STATICS,
    mark: Mark::Derived,
};
const BALANCE: Known = Known {
    step: "balance",
    formula: "W_u + W_s + W_att + F_dp + F_arms - R_o - R_c - R_rc - R_cl",
    source: sources::STATICS,
    mark: Mark::Derived,
};
const LOAD: Known = Known::derived("gauge-wheel load", "max(0, balance)", sources::STATICS);
const NEEDED: Known = Known::derived(
    "down force for the load that is wanted",
    "G_wanted - (balance - F_dp)",
    sources::STATICS,
);

/// What is wanted of the load, how it scatters, and the share of the time without contact.
#[derive(Clone, Copy)]
pub(super) struct Load {
    pub wanted: Force,
    pub scatter: Force,
    pub loss: f64,
}

/// All steps, in order.
pub(super) fn steps(worked: &Worked, wish: Load, k: &Coefficients) -> Vec<TraceStep> {
    let Load { wanted, scatter, loss } = wish;
    let Worked { balance, soil, iron } = worked;
    let mut steps = vec![opener_step(worked, k)];
    if let Some(depth) = iron.coulter_depth {
        let mut inputs = vec![
            newtons("K_c", iron.coulter),
            Input::new("d_c", depth.si().max(0.0) * 1000.0, "mm"),
        ];
        inputs.extend(soil_inputs(*soil));
        steps.push(COULTER.gives_by(&k.coulter_resistance, inputs, balance.coulter.si(), "N"));
    }
    steps.push(arm_force_step(iron.draft, iron.angle.si().to_degrees(), balance.arms));
    steps.push(balance_step(balance));
    let load = balance.gauge_wheel_load();
    steps.push(LOAD.gives(vec![newtons("balance", balance.sum())], load.si(), "N"));
    if !balance.rides_out() {
        steps.push(share_step(load, scatter, loss));
    }
    let inputs = vec![
        newtons("G_wanted", wanted),
        newtons("balance", balance.sum()),
        newtons("F_dp", balance.down_force),
    ];
    steps.push(NEEDED.gives(inputs, balance.needed_down_force(wanted).si(), "N"));
    steps
}

fn opener_step(worked: &Worked, k: &Coefficients) -> TraceStep {
    let Worked { balance, soil, iron } = worked;
    let mut inputs = vec![
        newtons("K_o", iron.opener),
        Input::new("d", iron.depth.si() * 1000.0, "mm"),
        Input::new("D", iron.disc.si() * 1000.0, "mm"),
    ];
    inputs.extend(soil_inputs(*soil));
    OPENER.gives_by(&k.opener_resistance, inputs, balance.opener.si(), "N")
}

fn balance_step(balance: &Balance) -> TraceStep {
    let inputs = vec![
        newtons("W_u", balance.unit),
        newtons("W_s", balance.seed),
        newtons("W_att", balance.attachments),
        newtons("F_dp", balance.down_force),
        newtons("F_arms", balance.arms),
        newtons("R_o", balance.opener),
        newtons("R_c", balance.coulter),
        newtons("R_rc", balance.cleaner),
        newtons("R_cl", balance.closing),
    ];
    BALANCE.gives(inputs, balance.sum().si(), "N")
}

fn soil_inputs(soil: Soil) -> [Input; 3] {
    [
        Input::new("n", soil.exponent, "1"),
        Input::new("s_m", soil.state, "1"),
        Input::new("f_res", soil.residue, "1"),
    ]
}

fn newtons(symbol: &'static str, force: Force) -> Input {
    Input::new(symbol, force.si(), "N")
}
