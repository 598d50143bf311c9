//! The examples of the API document, made by the code that they are examples of.

use chrono::{TimeZone, Utc};
use domain::provenance::Coefficients;
use domain::quantity::{Length, Measured};
use domain::trial::{Design, Treatment, Trying, Way};
use domain::trial::{Order, Rows, lay_out};
use serde_json::{Value, json};
use uuid::Uuid;

use super::design::TrialDesign;
use super::dto::Trial;
use super::laid_out::TrialLayout;
use super::replications::replications;
use super::words::TrialStatus;

/// The design of the examples.
fn design() -> Option<TrialDesign> {
    serde_json::from_value(json!({
        "crop": "corn",
        "trying": "closing_wheel",
        "treatments": [{"name": "smooth wheels", "control": true}, {"name": "spiked wheels"}],
        "way": {"kind": "planter_rows", "rows_each": 2},
        "blocks": 5,
        "seed": 2027,
        "responses": [{"kind": "emergence", "unit": "%", "matters": 3, "spread": 2.5}]
    }))
    .ok()
}

fn treatment(name: &str, control: bool) -> Treatment {
    Treatment { name: name.to_owned(), control, rows: Vec::new() }
}

/// A trial.
pub(super) fn trial() -> Value {
    whole().and_then(|trial| serde_json::to_value(trial).ok()).unwrap_or_default()
}

fn whole() -> Option<Trial> {
    let laid = lay_out(
        &Design {
            trying: Trying::ClosingWheel,
            treatments: vec![treatment("smooth wheels", true), treatment("spiked wheels", false)],
            way: Way::PlanterRows { each: 2, moved: false },
            blocks: 5,
            border_rows: 0,
            strip_length: Length::from_si(0.0),
            harvest_rows: None,
            order: Order::Randomised { seed: 2027 },
            planter: Rows { count: 8, width: Length::from_si(0.762), behind_tyres: vec![3, 6] },
        },
        &Coefficients::STANDARD,
    )
    .ok()?;
    let design = design()?;
    let made = Utc.with_ymd_and_hms(2027, 4, 20, 12, 0, 0).single()?;
    let id = |last: u128| Uuid::from_u128(0x0196_4f1e_6a00_7000_8000_0000_0000_0000 + last);
    Some(Trial {
        id: id(0x51),
        field_id: id(0x11),
        planter_id: id(0x12),
        name: "Spiked wheels on two rows".to_owned(),
        status: TrialStatus::Draft,
        layout: TrialLayout::of(laid, &design),
        replications: replications(&design),
        design,
        version: 1,
        created_at: made,
        created_by: id(1),
        updated_at: made,
        started_at: None,
        closed_at: None,
    })
}
