//! The worked example: corn in a dry year.

use chrono::{DateTime, Utc};
use domain::provenance::Coefficients;
use domain::quantity::System;
use serde_json::{Value, json};

use super::calculate::work_out;
use super::dto::SettingsIn;

/// What goes in.
pub(super) fn body() -> Value {
    json!({
        "makeup": {
            "rows": 8,
            "row_width": {"value": 30, "unit": "[in_i]"},
            "unit": {
                "weight": {"value": 175, "unit": "[lbf_av]"},
                "hopper": {"kind": "per_row", "volume": {"value": 1.6, "unit": "[bu_us]"}},
                "opener": {
                    "new_diameter": {"value": 15, "unit": "[in_i]"},
                    "measured": {"value": 14.75, "unit": "[in_i]"}
                },
                "cleaner": "floating",
                "closing": "rubber",
                "arms": {"angle": {"value": 0, "unit": "deg"}}
            },
            "down_force": {"kind": "air_bag"},
            "depth_lever": {
                "first": {"value": 1, "unit": "[in_i]"},
                "step": {"value": 0.25, "unit": "[in_i]"},
                "notches": 12
            },
            "closing_owned": ["cast_iron"]
        },
        "calibration": [
            {"pressure": {"value": 15, "unit": "[psi]"}, "force": {"value": 120, "unit": "[lbf_av]"}},
            {"pressure": {"value": 60, "unit": "[psi]"}, "force": {"value": 420, "unit": "[lbf_av]"}}
        ],
        "conditions": {
            "observed_at": "2026-05-04T11:30:00Z",
            "crop": "corn",
            "planting_date": "2026-05-04",
            "texture": "silt_loam",
            "moisture": "dry",
            "ball": "crumbles",
            "soil_temperature": {"value": 60, "unit": "[degF]"},
            "previous_crop": "soybean",
            "residue_cover": {"value": 20, "unit": "%"},
            "residue_feel": "crisp",
            "row_position": "on_old_row"
        },
        "goals": {
            "speed": {"value": 5, "unit": "[mi_i]/h"},
            "seeding": {"kind": "rate", "seeds": {"value": 32000, "unit": "1/[acr_us]"}}
        }
    })
}

/// What comes out, worked out by the engine.
pub(in crate::v1) fn answer() -> Value {
    let given = serde_json::from_value::<SettingsIn>(body());
    // The report may be as old as it says; it is held against its own time.
    let told = given.ok().and_then(|given| {
        let now: DateTime<Utc> = given.conditions.observed_at;
        work_out(&given, now, System::Us, &Coefficients::STANDARD).ok()
    });
    serde_json::to_value(told).unwrap_or_default()
}
