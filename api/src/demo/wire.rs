//! The scenario as the service takes it: JSON bodies, each number with its unit.

use chrono::{DateTime, NaiveDate, Utc};
use domain::conditions::{Crop, TextureGroup};
use serde_json::{Map, Value, json};

use super::client::Body;
use super::scenario::at;
use super::scenario::fields::FieldPlan;
use super::scenario::make_up::{Hopper, Oil, PlanterPlan, Section, Source};
use super::scenario::seen::also_seen;
use super::scenario::weather;
use super::truth::{Dig, DugRow, InUse};

pub(super) fn inches(value: f64) -> Value {
    json!({"value": value, "unit": "[in_i]"})
}

pub(super) fn pounds(value: f64) -> Value {
    json!({"value": value, "unit": "[lbf_av]"})
}

fn psi(value: f64) -> Value {
    json!({"value": value, "unit": "[psi]"})
}

fn fahrenheit(value: f64) -> Value {
    json!({"value": value, "unit": "[degF]"})
}

fn percent(value: f64) -> Value {
    json!({"value": value, "unit": "%"})
}

/// An object without the members that are `null` or empty: nobody knows them.
fn known(members: &Value) -> Value {
    let members = members.as_object().cloned().unwrap_or_default();
    let is_empty = |value: &Value| value.as_array().is_some_and(Vec::is_empty);
    let known = members.into_iter().filter(|(_, value)| !value.is_null() && !is_empty(value));
    Value::Object(known.collect::<Map<_, _>>())
}

/// What a planter is made of.
pub(super) fn makeup(plan: &PlanterPlan) -> Value {
    let (new, measured, limit) = plan.discs;
    let hopper = match plan.hopper {
        Hopper::Central => json!({"kind": "central"}),
        Hopper::OnUnit(bushels) => known(&json!({
            "kind": "per_row",
            "volume": bushels.map(|value| json!({"value": value, "unit": "[bu_us]"})),
        })),
    };
    let coulter = plan
        .coulter
        .map(|(mount, above)| known(&json!({"mount": mount, "above_opener": above.map(inches)})));
    let unit = known(&json!({
        "weight": plan.unit_weight.map(pounds),
        "attachments": plan.attachments.map(pounds),
        "hopper": hopper,
        "opener": known(&json!({
            "new_diameter": inches(new),
            "measured": measured.map(inches),
            "manual_limit": limit.map(inches),
        })),
        "coulter": coulter,
        "cleaner": plan.cleaner,
        "closing": plan.closing,
        "arms": plan.arm_angle.map(|value| json!({"angle": {"value": value, "unit": "deg"}})),
    }));
    known(&json!({
        "rows": plan.rows,
        "row_width": inches(plan.row_width),
        "unit": unit,
        "down_force": source(&plan.source),
        "frame": sections(plan),
        "depth_lever": plan.lever.map(|(first, step, notches)| json!({
            "first": inches(first), "step": inches(step), "notches": notches,
        })),
        "closing_owned": plan.closing_owned,
    }))
}

fn source(source: &Source) -> Value {
    match source {
        Source::WeightOnly => json!({"kind": "weight_only"}),
        Source::Springs(forces) => {
            let notch = |(place, force): (usize, &f64)| json!({"label": (place + 1).to_string(), "force": pounds(*force)});
            let notches: Vec<Value> = forces.iter().enumerate().map(notch).collect();
            json!({"kind": "spring", "notches": notches})
        }
        Source::Bags(_) => json!({"kind": "air_bag"}),
        Source::Oil(Oil { bore_rod: (bore, rod), side, lever_ratio, most, lift, points: _ }) => {
            known(&json!({
                "kind": "hydraulic",
                "cylinder": {
                    "bore": inches(*bore),
                    "rod": inches(*rod),
                    "side": side,
                    "lever_ratio": lever_ratio,
                    "most_pressure": psi(*most),
                },
                "lift": lift.map(pounds),
            }))
        }
    }
}

fn sections(plan: &PlanterPlan) -> Vec<Value> {
    let section = |section: &Section| {
        json!({
            "name": section.name,
            "rows": section.rows,
            "empty_weight": pounds(section.weight),
            "on_hitch": pounds(section.hitch),
            "wheels": section.wheels,
        })
    };
    plan.sections.iter().map(section).collect()
}

/// The calibration of a planter, where somebody made one.
pub(super) fn calibration(plan: &PlanterPlan, on: NaiveDate) -> Option<Value> {
    let points = match plan.source {
        Source::Bags(points) | Source::Oil(Oil { points, .. }) => points,
        Source::WeightOnly | Source::Springs(_) => &[],
    };
    let point = |(pressure, force): &(f64, f64)| json!({"pressure": psi(*pressure), "force": pounds(*force)});
    let points: Vec<Value> = points.iter().map(point).collect();
    (!points.is_empty()).then(
        || json!({"calibrated_on": on, "points": points, "notes": "Scale under the gauge wheels."}),
    )
}

