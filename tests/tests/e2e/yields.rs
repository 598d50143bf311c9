//! What was harvested: reported, read, corrected, taken back.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn wet() -> Value {
    json!({
        "harvested_on": "2026-10-12", "crop": "corn",
        "grain": {"value": 11200.0, "unit": "[lb_av]/[acr_us]"},
        "basis": "at_moisture", "moisture": {"value": 20.0, "unit": "%"},
        "area": {"value": 38.5, "unit": "[acr_us]"}, "note": "The east end was flooded."
    })
}

async fn field(app: &TestApp) -> (Farmstead, String) {
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let path = format!("/v1/fields/{}/yields", stead.field);
    (stead, path)
}

#[tokio::test]
async fn what_is_entered_stays_and_the_dry_matter_follows() {
    let app = TestApp::start().await;
    let (stead, path) = field(&app).await;
    let made = app.grower.post(&path, &wet()).await.assert_status(201);
    let at = format!("/v1/yields/{}", made.id());
    assert_eq!(made.header("location"), at);
    let body = made.json();
    for member in ["harvested_on", "crop", "grain", "basis", "moisture", "area", "note"] {
        assert_eq!(body[member], wet()[member], "{member}");
    }
    assert_eq!(body["field_id"], stead.field);
    // 11,200 lb/ac with 20 % of water: 8960 lb/ac, times 1.1208512 = 10,042.8 kg/ha.
    assert_eq!(body["dry"], json!({"value": 8960.0, "unit": "[lb_av]/[acr_us]"}));
    let si = app.lead.get(&format!("{at}?units=si")).await.assert_status(200).json();
    assert_eq!(si["dry"]["unit"], "t/har");
    let tonnes = si["dry"]["value"].as_f64().expect("a number");
    assert!((tonnes / 10.042_8 - 1.0).abs() < 1e-4, "{tonnes}");
    assert_eq!(si["grain"], wet()["grain"], "as entered");
    assert_eq!(app.grower.get(&at).await.json(), body);
    let again = app.grower.post(&path, &wet()).await.assert_status(200);
    assert_eq!(again.id(), made.id(), "what is sent twice is there once");
    let dry = json!({"harvested_on": "2026-10-01", "crop": "soybean", "basis": "dry",
        "grain": {"value": 3.2, "unit": "t/har"}});
    let dry = app.records_system.post(&path, &dry).await.assert_status(201).json();
    assert!(dry["moisture"].is_null() && dry["area"].is_null());
}

