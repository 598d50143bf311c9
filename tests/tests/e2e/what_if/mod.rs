//! What-if calculations: the examples of the API document, units, and that nothing is stored.

use std::collections::BTreeSet;

use api::entities;
use sea_orm::{EntityTrait, PaginatorTrait};
use serde_json::{Value, json};
use tests::TestApp;

mod document;
mod in_furrow;
mod published;
mod refused;
mod sheet;
mod trials;
mod work;
mod worked;

use document::Document;

/// Every calculation of this version. A new one is added here, so that none can go missing.
const CALCULATIONS: &[&str] = &[
    "arm-angle",
    "calibration",
    "catch-test",
    "closing-wheels",
    "contact-loss",
    "cover-biomass",
    "cover-nitrogen",
    "cylinder-force",
    "degree-days",
    "depth-statistics",
    "dig-plan",
    "disc-wear",
    "draft",
    "field-capacity",
    "fitness",
    "frame-weight",
    "green-bridge",
    "in-furrow-flow",
    "planting-depth",
    "power",
    "price-of-speed",
    "relative-yield",
    "residue-cover",
    "residue-handling",
    "row-length",
    "row-spacing",
    "row-unit-forces",
    "salt-limit",
    "sample-size",
    "seed-order",
    "seed-placed-fertilizer",
    "seeding-rate",
    "settings",
    "soil-strength",
    "soil-temperature-under-cover",
    "soil-water-used",
    "spacing-quality",
    "split-plot-analysis",
    "stand-count",
    "termination-date",
    "texture",
    "texture-by-feel",
    "trial-analysis",
    "trial-power",
];

/// Those that take a conditions report or a make-up; their bounds are tried where reports and
/// planters are, and in `sheet`.
const ON_REPORTS: &[&str] =
    &["closing-wheels", "fitness", "planting-depth", "residue-handling", "settings"];

/// Bodies of the variants that the examples of the document do not show.
fn other_variants() -> Vec<(&'static str, Value)> {
    let mut variants = other_shapes();
    variants.extend(trials::scatters());
    variants
}

fn other_shapes() -> Vec<(&'static str, Value)> {
    let q = |value: f64, unit: &str| json!({"value": value, "unit": unit});
    let soil = json!({
        "clay": q(25.0, "%"), "organic_carbon": q(2.0, "%"), "bulk_density": q(1.3, "g/cm3")
    });
    let rows = q(30.0, "[in_i]");
    vec![
        ("contact-loss", json!({"kind": "load_for_share", "share": q(5.0, "%")})),
        (
            "cylinder-force",
            json!({"bore": q(1.5, "[in_i]"), "rod": q(0.75, "[in_i]"), "side": "rod",
                   "asked": {"kind": "pressure_for", "force": q(300.0, "[lbf_av]")}}),
        ),
        (
            "row-spacing",
            json!({"kind": "from_spacing", "spacing": q(2.4, "[in_i]"), "row_width": q(15.0, "[in_i]")}),
        ),
        ("stand-count", json!({"kind": "thousandth_acre", "plants": 31, "row_width": rows})),
        (
            "stand-count",
            json!({"kind": "row_length", "plants": 55, "row_length": q(50.0, "[ft_i]"), "row_width": rows}),
        ),
        ("stand-count", json!({"kind": "hoop", "plants": 18, "diameter": q(30.0, "[in_i]")})),
        (
            "field-capacity",
            json!({"width": {"kind": "across", "across": q(30.0, "[ft_i]")}, "speed": q(5.0, "[mi_i]/h")}),
        ),
        (
            "power",
            json!({"kind": "drawbar", "pull": q(5000.0, "[lbf_av]"), "speed": q(5.0, "[mi_i]/h")}),
        ),
        ("soil-strength", json!({"kind": "cone_reading", "resistance": q(150.0, "[psi]")})),
        (
            "soil-strength",
            json!({"kind": "water_at_resistance", "soil": soil, "resistance": q(2.0, "MPa")}),
        ),
        ("cover-biomass", json!({"kind": "height", "species": "cereal_rye"})),
        (
            "cover-nitrogen",
            json!({"species": "cereal_rye", "dry_matter": q(4400.0, "[lb_av]/[acr_us]"), "stage": "boot"}),
        ),
        (
            "termination-date",
            json!({"crop": "corn", "zone": "four", "planting_date": "2027-05-10",
                   "emergence": {"kind": "degree_days", "a_day": 12.0, "depth": q(2.0, "[in_i]")}}),
        ),
        (
            "catch-test",
            json!({"caught": {"unit": "mL", "values": [470, 480, 300]}, "width": rows,
                   "over": {"kind": "timed", "time": q(60.0, "s"), "speed": q(5.0, "[mi_i]/h")}}),
        ),
        (
            "draft",
            json!({"rows": 16, "draft": {"kind": "standard", "line": "no_till_coulter", "texture": "medium"},
                   "speed": q(5.0, "[mi_i]/h")}),
        ),
        (
            "price-of-speed",
            json!({"crop": "soybean", "planting_date": "2027-05-25", "speed": q(6.5, "[mi_i]/h"),
                   "width": {"kind": "across", "across": q(40.0, "[ft_i]")}, "load": q(190.0, "[lbf_av]"),
                   "work": {"area": q(300.0, "[acr_us]"), "expected_yield_bu_ac": 60}}),
        ),
        ("row-length", json!({"row_width": q(15.0, "[in_i]")})),
        (
            "seed-order",
            json!({"crop": "corn", "fields": [{"area": q(40.0, "[acr_us]"), "rate": q(34_000.0, "1/[acr_us]")}]}),
        ),
        (
            "dig-plan",
            json!({"rows_of_planter": 12, "seen": [{"rows": 4, "seeds": 20,
                   "sd_between_rows": q(0.1, "[in_i]"), "sd_within_rows": q(0.2, "[in_i]")}], "dug": [{"row": 4, "odd": true}]}),
        ),
        ("residue-cover", json!({"kind": "transect", "hits": 45, "marks": 100})),
        ("residue-cover", json!({"kind": "yield", "previous_crop": "corn"})),
    ]
}

