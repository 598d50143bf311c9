//! Our objects in the form that a receiver reads.

mod adapt;
mod geojson;
mod package;
mod read;
mod rules;
mod task_data;

use std::collections::BTreeMap;
use std::io::{Cursor, Read};

use serde_json::{Value, json};
use tests::{Farmstead, User};

/// What stands in a zip.
fn unzipped(bytes: &[u8]) -> BTreeMap<String, String> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).expect("a zip");
    let mut files = BTreeMap::new();
    for at in 0..archive.len() {
        let mut file = archive.by_index(at).expect("a file");
        let mut text = String::new();
        file.read_to_string(&mut text).expect("text");
        files.insert(file.name().expect("a name").into_owned(), text);
    }
    files
}

fn quantity(value: f64, unit: &str) -> Value {
    json!({"value": value, "unit": unit})
}

/// 2 in, 5 mph, 32,000 seeds and 5 gal of starter an acre.
fn goals() -> Value {
    json!({
        "depth": quantity(2.0, "[in_i]"), "speed": quantity(5.0, "[mi_i]/h"),
        "instructions": ["Start on the west side, it dries first."],
        "seeding": {"kind": "rate", "seeds": quantity(32_000.0, "1/[acr_us]")},
        "in_furrow": {
            "rate": quantity(5.0, "[gal_us]/[acr_us]"), "contains": [],
            "product": {
                "kind": "starter", "nitrogen": quantity(10.0, "%"), "phosphate": quantity(34.0, "%"),
                "potash": quantity(0.0, "%"), "density": quantity(11.65, "[lb_av]/[gal_us]")
            }
        }
    })
}

/// A draft with these goals for the farmstead.
async fn draft(user: &User, stead: &Farmstead, goals: &Value) -> String {
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let mut seen = Farmstead::conditions_body();
    // Without a living cover starter may run.
    seen.as_object_mut().expect("members").remove("cover");
    user.create(&reports, &seen).await;
    user.create("/v1/recommendations", &stead.recommendation_body(goals)).await
}

async fn issue(user: &User, id: &str) {
    let path = format!("/v1/recommendations/{id}/issue");
    user.send("POST", &path, &[("if-match", "*")], None).await.assert_status(200);
}

/// A sheet with all goals, issued.
async fn sheet(user: &User, stead: &Farmstead) -> String {
    let id = draft(user, stead, &goals()).await;
    issue(user, &id).await;
    id
}

/// A sheet, and what came of it: planting, dig, stand count.
struct Story {
    stead: Farmstead,
    sheet: String,
    planting: String,
    dig: String,
    stand: String,
}

impl Story {
    async fn of(user: &User, grower: &str) -> Self {
        let stead = Farmstead::of_grower(user, grower).await;
        let sheet = sheet(user, &stead).await;
        let planting = user
            .create(
                &format!("/v1/fields/{}/plantings", stead.field),
                &json!({
                    "planter_id": stead.planter, "planted_on": "2027-03-25", "crop": "corn",
                    "recommendation_id": sheet, "seeds": quantity(34_000.0, "1/[acr_us]"),
                    "depth": quantity(2.0, "[in_i]"), "hours": 3.5
                }),
            )
            .await;
        let digs = format!("/v1/recommendations/{sheet}/dig-checks");
        let dig = user.create(&digs, &Farmstead::dig_body()).await;
        let stand = user
            .create(
                &format!("/v1/fields/{}/stand-counts", stead.field),
                &json!({
                    "planting_id": planting, "counted_on": "2027-04-18",
                    "count": {
                        "kind": "hoop", "diameter": quantity(30.0, "[in_i]"),
                        "counts": [{"place": 1, "plants": 4}, {"place": 2, "plants": 3}]
                    }
                }),
            )
            .await;
        Self { stead, sheet, planting, dig, stand }
    }
}
