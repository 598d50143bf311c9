//! The steps of the force balance, for a reader who follows them by hand.

use super::down_force::{DownForceAdvice, half_full};
use super::force_ranges::{ForceRange, NamedForce};
use super::need::{likely_balance, likely_coulter, likely_soil, likely_speed_loss};
use super::row::Row;
use super::taught_row::TaughtRow;
use super::window::window_step;
use crate::provenance::{Coefficients, Input, Mark, Step, Text, sources};
use crate::quantity::Measured;

struct Known {
    step: &'static str,
    formula: &'static str,
    mark: Mark,
    source: Text,
}

fn step(known: Known, inputs: Vec<Input>, value: f64, unit: &'static str) -> Step {
    Step {
        step: Text::Borrowed(known.step),
        formula: Text::Borrowed(known.formula),
        inputs,
        value: value + 0.0, // a negative zero becomes a plain one
        unit: Text::Borrowed(unit),
        low: None,
        high: None,
        source: known.source,
        mark: known.mark,
    }
}

/// All steps from the soil to the needed down force.
pub(super) fn force_steps(row: &Row, advice: &DownForceAdvice, k: &Coefficients) -> Vec<Step> {
    let mut steps = row.steps.clone();
    steps.extend(row.soil.steps.iter().cloned());
    let ranged = |step: Step, names: &[NamedForce]| with_range(step, &advice.forces, names);
    steps.push(residue_step(row, k));
    steps.extend(row.taught.as_ref().map(TaughtRow::step));
    steps.push(ranged(opener_step(row, k), &[NamedForce::Opener]));
    if row.coulter.is_some() {
        let names = [NamedForce::Coulter, NamedForce::FrameCoulter];
        steps.push(ranged(coulter_step(row, k), &names));
    }
    steps.push(ranged(arm_step(row, k), &[NamedForce::Arms]));
    if row.faster > 0.0 {
        steps.push(ranged(speed_step(row, k), &[NamedForce::SpeedLoss]));
    }
    steps.push(window_step(&advice.window, row.moisture, k));
    steps.push(ranged(need_step(row, advice), &NEED));
    steps.push(ranged(load_step(row, advice), &LOAD));
    steps
}

/// Quoted for a half-full hopper, or for seed on the frame.
const NEED: [NamedForce; 2] = [NamedForce::NeedHalf, NamedForce::NeedEmpty];
const LOAD: [NamedForce; 2] = [NamedForce::LoadHalf, NamedForce::LoadEmpty];

/// The step with the range of the first force that was worked out.
fn with_range(mut step: Step, forces: &[ForceRange], names: &[NamedForce]) -> Step {
    let found = names.iter().find_map(|name| forces.iter().find(|f| f.force == *name));
    if let Some(range) = found {
        step.low = Some(range.low.si());
        step.high = Some(range.high.si());
    }
    step
}

fn residue_step(row: &Row, k: &Coefficients) -> Step {
    let c = &k.residue_force;
    let known = Known {
        step: "residue factor",
        formula: "f_res = 1 + c_res x mat",
        mark: c.mark,
        source: c.source.clone(),
    };
    let inputs = vec![Input::new("c_res", c.value, "1"), Input::new("mat", row.mat.likely, "1")];
    let mut made = step(known, inputs, likely_soil(row).residue, "1");
    made.low = Some(1.0 + row.residue_rise.low * row.mat.low);
    made.high = Some(1.0 + row.residue_rise.high * row.mat.high);
    made
}

fn opener_step(row: &Row, k: &Coefficients) -> Step {
    let c = &k.opener_resistance;
    let soil = likely_soil(row);
    let known = Known {
        step: "opener",
        formula: match row.taught {
            None => "R_o = K_o (d / 50 mm)^n s_m f_res (D / 381 mm)",
            Some(_) => "R_o = K_o (d / 50 mm)^n s_m f_res (D / 381 mm) phi",
        },
        mark: c.mark,
        source: c.source.clone(),
    };
    let mut inputs = vec![
        Input::new("K_o", row.opener_coefficient.likely, "N"),
        Input::new("d", row.depth * 1e3, "mm"),
        Input::new("n", soil.exponent, "1"),
        Input::new("s_m", soil.state, "1"),
        Input::new("f_res", soil.residue, "1"),
        Input::new("D", row.disc * 1e3, "mm"),
    ];
    inputs.extend(phi(row));
    step(known, inputs, likely_balance(row, 0.0).opener.si(), "N")
}

