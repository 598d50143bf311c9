//! A worked field on paper: what is advised, what was assumed, and every step of the calculation.

use domain::planter::Setting;
use domain::provenance::{Assumed, Mark, Step};
use domain::quantity::{Force, Measured, unit};
use domain::settings::{Fill, Reach, Recommendation};
use serde_json::Value;

use crate::Worked;

/// The parts of a recommendation that show a calculation, in the order to read them.
const PARTS: &[(&str, &str)] = &[
    ("depth", "Depth"),
    ("trace", "Down force"),
    ("wall", "Furrow wall"),
    ("closing", "Closing"),
    ("seeding", "Seeding"),
    ("in_furrow", "In the furrow"),
    ("cover", "Cover crop"),
    ("work", "Work"),
    ("power", "Power"),
];

pub(crate) fn print(field: &Worked, result: &Recommendation) {
    println!("{}\n{}\n\n{}\n", field.name, "=".repeat(field.name.len()), field.story);
    advised(result);
    println!("\nAssumed, because nobody measured it:");
    result.assumed.iter().for_each(assumed);
    let whole = serde_json::to_value(result).unwrap();
    for (member, title) in PARTS {
        let mut steps = Vec::new();
        collect(whole.get(member).unwrap_or(&Value::Null), &mut steps);
        if !steps.is_empty() {
            println!("\n{title}:");
        }
        steps.iter().zip(1..).for_each(|(step, number)| print_step(number, step));
    }
    println!();
}

fn advised(r: &Recommendation) {
    let f = &r.down_force;
    println!("Today: {:?}. Depth {} in.", r.today.choice, shown(r.depth_used, "[in_i]", 2));
    println!("Speed {} mph.", shown(r.speed.choice.start, "[mi_i]/h", 1));
    println!(
        "Down force {} lbf a row ({}), needed {} ({} to {}), chance in the window {:.0} %.",
        pounds(f.per_row),
        setting(&f.setting),
        pounds(f.need),
        pounds(f.need_low),
        pounds(f.need_high),
        100.0 * f.chance_in_window,
    );
    if let Reach::TooLittle { short_by, .. } = f.reach {
        println!("The planter lacks {} lbf a row.", pounds(short_by));
    }
    for state in &f.as_box_empties {
        let range = format!("{} to {}", pounds(state.load_low), pounds(state.load_high));
        println!("Gauge-wheel load, {}: {} lbf ({range}).", fill(state.fill), pounds(state.load));
    }
    for next in r.measure_next.iter().take(2) {
        println!("Measure next: {} (narrows by {:.0} %).", next.measure, 100.0 * next.narrows_by);
    }
}

const fn fill(fill: Fill) -> &'static str {
    match fill {
        Fill::Full => "hopper full",
        Fill::Half => "hopper half full",
        Fill::Empty => "hopper empty",
        Fill::Central => "seed on the frame",
    }
}

fn setting(setting: &Setting) -> String {
    match setting {
        Setting::WeightOnly => "nothing to set".to_owned(),
        Setting::Notch { label } => format!("notch {label}"),
        Setting::Pressure { pressure, from } => {
            format!("{} psi, from {from}", shown(*pressure, "[psi]", 0))
        }
        Setting::Lift { force } => format!("lift of {} lbf", pounds(*force)),
        Setting::Uncalibrated => "calibrate the bags to know the pressure".to_owned(),
    }
}

fn assumed(one: &Assumed) {
    println!("  - {}: {} [{}]", one.what, one.used, known(one.mark, &one.source));
}

/// How a figure is known: mark and source, once where they say the same.
fn known(mark: Mark, source: &str) -> String {
    if source.starts_with(mark.words()) {
        source.to_owned()
    } else {
        format!("{}; {source}", mark.words())
    }
}

fn print_step(number: u32, step: &Step) {
    println!("  {number}. {}: {}", step.step, step.formula);
    for input in &step.inputs {
        let value = format!("{} {}", digits(input.value), label(&input.unit));
        println!("       {} = {}", input.symbol, value.trim());
    }
    let range = step.low.zip(step.high);
    let range = range.map_or(String::new(), |(l, h)| format!(" ({} to {})", digits(l), digits(h)));
    let value = format!("{} {}", digits(step.value), label(&step.unit));
    println!("       = {}{range}  [{}]", value.trim(), known(step.mark, &step.source));
}

/// Every step below a value, in its order.
fn collect(value: &Value, into: &mut Vec<Step>) {
    match value {
        Value::Object(map) if map.contains_key("formula") && map.contains_key("inputs") => {
            into.push(serde_json::from_value(value.clone()).unwrap());
        }
        Value::Object(map) => map.values().for_each(|v| collect(v, into)),
        Value::Array(list) => list.iter().for_each(|v| collect(v, into)),
        _ => {}
    }
}

fn label(code: &str) -> &str {
    unit(code).map_or(code, |u| u.label)
}

/// Five significant digits, without the zeros that say nothing.
fn digits(value: f64) -> String {
    let rounded: f64 = format!("{value:.4e}").parse().unwrap();
    format!("{rounded}")
}

fn shown<Q: Measured>(quantity: Q, code: &str, decimals: usize) -> String {
    format!("{:.decimals$}", unit(code).unwrap().read(quantity))
}

fn pounds(force: Force) -> String {
    shown(force, "[lbf_av]", 0)
}
