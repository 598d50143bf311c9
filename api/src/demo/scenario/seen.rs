//! What was seen in a few fields beyond soil, cover and weather: laboratory figures, a clip, the end
//! of the cover. And one report in which two readings cannot both be true.

use chrono::{NaiveDate, TimeDelta};
use serde_json::{Value, json};

/// The members that a report of this field has on top, or instead.
pub(in crate::demo) fn also_seen(field: &str, planting: NaiveDate) -> Value {
    let ended = |days_before: i64| {
        planting.checked_sub_signed(TimeDelta::days(days_before)).unwrap_or(planting)
    };
    match field {
        "Home eighty" => json!({"termination_zone": "four", "cover_ended": ended(-3)}),
        "Lane forty" => json!({"termination_zone": "four", "cover_ended": ended(9)}),
        "Creek bottom" => json!({"termination_zone": "four", "cover_ended": ended(-2)}),
        "Creek bench" => json!({
            "cover": {
                "stage": "flowering", "nitrogen": {"value": 1.4, "unit": "%"},
                "clip": {"dry": {"value": 1.1, "unit": "[lb_av]"}, "area": {"value": 8, "unit": "[sft_i]"}},
            },
            "termination_zone": "four", "cover_ended": ended(-4), "residue_spread": "even",
        }),
        "Ridge foot" => json!({
            "sand": {"value": 12, "unit": "%"}, "clay": {"value": 32, "unit": "%"},
            "organic_carbon": {"value": 2.1, "unit": "%"},
            "bulk_density": {"value": 1.32, "unit": "g/cm3"},
            "water": {"value": 27, "unit": "%"},
            "strength_class": "good", "row_position": "beside_old_row",
        }),
        "West beans" => json!({
            "temperature_depth": {"value": 4, "unit": "[in_i]"},
            "termination_zone": "four", "cover_ended": ended(24),
        }),
        // Somebody squeezed the soil before lunch and wrote the report after supper.
        "Fennwick gully" => json!({"moisture": "dry", "ball": "deforms"}),
        _ => json!({}),
    }
}
