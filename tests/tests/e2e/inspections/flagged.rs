//! An open replacement stands on every recommendation until it is mended.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{discs, inches, inspect, mend, on, path, planter};

fn sheet_path(stead: &Farmstead) -> String {
    format!("/v1/recommendations/{}", stead.recommendation)
}

async fn with_sheet(app: &TestApp) -> Farmstead {
    planter(app).await.with_sheet(&app.lead).await
}

async fn in_list(app: &TestApp, stead: &Farmstead) -> Value {
    let list = app.grower.get("/v1/recommendations").await.assert_status(200).json();
    let all = list["items"].as_array().expect("items").clone();
    all.into_iter().find(|it| it["id"] == stead.recommendation.as_str()).expect("in the list")
}

#[tokio::test]
async fn answer_sheet_and_list_say_so_until_it_is_mended() {
    let app = TestApp::start().await;
    let stead = with_sheet(&app).await;
    let at = sheet_path(&stead);
    let clean = app.grower.get(&at).await.assert_status(200);
    assert_eq!(clean.json()["open_replacements"], json!([]));
    let known = clean.header("etag").to_owned();
    let found =
        on("2027-04-10", json!([{"item": "seed_tube", "rows": [3, 4], "status": "replace"}]));
    let found = inspect(&app.grower, &stead, &found).await;

    let if_new = [("if-none-match", known.as_str())];
    let flagged = app.grower.send("GET", &at, &if_new, None).await.assert_status(200);
    let open = flagged.json()["open_replacements"].clone();
    assert_eq!(open[0]["item"], "seed_tube");
    assert_eq!((&open[0]["rows"], &open[0]["since"]), (&json!([3, 4]), &json!("2027-04-10")));
    assert_eq!(open[0]["inspection_id"], found["id"]);
    assert_eq!(in_list(&app, &stead).await["open_replacements"], 1);
    let page = app.grower.get(&format!("{at}/sheet")).await.assert_status(200).text;
    assert!(page.contains("Mend first:") && page.contains("Seed tube and guard, rows 3 and 4"));
    let tag = flagged.header("etag").to_owned();
    app.grower.send("GET", &at, &[("if-none-match", tag.as_str())], None).await.assert_status(304);
    // What is said beside it does not stand in the way of the next step.
    let seen = format!("{at}/acknowledge");
    app.grower.send("POST", &seen, &[("if-match", known.as_str())], None).await.assert_status(200);

    mend(&app.grower, &stead, "seed_tube", &[3], "2027-04-11").await;
    let half = app.grower.get(&at).await.json();
    assert_eq!(half["open_replacements"][0]["rows"], json!([4]));
    mend(&app.grower, &stead, "seed_tube", &[4], "2027-04-12").await;
    assert_eq!(app.grower.get(&at).await.json()["open_replacements"], json!([]));
    assert_eq!(in_list(&app, &stead).await["open_replacements"], 0);
    let page = app.grower.get(&format!("{at}/sheet")).await.text;
    assert!(!page.contains("Mend first:"));
    // Looked at again and found bad again: open again.
    let again = on("2027-04-15", json!([{"item": "seed_tube", "rows": [4], "status": "replace"}]));
    inspect(&app.grower, &stead, &again).await;
    assert_eq!(app.grower.get(&at).await.json()["open_replacements"][0]["rows"], json!([4]));
    // And a later look that finds it good closes it without a repair.
    let good = on("2027-04-16", json!([{"item": "seed_tube", "rows": [4], "status": "pass"}]));
    inspect(&app.grower, &stead, &good).await;
    assert_eq!(app.grower.get(&at).await.json()["open_replacements"], json!([]));
}

#[tokio::test]
async fn the_stored_result_is_not_touched_by_it() {
    let app = TestApp::start().await;
    let stead = with_sheet(&app).await;
    let before = app.lead.get(&sheet_path(&stead)).await.json();
    inspect(&app.grower, &stead, &on("2027-04-10", discs(&[(1, 14.0)]))).await;
    let mut after = app.lead.get(&sheet_path(&stead)).await.json();
    assert_eq!(after["open_replacements"].as_array().expect("a list").len(), 1);
    after["open_replacements"] = json!([]);
    after.as_object_mut().expect("an object").remove("opener_measured");
    assert_eq!(after, before);
    let recomputed = format!("{}/recomputation", sheet_path(&stead));
    let recomputed = app.lead.get(&recomputed).await.assert_status(200).json();
    assert_eq!(recomputed["same"], true, "{recomputed}");
}

