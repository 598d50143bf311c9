//! An example for the API document, judged by the engine, so that it can't say what the engine
//! would not.

use chrono::{DateTime, Utc};
use domain::dig::{Context, judge};
use domain::provenance::Coefficients;
use domain::quantity::System;
use domain::settings::recommend;
use serde_json::{Value, json};
use uuid::Uuid;

use super::DigCheck;
use crate::entities::dig_checks;
use crate::v1::dig_checks::observation::DigCheckIn;
use crate::v1::recommendations::answer::example_inputs;
use crate::v1::recommendations::show::Show;

/// A dig check for the API document; empty if it could not be made, which a test would notice.
pub fn example() -> Value {
    made().and_then(|dig| serde_json::to_value(dig).ok()).unwrap_or_default()
}

fn made() -> Option<DigCheck> {
    let inputs = example_inputs()?;
    let sheet = recommend(&inputs, &Coefficients::STANDARD);
    let case = Context::of_sheet(&inputs, &sheet, &Coefficients::STANDARD);
    let given: DigCheckIn = serde_json::from_value(found()).ok()?;
    let dig = given.parse(given.dug_at, &inputs.planter).ok()?;
    let at: DateTime<Utc> = "2027-04-29T15:31:00Z".parse().ok()?;
    let row = dig_checks::Model {
        practice_id: Uuid::nil(),
        id: id(0x41),
        recommendation_id: id(0x31),
        dug_at: given.dug_at,
        observation: Value::Null,
        result: Value::Null,
        created_at: at,
        created_by: id(0x03),
        fingerprint: None,
        notices: None,
        depth_side: None,
        asks: None,
    };
    let judged = judge(&dig, &case);
    Some(DigCheck::shown(&row, given, judged, Some(id(0x51)), Show(System::Us)))
}

const fn id(last: u128) -> Uuid {
    Uuid::from_u128(0x0196_4f1e_6a00_7000_8000_0000_0000_0000 + last)
}

fn found() -> Value {
    let row = |row: u16, depths: [f64; 5]| {
        json!({
            "row": row, "seed_depths": {"unit": "[in_i]", "values": depths},
            "gauge_wheels": "spin_free", "wall": "crumbly", "bottom": "v", "seed_on_bottom": true
        })
    };
    json!({
        "dug_at": "2027-04-29T15:20:00Z",
        "place": "north end, 200 ft from the headland",
        "settings": {
            "pressure": {"value": 30, "unit": "[psi]"},
            "speed": {"value": 5, "unit": "[mi_i]/h"},
            "box_fill": {"value": 50, "unit": "%"}
        },
        "rows": [
            row(2, [1.5, 1.625, 1.5, 1.625, 1.5]),
            row(3, [1.5, 1.5, 1.625, 1.5, 1.625]),
            row(6, [1.625, 1.5, 1.5, 1.625, 1.5]),
            row(7, [1.5, 1.625, 1.625, 1.5, 1.5])
        ]
    })
}

#[cfg(test)]
mod tests {
    use super::example;

    #[test]
    fn the_example_is_there_and_asks_for_a_change() {
        let example = example();
        assert_eq!(example["findings"][0]["cause"], "too_little_force", "{example:#}");
        assert_eq!(example["proposal"]["change"]["kind"], "down_force");
    }
}
