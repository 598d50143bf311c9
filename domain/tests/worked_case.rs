//! One case followed by hand, and its range against simulation.
//!
//! The hand figures rest on coefficients that are assumptions: they check that the engine does
//! what its trace says (self-consistency), not that the field agrees.

#![expect(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::many_single_char_names,
    reason = "a test prints what it compared, fails loudly, and counts below 2^53"
)]

mod cases;

use cases::{q, worked_case};
use domain::planter::Setting;
use domain::provenance::{Coefficient, Coefficients};
use domain::quantity::{Force, Measured, Pressure, unit};
use domain::settings::{Fill, Recommendation, recommend};

const K: Coefficients = Coefficients::STANDARD;

fn worked() -> Recommendation {
    recommend(&worked_case(), &K)
}

fn lbf(force: Force) -> f64 {
    unit("[lbf_av]").unwrap().read(force)
}

fn close(got: f64, by_hand: f64, within: f64, what: &str) {
    println!("{what}: by hand {by_hand}, engine {got:.2}");
    assert!((got - by_hand).abs() <= within, "{what}: {got} is not {by_hand} within {within}");
}

#[test]
fn the_sum_can_be_followed_by_hand() {
    let r = worked();
    let step = |name: &str| r.trace.find(name).unwrap_or_else(|| panic!("no step {name}")).value;
    // 500 x 50.8/50 x 1.116 and 900 x 42.8/50 x 1.116.
    close(step("residue factor"), 1.116, 0.004, "residue factor");
    close(step("opener"), 567.0, 3.0, "opener");
    close(step("coulter"), 860.0, 4.0, "coulter");
    // 1.645 x 476, under the moist ceiling of 890 N.
    close(step("gauge-wheel load to aim at"), 783.0, 1.0, "load");
    // 783 + 567 + 860 + 110 - 778 - 350 - 199.
    close(step("down force needed, hopper half full"), 992.0, 6.0, "need");
    close(lbf(r.down_force.need), 223.0, 1.5, "need in lbf");
}

#[test]
fn the_need_is_thirty_psi_on_these_bags() {
    let case = worked_case();
    let need = worked().down_force.need;
    let Setting::Pressure { pressure, .. } = case.planter.down_force.setting_for(need) else {
        panic!("bags are set by pressure");
    };
    close(unit("[psi]").unwrap().read(pressure), 30.4, 0.3, "pressure");
    let fifteen: Pressure = q(15.0, "[psi]");
    let domain::planter::DownForce::AirBag { calibration: Some(c) } = case.planter.down_force
    else {
        panic!("calibrated bags");
    };
    close(lbf(c.force_at(fifteen)), 120.0, 1e-6, "first calibration point");
}

#[test]
fn full_to_empty_swings_the_load_by_the_weight_of_the_seed() {
    let states = worked().down_force.as_box_empties;
    let load = |fill: Fill| states.iter().find(|s| s.fill == fill).unwrap().load.si();
    // 1.6 bu x 56 lbf = 399 N.
    close(load(Fill::Full) - load(Fill::Empty), 398.6, 0.5, "swing");
}

#[test]
fn the_setting_is_chosen_by_its_chance_and_not_by_the_defaults() {
    let r = worked().down_force;
    assert!(r.need_low < r.need && r.need < r.need_high);
    println!(
        "set {:.0} lbf, need {:.0} lbf, 5 to 95 % {:.0} to {:.0} lbf, chance {:.2}",
        lbf(r.per_row),
        lbf(r.need),
        lbf(r.need_low),
        lbf(r.need_high),
        r.chance_in_window
    );
    assert!(r.chance_in_window > 0.2 && r.chance_in_window < 0.9);
}

/// A small generator of its own, so that the check does not share code with the engine.
struct Draw(u64);

impl Draw {
    fn uniform(&mut self) -> f64 {
        // Marsaglia 2003, xorshift.
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn triangular(&mut self, k: &Coefficient) -> f64 {
        let (a, c, b) = (k.low, k.value, k.high);
        let p = self.uniform();
        let peak = if b > a { (c - a) / (b - a) } else { 0.0 };
        if p < peak {
            a + (p * (b - a) * (c - a)).sqrt()
        } else {
            b - ((1.0 - p) * (b - a) * (b - c)).sqrt()
        }
    }
}

/// By ratios: half of the cases on either side of the likely figure, on a scale of logarithms.
fn by_ratio(p: f64, k: &Coefficient) -> f64 {
    let (end, share) = if p < 0.5 { (k.low, 2.0 * p) } else { (k.high, 2.0 - 2.0 * p) };
    k.value * ((end / k.value).ln() * (1.0 - share.sqrt())).exp()
}

#[test]
fn the_range_agrees_with_simulation() {
    let mut case = worked_case();
    // No cover and bare ground, so that the mat is known to be 0 and the simulation stays short.
    case.field.cover = None;
    case.field.previous_crop = None;
    case.field.previous_yield_bu_ac = None;
    case.field.residue_cover = Some(q(0.0, "%"));
    let engine = recommend(&case, &K).down_force;
    let mut draw = Draw(0x2026_0403);
    let drawn: Vec<(f64, (f64, f64, f64))> = (0..200_000)
        .map(|_| {
            let n = draw.triangular(&K.depth_exponent);
            let soil = by_ratio(draw.uniform(), &K.soil_moist);
            // One soil for both: what is hard for the opener is hard for the coulter.
            let hard = draw.uniform();
            let opener = by_ratio(hard, &K.opener_resistance) * (50.8_f64 / 50.0).powf(n);
            let coulter = by_ratio(hard, &K.coulter_resistance) * (42.8_f64 / 50.0).powf(n);
            let lift = soil * (opener + coulter)
                + draw.triangular(&K.closing_lift)
                + draw.triangular(&K.cleaner_floating);
            let held = draw.triangular(&K.unit_weight)
                + draw.triangular(&K.attachment_weight)
                + 0.8 * 4.448_221_6 * draw.triangular(&K.seed_density_corn);
            let scatter = draw.triangular(&K.load_scatter);
            let least = draw.triangular(&K.least_load);
            let top = draw.triangular(&K.ceiling_moist);
            // z of 5 % and of 10 %, from a table of the normal distribution.
            let aim = (1.644_85 * scatter).max(least).min(top);
            let world = (lift - held, (1.281_55 * scatter).max(least), top);
            (aim + lift - held, world)
        })
        .collect();
    let mut needs: Vec<f64> = drawn.iter().map(|(need, _)| *need).collect();
    needs.sort_by(f64::total_cmp);
    let at = |p: f64| needs[(p * 200_000.0) as usize];
    let width = at(0.95) - at(0.05);
    for (name, got, p) in
        [("5 %", engine.need_low.si(), 0.05), ("95 %", engine.need_high.si(), 0.95)]
    {
        close(got, at(p), 0.03 * width, name);
    }
    // The chance of the chosen setting over the hopper as it empties; edges and load are drawn
    // together.
    let inside = |seed: f64| {
        let right = |(_, (lift, low, top)): &&(f64, (f64, f64, f64))| {
            let load = engine.per_row.si() + seed - *lift;
            load >= *low && load <= *top
        };
        drawn.iter().filter(right).count() as f64 / 200_000.0
    };
    let swing = 1.6 * 56.0 * 4.448_221_6;
    let simulated =
        inside(swing / 2.0) / 6.0 + inside(0.0) * 4.0 / 6.0 + inside(-swing / 2.0) / 6.0;
    close(engine.chance_in_window, simulated, 0.02, "chance in the window");
}