#[tokio::test]
async fn it_must_be_clear_how_much_water_is_counted() {
    let app = TestApp::start().await;
    let (_, path) = field(&app).await;
    let with = |changes: Value| {
        let mut body = wet();
        for (name, value) in changes.as_object().expect("members") {
            match value {
                Value::Null => body.as_object_mut().expect("members").remove(name),
                _ => body.as_object_mut().expect("members").insert(name.clone(), value.clone()),
            };
        }
        body
    };
    for (changes, pointer) in [
        (json!({"moisture": null}), "/moisture"),
        (json!({"basis": "dry"}), "/moisture"),
        (json!({"moisture": {"value": 60, "unit": "%"}}), "/moisture"),
        (json!({"grain": {"value": 60_000, "unit": "[lb_av]/[acr_us]"}}), "/grain"),
        (json!({"grain": {"value": 200, "unit": "[bu_us]"}}), "/grain"),
        (json!({"area": {"value": 0, "unit": "har"}}), "/area"),
        (json!({"harvested_on": "2027-04-21"}), "/harvested_on"),
        (json!({"harvested_on": "1999-12-31"}), "/harvested_on"),
        (json!({"basis": null}), "/basis"),
        (json!({"crop": "barley"}), "/crop"),
        (json!({"note": "x\u{0}"}), "/note"),
    ] {
        let refused = app.lead.post(&path, &with(changes.clone())).await;
        refused.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let both = json!({"grain": {"value": -1, "unit": "kg/har"}, "moisture": null});
    let refused = app.lead.post(&path, &with(both)).await.assert_problem(422, "invalid_request");
    refused.assert_member("/grain");
    refused.assert_member("/moisture");
}

#[tokio::test]
async fn a_yield_is_corrected_as_a_whole_and_taken_back() {
    let app = TestApp::start().await;
    let (_, path) = field(&app).await;
    let id = app.grower.post(&path, &wet()).await.assert_status(201).id();
    let at = format!("/v1/yields/{id}");
    let drier = json!({"moisture": {"value": 15.5, "unit": "%"}, "note": null});
    let etag = app.grower.get(&at).await.header("etag").to_owned();
    let changed = app.grower.patch(&at, &etag, &drier).await.assert_status(200).json();
    assert_eq!((&changed["version"], &changed["note"]), (&json!(2), &Value::Null));
    assert_eq!(changed["dry"]["value"], json!(9464.0));
    let torn = json!({"basis": "dry"});
    let refused = app.grower.patch(&at, "*", &torn).await;
    refused.assert_problem(422, "invalid_request").assert_member("/moisture");
    let whole = json!({"basis": "dry", "moisture": null});
    let dry = app.grower.patch(&at, "*", &whole).await.assert_status(200).json();
    assert_eq!(dry["dry"], dry["grain"]);
    app.grower
        .send("PATCH", &at, &[], Some(&drier))
        .await
        .assert_problem(428, "precondition_required");
    app.grower.patch(&at, &etag, &drier).await.assert_problem(412, "stale");
    app.read_only.delete(&at).await.assert_problem(403, "forbidden");
    app.stranger.get(&at).await.assert_problem(404, "not_found");
    app.stranger.delete(&at).await.assert_problem(404, "not_found");
    app.grower.delete(&at).await.assert_status(204);
    app.grower.get(&at).await.assert_problem(404, "not_found");
}

#[tokio::test]
async fn yields_are_listed_by_what_is_asked() {
    let app = TestApp::start().await;
    let (stead, path) = field(&app).await;
    let other = Farmstead::make(&app.lead, "Somebody else").await;
    let corn = app.lead.post(&path, &wet()).await.assert_status(201).id();
    let mut beans = wet();
    beans["crop"] = json!("soybean");
    beans["harvested_on"] = json!("2025-10-01");
    let beans = app.lead.post(&path, &beans).await.assert_status(201).id();
    let theirs = format!("/v1/fields/{}/yields", other.field);
    let theirs = app.lead.post(&theirs, &wet()).await.assert_status(201).id();
    let ids = async |user: &tests::User, query: &str| -> Vec<String> {
        let page = user.get(&format!("/v1/yields?{query}")).await.assert_status(200).json();
        let items = page["items"].as_array().expect("items");
        items.iter().map(|it| it["id"].as_str().expect("an id").to_owned()).collect()
    };
    assert_eq!(ids(&app.lead, "").await, [corn.clone(), beans.clone(), theirs.clone()]);
    assert_eq!(ids(&app.grower, "").await, [corn.clone(), beans.clone()]);
    assert_eq!(ids(&app.lead, "crop=soybean").await, std::slice::from_ref(&beans));
    assert_eq!(
        ids(&app.lead, &format!("field_id={}", other.field)).await,
        std::slice::from_ref(&theirs)
    );
    assert_eq!(ids(&app.lead, &format!("grower_id={}", other.grower)).await, [theirs]);
    assert_eq!(ids(&app.grower, "harvested_from=2026-01-01").await, [corn]);
    assert_eq!(ids(&app.grower, "harvested_to=2025-12-31").await, [beans]);
    let timeline = format!("/v1/fields/{}/timeline?season=2026", stead.field);
    let timeline = app.grower.get(&timeline).await.assert_status(200).json();
    let harvest = timeline["items"].as_array().expect("items").iter();
    let harvest = harvest.filter(|it| it["kind"] == "harvested").collect::<Vec<_>>();
    assert_eq!(harvest.len(), 1, "{timeline}");
    let said = harvest[0]["summary"].as_str().expect("words");
    assert!(said.contains("Corn") && said.contains("20 %") && said.contains("8960"), "{said}");
}