fn path(calculation: &str) -> String {
    format!("/v1/what-if/{calculation}")
}

/// Every body that is known: the examples of the document, and the other variants.
fn bodies(document: &Document) -> Vec<(&'static str, Value)> {
    let examples =
        CALCULATIONS.iter().map(|name| (*name, document.body_example(&path(name)).clone()));
    examples.chain(other_variants()).collect()
}

#[tokio::test]
async fn each_example_of_the_document_is_what_the_service_answers() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    let named: BTreeSet<String> = CALCULATIONS.iter().map(|name| path(name)).collect();
    assert_eq!(document.paths_under("/v1/what-if/"), named);
    for name in CALCULATIONS {
        let path = path(name);
        let answer = app.read_only.post(&path, document.body_example(&path)).await;
        let live = answer.assert_status(200).json();
        let documented = document.answer_example(&path);
        document::assert_same(&path, &live, documented);
        let description = document.description(&path);
        assert!(description.contains("Worked example ("), "{path}: {description}");
    }
}

#[tokio::test]
async fn each_variant_is_answered_with_a_trace_that_can_be_followed() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    for (name, body) in bodies(&document) {
        let answer = app.grower.post(&path(name), &body).await.assert_status(200).json();
        let steps = answer["trace"].as_array().expect("a trace");
        assert!(!steps.is_empty() || name == "fitness", "{name}: {answer}");
        for step in steps {
            for member in ["step", "formula", "unit", "source", "mark", "mark_words"] {
                let text = step[member].as_str().unwrap_or_default();
                assert!(!text.is_empty(), "{name}: {member} of {step}");
            }
            assert!(step["value"].is_number() && step["inputs"].is_array(), "{name}: {step}");
        }
    }
}

#[tokio::test]
async fn answers_come_in_the_units_that_are_asked_for() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    let body = document.body_example(&path("field-capacity"));
    let us = app.advisor.post(&path("field-capacity"), body).await.assert_status(200).json();
    assert_eq!(us["effective"]["unit"], "[acr_us]/h");
    let asked = format!("{}?units=si", path("field-capacity"));
    let si = app.advisor.post(&asked, body).await.assert_status(200).json();
    assert_eq!(si["effective"]["unit"], "har/h");
    let (acres, hectares) = (&us["effective"]["value"], &si["effective"]["value"]);
    // 30 ft at 5 mph and 60 %: 9.144 m x 8.04672 km/h / 10 x 0.6.
    assert!((hectares.as_f64().expect("a number") - 4.414_7).abs() < 1e-3, "{si}");
    assert!((acres.as_f64().expect("a number") - 10.909).abs() < 1e-3, "{us}");
    // The trace shows the formula in the units that it was written in, whatever is asked for.
    assert_eq!(us["trace"], si["trace"]);

    let change = json!({"units": "si"});
    app.advisor.send("PATCH", "/v1/accounts/me", &[], Some(&change)).await.assert_status(200);
    let own = app.advisor.post(&path("field-capacity"), body).await.assert_status(200).json();
    assert_eq!(own, si);
    let wrong = format!("{}?units=metric", path("field-capacity"));
    let answer = app.advisor.post(&wrong, body).await;
    answer.assert_problem(422, "invalid_request").assert_member("?units");
}

#[tokio::test]
async fn a_calculation_needs_a_caller_and_stores_nothing() {
    let app = TestApp::start().await;
    let document = Document::of(&app).await;
    let before = rows(&app).await;
    for (name, body) in bodies(&document) {
        app.nobody.post(&path(name), &body).await.assert_problem(401, "unauthenticated");
        app.lead.post(&path(name), &body).await.assert_status(200);
    }
    assert_eq!(rows(&app).await, before);
}

/// Rows of every table.
async fn rows(app: &TestApp) -> Vec<u64> {
    let db = &app.state().db;
    let mut counts = Vec::new();
    macro_rules! count {
        ($($table:ident)*) => {$(
            counts.push(entities::$table::Entity::find().count(db).await.expect("a count"));
        )*};
    }
    count!(practices accounts signing_keys growers farms fields planters calibrations);
    count!(conditions_reports recommendations dig_checks adjustments);
    counts
}