fn coulter_step(row: &Row, k: &Coefficients) -> Step {
    let c = &k.coulter_resistance;
    let soil = likely_soil(row);
    let known = Known {
        step: if row.coulter_on_unit { "coulter" } else { "coulter, carried by the frame" },
        formula: match row.taught {
            None => "R_c = K_c (d_c / 50 mm)^n s_m f_res",
            Some(_) => "R_c = K_c (d_c / 50 mm)^n s_m f_res phi",
        },
        mark: c.mark,
        source: c.source.clone(),
    };
    let mut inputs = vec![
        Input::new("K_c", c.value, "N"),
        Input::new("d_c", row.coulter_depth.likely * 1e3, "mm"),
        Input::new("n", soil.exponent, "1"),
        Input::new("s_m", soil.state, "1"),
        Input::new("f_res", soil.residue, "1"),
    ];
    inputs.extend(phi(row));
    step(known, inputs, likely_coulter(row).si(), "N")
}

/// What digs multiply opener and coulter by, where there are any.
fn phi(row: &Row) -> Option<Input> {
    row.taught.as_ref().map(|taught| Input::new("phi", taught.scale, "1"))
}

fn arm_step(row: &Row, k: &Coefficients) -> Step {
    let known = Known {
        step: "parallel arms",
        formula: "F_arms = -H tan(theta)",
        mark: k.draft_with_coulter.mark,
        source: Text::Borrowed(sources::STATICS),
    };
    let angle = row.arm_slope.likely.atan().to_degrees();
    let inputs = vec![Input::new("H", row.draft.likely, "N"), Input::new("theta", angle, "deg")];
    step(known, inputs, -row.draft.likely * row.arm_slope.likely, "N")
}

fn speed_step(row: &Row, k: &Coefficients) -> Step {
    let c = &k.load_lost_to_speed;
    let known = Known {
        step: "load lost to speed",
        formula: "dG = b_v (v - v_0)",
        mark: c.mark,
        source: c.source.clone(),
    };
    let inputs = vec![Input::new("b_v", c.value, "N"), Input::new("v - v_0", row.faster, "km/h")];
    step(known, inputs, likely_speed_loss(row).si(), "N")
}

/// Whether the units carry seed.
fn on_row(row: &Row) -> bool {
    row.seed_full.likely > 0.0
}

fn need_step(row: &Row, advice: &DownForceAdvice) -> Step {
    let balance = likely_balance(row, half_full(row));
    let known = Known {
        step: if on_row(row) {
            "down force needed, hopper half full"
        } else {
            "down force needed, seed on the frame"
        },
        formula: "F = G + R_o + R_c + R_rc + R_cl + dG - F_arms - W_u - W_att - W_s",
        mark: Mark::Assumption,
        source: Text::Borrowed(sources::STATICS),
    };
    let inputs = vec![
        Input::new("G", advice.window.aim.si(), "N"),
        Input::new("R_o", balance.opener.si(), "N"),
        Input::new("R_c", balance.coulter.si(), "N"),
        Input::new("R_rc", balance.cleaner.si(), "N"),
        Input::new("R_cl", balance.closing.si(), "N"),
        Input::new("dG", likely_speed_loss(row).si(), "N"),
        Input::new("F_arms", balance.arms.si(), "N"),
        Input::new("W_u", balance.unit.si(), "N"),
        Input::new("W_att", balance.attachments.si(), "N"),
        Input::new("W_s", balance.seed.si(), "N"),
    ];
    step(known, inputs, advice.need.si(), "N")
}

fn load_step(row: &Row, advice: &DownForceAdvice) -> Step {
    let known = Known {
        step: if on_row(row) {
            "gauge-wheel load at this setting, hopper half full"
        } else {
            "gauge-wheel load at this setting, seed on the frame"
        },
        formula: "G = max( 0, F_set - F_needed + G_aim )",
        mark: Mark::Assumption,
        source: Text::Borrowed(sources::STATICS),
    };
    let half = half_full(row);
    let inputs = vec![
        Input::new("F_set", advice.per_row.si(), "N"),
        Input::new("F_needed", advice.need.si(), "N"),
        Input::new("G_aim", advice.window.aim.si(), "N"),
        Input::new("hopper", half, "1"),
    ];
    let load = advice.per_row.si() - advice.need.si() + advice.window.aim.si();
    step(known, inputs, load.max(0.0), "N")
}
