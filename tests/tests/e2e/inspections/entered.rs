//! What is entered is kept, and judged by the limits in force.

use serde_json::json;
use tests::TestApp;

use super::{acres, discs, inches, inspect, judged, on, path, planter};

#[tokio::test]
async fn the_worse_of_eye_and_measure_counts_and_both_are_shown() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let body = on(
        "2027-03-12",
        json!([
            {"item": "opener_diameter", "rows": [1, 2], "measured": inches(14.75)},
            {"item": "opener_diameter", "rows": [3], "status": "pass", "measured": inches(14.5)},
            {"item": "opener_diameter", "rows": [4], "status": "replace", "measured": inches(14.9)},
            {"item": "seed_tube", "status": "pass"},
            {"item": "hitch_level", "status": "watch", "notes": "A little slack."}
        ]),
    );
    let made = app.grower.post(&path(&stead, "inspections"), &body).await.assert_status(201);
    let (at, made) = (made.header("location").to_owned(), made.json());
    assert_eq!(at, format!("/v1/inspections/{}", made["id"].as_str().expect("an id")));
    assert_eq!(made["findings"], body["findings"], "what was entered stays as it was entered");
    assert_eq!(made["created_by"], app.grower.account_id.as_str());
    let by = |row| {
        let it = judged(&made, "opener_diameter", Some(row));
        (
            it["by_eye"].clone(),
            it["by_measure"].clone(),
            it["status"].clone(),
            it["disagree"].clone(),
        )
    };
    assert_eq!(by(1), (json!(null), json!("pass"), json!("pass"), json!(false)));
    assert_eq!(by(3), (json!("pass"), json!("replace"), json!("replace"), json!(true)));
    assert_eq!(by(4), (json!("replace"), json!("pass"), json!("replace"), json!(true)));
    let tubes =
        made["judged"].as_array().expect("a list").iter().filter(|it| it["item"] == "seed_tube");
    assert_eq!(tubes.count(), 8, "without rows it holds for every row");
    assert_eq!(judged(&made, "hitch_level", None)["status"], "watch");
    assert_eq!(made["counts"]["replace"], 1, "an item counts by its worst row");
    let limit = &made["limits"][0];
    assert_eq!((&limit["replace_at"], &limit["from"]), (&inches(14.5), &json!("published")));
    assert!(limit["source"].as_str().expect("a source").contains("Iowa State University"));
    let unseen = made["not_checked"].as_array().expect("a list");
    assert!(unseen.contains(&json!("toolbar_height")) && !unseen.contains(&json!("seed_tube")));
    assert!(!unseen.contains(&json!("down_force_springs")), "the planter has bags");
    let read = app.lead.get(&at).await.assert_status(200).json();
    assert_eq!(read, made);
    let si = app.lead.get(&format!("{at}?units=si")).await.assert_status(200).json();
    assert_eq!(si["findings"], body["findings"]);
    let metric = &judged(&si, "opener_diameter", Some(3))["measured"];
    assert_eq!(metric, &json!({"value": 368.3, "unit": "mm"}), "14.5 in at 25.4 mm");
    let list = app.grower.get(&path(&stead, "inspections")).await.assert_status(200).json();
    assert_eq!(list["items"], json!([made]));
}

#[tokio::test]
async fn a_correction_takes_the_place_of_what_it_corrects_and_both_are_kept() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let wrong = inspect(&app.grower, &stead, &on("2027-03-12", discs(&[(1, 14.4)]))).await;
    let mut body = on("2027-03-12", discs(&[(1, 14.9)]));
    body["replaces_id"] = wrong["id"].clone();
    let right = inspect(&app.grower, &stead, &body).await;
    assert_eq!(right["replaces_id"], wrong["id"]);
    let old = format!("/v1/inspections/{}", wrong["id"].as_str().expect("an id"));
    assert_eq!(app.lead.get(&old).await.json()["replaced_by_id"], right["id"]);
    let list = app.lead.get(&path(&stead, "inspections")).await.json();
    assert_eq!(list["items"].as_array().expect("items").len(), 2);
    assert_eq!(list["items"][0]["replaced_by_id"], right["id"]);
    let parts = format!("/v1/parts-list?planter_id={}", stead.planter);
    assert_eq!(
        app.lead.get(&parts).await.json()["items"],
        json!([]),
        "the old one no longer counts"
    );
    body["findings"] = discs(&[(1, 14.8)]);
    app.grower.post(&path(&stead, "inspections"), &body).await.assert_problem(409, "wrong_state");
    body["replaces_id"] = right["id"].clone();
    inspect(&app.grower, &stead, &body).await;
    let other = tests::Farmstead::make(&app.lead, "Another grower").await;
    let elsewhere = app.lead.post(&path(&other, "inspections"), &body).await;
    elsewhere.assert_problem(422, "invalid_request").assert_member("/replaces_id");
}

#[tokio::test]
async fn the_same_inspection_is_stored_once() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let body = on("2027-03-12", discs(&[(1, 14.9)]));
    let first = inspect(&app.grower, &stead, &body).await;
    let again = app.advisor.post(&path(&stead, "inspections"), &body).await;
    let again = again.assert_problem(409, "already_exists").json();
    let named =
        again["detail"].as_str().expect("a detail").contains(first["id"].as_str().expect("an id"));
    assert!(named, "{again}");
    // Another one on the same day is another one.
    inspect(&app.grower, &stead, &on("2027-03-12", discs(&[(2, 14.9)]))).await;
}

#[tokio::test]
async fn the_checklist_is_whole_and_of_a_planter_only_what_it_has() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let all = app.read_only.get("/v1/inspection-items").await.assert_status(200).json();
    let items = all["items"].as_array().expect("items");
    assert!(items.len() >= 35, "{} items", items.len());
    for item in items {
        for member in ["look", "pass", "watch", "replace", "to_do", "source"] {
            assert!(item[member].as_str().is_some_and(|words| words.len() > 5), "{item} {member}");
        }
        assert!(!item["cautions"].as_array().expect("cautions").is_empty(), "{item}");
    }
    let own = format!("/v1/inspection-items?planter_id={}", stead.planter);
    let own = app.grower.get(&own).await.assert_status(200).json();
    let has =
        |code: &str| own["items"].as_array().expect("items").iter().any(|it| it["item"] == code);
    assert!(has("coulter_diameter") && has("down_force_bags") && has("closing_diameter"));
    assert!(!has("down_force_springs") && !has("closing_gap") && !has("drive_wheels"));
    let theirs = elsewhere(&app).await;
    let hidden = app.lead.get(&format!("/v1/inspection-items?planter_id={theirs}")).await;
    assert_eq!(hidden.assert_status(200).json()["items"], json!([]));
}

async fn elsewhere(app: &TestApp) -> String {
    tests::Farmstead::make(&app.stranger, "Elsewhere").await.planter
}

#[tokio::test]
async fn what_is_entered_with_it_is_kept() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let mut body = on("2027-03-12", json!([{"item": "hitch_level", "status": "pass"}]));
    body["area_counter"] = acres(4200.0);
    body["season_plan"] =
        json!({"area": acres(600.0), "from": "2027-04-20", "until": "2027-05-20"});
    body["notes"] = json!("Cold shed.");
    let made = inspect(&app.grower, &stead, &body).await;
    for member in ["area_counter", "season_plan", "notes"] {
        assert_eq!(made[member], body[member], "{member}");
    }
}