/// What the advisor sees in a field on a day, for planting on another.
pub(super) fn conditions(field: &FieldPlan, on: NaiveDate, planting: NaiveDate) -> Value {
    let green = field.green();
    let moisture = weather::moisture(on, field.texture, green);
    let soil = weather::soil_temperature(on);
    let (previous, bushels) = field.previous;
    let cover = field.cover.map(|(species, state)| {
        json!({
            "species": species,
            "height": inches(weather::cover_height(on)),
            "ground_cover": percent(90.0),
            "state": state,
        })
    });
    let mut report = known(&json!({
        "observed_at": at(on, 8, 30),
        "crop": field.crop,
        "planting_date": planting,
        "texture": field.texture,
        "moisture": moisture,
        "ball": weather::ball(moisture, field.texture),
        "ribbon": (field.texture.group() == TextureGroup::Fine).then(|| inches(1.5)),
        "soil_temperature": fahrenheit(soil),
        "read_outside_cover": green,
        "soil_low": fahrenheit(soil - 1.0),
        "rain": inches(weather::rain_ahead(on)),
        "cover": cover,
        "previous_crop": previous,
        "previous_yield_bu_ac": bushels,
        "residue_feel": weather::residue_feel(on, green),
    }));
    put(&mut report, also_seen(field.name, planting));
    report
}

/// Puts members into an object, also into the objects in it.
fn put(into: &mut Value, members: Value) {
    match (into, members) {
        (Value::Object(into), Value::Object(members)) => {
            for (name, value) in members {
                put(into.entry(name).or_insert(Value::Null), value);
            }
        }
        (into, value) => *into = value,
    }
}

/// What the advisor wants of a field.
pub(super) fn goals(crop: Crop, mph: f64) -> Value {
    let seeding = match crop {
        Crop::Corn => {
            json!({"kind": "rate", "seeds": {"value": 33_000, "unit": "1/[acr_us]"}})
        }
        Crop::Soybean => json!({"kind": "stand", "germination": percent(92.0)}),
    };
    json!({"speed": {"value": mph, "unit": "[mi_i]/h"}, "seeding": seeding})
}

/// One row of a dig.
fn dug_row(row: &DugRow) -> Value {
    let DugRow {
        row,
        behind_tyre,
        outer,
        seed_depths,
        spacings,
        gauge_wheels,
        print,
        wall,
        bottom,
        seed_on_bottom,
        closed,
        residue_in_furrow,
        moist_at_seed,
        cleaner,
    } = row;
    known(&json!({
        "row": row,
        "behind_tyre": behind_tyre,
        "outer": outer,
        "seed_depths": {"unit": "[in_i]", "values": seed_depths},
        "spacings": {"unit": "[in_i]", "values": spacings},
        "gauge_wheels": gauge_wheels,
        "print": print,
        "wall": wall,
        "bottom": bottom,
        "seed_on_bottom": seed_on_bottom,
        "closed": closed,
        "residue_in_furrow": residue_in_furrow,
        "moist_at_seed": moist_at_seed,
        "cleaner": cleaner,
    }))
}

/// The rows of a dig.
pub(super) fn dug_rows(dig: &Dig) -> Vec<Value> {
    dig.rows.iter().map(dug_row).collect()
}

/// A dig as the grower sends it: the planter as its gauges and levers show it.
pub(super) fn dig_check(dug_at: DateTime<Utc>, sheet: &Body, set: &InUse, dig: &Dig) -> Value {
    let mut settings = json!({
        "lever_depth": {"value": (set.lever * 1e3).round(), "unit": "mm"},
        "speed": {"value": set.speed, "unit": "km/h"},
        "box_fill": percent((set.fill * 100.0).round()),
    });
    let on_planter = "/settings/down_force/set_on_planter";
    let (member, value) = match sheet.word(&format!("{on_planter}/kind")) {
        "pressure" => ("pressure", sheet.json.pointer(&format!("{on_planter}/pressure"))),
        "notch" => ("notch", sheet.json.pointer(&format!("{on_planter}/label"))),
        _ => ("down_force", sheet.json.pointer("/settings/down_force/per_row")),
    };
    if let (Some(members), Some(value)) = (settings.as_object_mut(), value) {
        members.insert(member.to_owned(), value.clone());
    }
    json!({"dug_at": dug_at, "settings": settings, "rows": dug_rows(dig)})
}