#[tokio::test]
async fn newer_discs_are_offered_and_taken_over_by_who_keeps_the_make_up() {
    let app = TestApp::start().await;
    let stead = with_sheet(&app).await;
    let worn =
        inspect(&app.grower, &stead, &on("2027-04-10", discs(&[(1, 14.6), (2, 14.8)]))).await;
    let told = app.lead.get(&sheet_path(&stead)).await.json()["opener_measured"].clone();
    assert_eq!((&told["mean"], &told["least"]), (&inches(14.7), &inches(14.6)));
    assert_eq!(told["inspection_id"], worn["id"]);
    assert!(
        told.get("used").is_none()
            && told["words"].as_str().is_some_and(|it| it.contains("new ones"))
    );

    let adopt = format!("/v1/inspections/{}/adoption", worn["id"].as_str().expect("an id"));
    let taken = app.advisor.send("POST", &adopt, &[], None).await.assert_status(200);
    assert_eq!(taken.header("etag"), "\"2\"");
    assert_eq!(taken.json()["makeup"]["unit"]["opener"]["measured"], inches(14.7));
    // The old sheet still says so; a new revision reckons with it.
    let old = app.lead.get(&sheet_path(&stead)).await.json();
    assert!(old["opener_measured"]["words"].as_str().is_some_and(|it| it.contains("new revision")));
    let revise = format!("{}/revise", sheet_path(&stead));
    let next = app.lead.post(&revise, &json!({})).await.assert_status(201).json();
    assert!(next.get("opener_measured").is_none(), "{}", next["opener_measured"]);
    assert_eq!(next["discs"], "keep");

    // Discs that were replaced since are new ones.
    mend(&app.grower, &stead, "opener_diameter", &[1, 2, 3, 4, 5, 6, 7, 8], "2027-04-18").await;
    let told =
        app.lead.get(&format!("/v1/recommendations/{}", next["id"].as_str().expect("an id"))).await;
    assert_eq!(told.json()["opener_measured"]["mean"], inches(15.0));
    app.advisor.send("POST", &adopt, &[], None).await.assert_status(200);
    let newer = inspect(&app.grower, &stead, &on("2027-04-19", discs(&[(1, 14.95)]))).await;
    app.advisor.send("POST", &adopt, &[], None).await.assert_problem(409, "wrong_state");
    let adopt = format!("/v1/inspections/{}/adoption", newer["id"].as_str().expect("an id"));
    app.advisor.send("POST", &adopt, &[], None).await.assert_status(200);
    let tubes = on("2027-04-19", json!([{"item": "seed_tube", "status": "pass"}]));
    let tubes = inspect(&app.grower, &stead, &tubes).await;
    let adopt = format!("/v1/inspections/{}/adoption", tubes["id"].as_str().expect("an id"));
    app.advisor.send("POST", &adopt, &[], None).await.assert_problem(409, "wrong_state");
}

#[tokio::test]
async fn the_timeline_of_a_field_tells_of_the_shed() {
    let app = TestApp::start().await;
    let stead = with_sheet(&app).await;
    let wrong = inspect(&app.grower, &stead, &on("2027-03-12", discs(&[(2, 14.3)]))).await;
    let mut right = on("2027-03-12", discs(&[(2, 14.4)]));
    right["replaces_id"] = wrong["id"].clone();
    let right = inspect(&app.grower, &stead, &right).await;
    let mended = mend(&app.grower, &stead, "opener_diameter", &[2], "2027-03-20").await;
    let line = app
        .grower
        .get(&format!("/v1/fields/{}/timeline", stead.field))
        .await
        .assert_status(200)
        .json();
    let of = |kind: &str| -> Vec<Value> {
        let all = line["items"].as_array().expect("items").iter();
        all.filter(|it| it["kind"] == kind).cloned().collect()
    };
    let (seen, done) = (of("planter_inspected"), of("planter_repaired"));
    assert_eq!((seen.len(), done.len()), (1, 1), "a corrected inspection is not told twice");
    assert_eq!((&seen[0]["id"], &done[0]["id"]), (&right["id"], &mended["id"]));
    assert_eq!(seen[0]["summary"], "To replace or mend: Diameter of the opener discs, row 2.");
    assert_eq!(done[0]["summary"], "Diameter of the opener discs, row 2: new part.");
    let listed = app.grower.get(&path(&stead, "repairs")).await.assert_status(200).json();
    assert_eq!(listed["items"], json!([mended]));
}
