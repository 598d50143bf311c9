//! The export without names: nothing in it leads to anybody.

use serde_json::{Value, json};
use tests::TestApp;

use super::{season, table, unzipped};

const PATH: &str = "/v1/seasons/2027/programme-export";

/// Every text and every number of a JSON value that could lead to somebody.
fn telling(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(members) => {
            for (name, member) in members {
                match member {
                    Value::String(text)
                        if name == "id"
                            || name.ends_with("_id")
                            || name == "name"
                            || name == "email"
                            || name == "phone"
                            || name == "notes" =>
                    {
                        found.push(text.clone());
                        found.push(text.replace('-', ""));
                    }
                    Value::Array(_) if name == "coordinates" => coordinates(member, found),
                    other => telling(other, found),
                }
            }
        }
        Value::Array(items) => items.iter().for_each(|item| telling(item, found)),
        _ => {}
    }
}

fn coordinates(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Array(items) => items.iter().for_each(|item| coordinates(item, found)),
        number => found.push(number.to_string()),
    }
}

#[tokio::test]
async fn nothing_in_it_names_or_finds_anybody() {
    let app = TestApp::start().await;
    let all = season(&app, 6).await;
    for (at, stead) in all.iter().enumerate() {
        let grower = json!({"phone": format!("555-01{at:02}"), "email": format!("m{at}@example.org"), "notes": "owes us lunch"});
        let path = format!("/v1/growers/{}", stead.grower);
        app.lead.send("PATCH", &path, &[("if-match", "*")], Some(&grower)).await.assert_status(200);
    }
    let answer = app.lead.get(PATH).await.assert_status(200);
    let files = unzipped(&answer.bytes);
    let whole: String = files.values().map(|text| text.to_lowercase()).collect();
    let mut found = Vec::new();
    for path in [
        "/v1/growers?limit=100",
        "/v1/farms?limit=100",
        "/v1/fields?limit=100",
        "/v1/planters?limit=100",
        "/v1/recommendations?limit=100",
        "/v1/accounts?limit=100",
        "/v1/practice",
    ] {
        telling(&app.lead.get(path).await.assert_status(200).json(), &mut found);
    }
    for stead in &all {
        for id in [&stead.dig_check, &stead.adjustment, &stead.conditions] {
            found.push(id.clone());
        }
    }
    found.sort();
    found.dedup();
    assert!(found.len() > 60 && found.iter().any(|it| it == "-93.62"), "{found:?}");
    for text in found.iter().filter(|text| text.len() > 3) {
        assert!(!whole.contains(&text.to_lowercase()), "{text} is in the export");
    }
    // What it is for is there, and holds together.
    let (growers, digs) = (table(&files["growers.csv"]), table(&files["digs.csv"]));
    assert_eq!((growers.len(), digs.len()), (7, 6), "the grower of the practice has no dig");
    let sheets = table(&files["sheets.csv"]);
    for dig in &digs {
        assert_eq!(dig["dug_week"], "2027-04-19", "a Monday");
        assert_eq!(
            (dig["soil"].as_str(), dig["cover"].as_str()),
            ("medium", "living"),
            "six growers share them"
        );
        assert!(sheets.iter().any(|sheet| sheet["sheet_id"] == dig["sheet_id"]), "{dig:?}");
    }
    let package: Value = serde_json::from_str(&files["datapackage.json"]).expect("JSON");
    assert!(package["title"].as_str().is_some_and(|title| title == "Season 2027 without names"));
    assert!(files["README.txt"].contains("fewer than five growers"));
    // The next export has other codes.
    let again = unzipped(&app.lead.get(PATH).await.assert_status(200).bytes);
    let codes = |files: &std::collections::BTreeMap<String, String>| files["growers.csv"].clone();
    assert_ne!(codes(&files), codes(&again));
}

#[tokio::test]
async fn what_few_growers_share_is_left_empty() {
    let app = TestApp::start().await;
    let all = season(&app, 6).await;
    let [odd, ..] = all.as_slice() else { panic!("six") };
    let path = format!("/v1/fields/{}", odd.field);
    let clay = json!({"texture_class": "clay", "entered_area": {"value": 900, "unit": "[acr_us]"}});
    app.lead.send("PATCH", &path, &[("if-match", "*")], Some(&clay)).await.assert_status(200);
    let files = unzipped(&app.lead.get(PATH).await.assert_status(200).bytes);
    assert!(!files["fields.csv"].contains("clay"), "one grower has clay");
    let textures: Vec<String> = table(&files["fields.csv"])
        .into_iter()
        .map(|mut row| row.remove("texture_usda").expect("a column"))
        .collect();
    assert_eq!(textures.iter().filter(|it| it.as_str() == "silt_loam").count(), 5);
    assert_eq!(textures.iter().filter(|it| it.is_empty()).count(), 1);
}

#[tokio::test]
async fn a_season_of_few_growers_has_none_and_only_the_lead_may_ask() {
    let app = TestApp::start().await;
    season(&app, 4).await;
    app.lead.get(PATH).await.assert_problem(409, "wrong_state");
    app.advisor.get(PATH).await.assert_problem(403, "forbidden");
    app.grower.get(PATH).await.assert_problem(403, "forbidden");
    app.read_only.get(PATH).await.assert_problem(403, "forbidden");
}
