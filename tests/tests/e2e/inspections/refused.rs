//! What can't be true is refused, member by member.

use serde_json::{Value, json};
use tests::TestApp;

use super::{acres, discs, inches, inspect, mend, on, path, planter};

#[tokio::test]
async fn rows_parts_and_sizes_that_cannot_be_are_refused() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let path = path(&stead, "inspections");
    for (finding, member) in [
        (json!({"item": "seed_tube", "rows": [9], "status": "pass"}), "/findings/0/rows/0"),
        (json!({"item": "seed_tube", "rows": [0], "status": "pass"}), "/findings/0/rows/0"),
        (json!({"item": "seed_tube", "rows": [2, 2], "status": "pass"}), "/findings/0/rows/1"),
        (json!({"item": "hitch_level", "rows": [1], "status": "pass"}), "/findings/0/rows"),
        (json!({"item": "down_force_springs", "status": "pass"}), "/findings/0/item"),
        (json!({"item": "closing_gap", "measured": inches(1.5)}), "/findings/0/item"),
        (json!({"item": "opener_diameter", "measured": inches(15.1)}), "/findings/0/measured"),
        (json!({"item": "opener_diameter", "measured": inches(3.0)}), "/findings/0/measured"),
        (
            json!({"item": "opener_diameter", "measured": {"value": 14, "unit": "[lbf_av]"}}),
            "/findings/0/measured",
        ),
        (json!({"item": "arm_play_vertical", "measured": inches(-0.5)}), "/findings/0/measured"),
        (json!({"item": "seed_tube", "measured": inches(1.0)}), "/findings/0/measured"),
        (json!({"item": "seed_tube"}), "/findings/0/status"),
        (json!({"item": "seed_tube", "status": "pass", "notes": "a\u{1}b"}), "/findings/0/notes"),
    ] {
        let answer = app.grower.post(&path, &on("2027-03-12", json!([finding]))).await;
        answer.assert_problem(422, "invalid_request").assert_member(member);
    }
    let twice = json!([
        {"item": "seed_tube", "rows": [1, 2], "status": "pass"},
        {"item": "seed_tube", "rows": [2, 3], "status": "watch"}
    ]);
    let answer = app.grower.post(&path, &on("2027-03-12", twice)).await;
    answer.assert_problem(422, "invalid_request").assert_member("/findings/1/item");
    let answer = app.grower.post(&path, &on("2027-03-12", json!([]))).await;
    answer.assert_problem(422, "invalid_request").assert_member("/findings");
    for unknown in
        [json!({"item": "paint", "status": "pass"}), json!({"item": "seed_tube", "status": "fine"})]
    {
        app.grower
            .post(&path, &on("2027-03-12", json!([unknown])))
            .await
            .assert_problem(422, "invalid_request");
    }
    for day in ["2027-04-21", "1949-12-31", "2027-02-30"] {
        let answer = app.grower.post(&path, &on(day, discs(&[(1, 14.9)]))).await;
        answer.assert_problem(422, "invalid_request").assert_member("/inspected_on");
    }
    let empty = app.lead.get(&path).await.json();
    assert_eq!(empty["items"], json!([]), "nothing of it was stored");
}

#[tokio::test]
async fn plans_and_counters_that_cannot_be_are_refused() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let with = |member: &str, value: Value| {
        let mut body = on("2027-03-12", json!([{"item": "hitch_level", "status": "pass"}]));
        body[member] = value;
        body
    };
    let at = path(&stead, "inspections");
    for (member, value, pointer) in [
        ("season_plan", json!({"area": acres(-1.0)}), "/season_plan/area"),
        (
            "season_plan",
            json!({"area": acres(9.0), "from": "2027-05-20", "until": "2027-05-01"}),
            "/season_plan/until",
        ),
        ("season_plan", json!({"area": acres(9.0), "until": "2027-03-01"}), "/season_plan/until"),
        ("area_counter", acres(-3.0), "/area_counter"),
        ("area_counter", inches(3.0), "/area_counter"),
    ] {
        let answer = app.grower.post(&at, &with(member, value)).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    inspect(&app.grower, &stead, &with("area_counter", acres(500.0))).await;
    let mut back = with("area_counter", acres(499.0));
    back["inspected_on"] = json!("2027-04-01");
    let answer = app.grower.post(&at, &back).await;
    answer.assert_problem(422, "invalid_request").assert_member("/area_counter");
}

#[tokio::test]
async fn a_part_that_became_better_was_replaced_and_somebody_must_say_so() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    inspect(&app.grower, &stead, &on("2027-03-01", discs(&[(1, 14.6), (2, 14.6)]))).await;
    let better = on("2027-04-10", discs(&[(1, 14.9), (2, 14.6)]));
    let answer = app.grower.post(&path(&stead, "inspections"), &better).await;
    let member =
        answer.assert_problem(422, "invalid_request").assert_member("/findings/0/measured");
    assert!(member["why"].as_str().is_some_and(|why| why.contains("repairs")), "{member}");
    // Within what two readings may differ it is no wear, and no replacement.
    inspect(&app.grower, &stead, &on("2027-03-20", discs(&[(2, 14.62)]))).await;
    mend(&app.grower, &stead, "opener_diameter", &[1], "2027-04-01").await;
    inspect(&app.grower, &stead, &better).await;
    // Play that became less is the same story.
    let play =
        |inch: f64| json!([{"item": "arm_play_vertical", "rows": [3], "measured": inches(inch)}]);
    inspect(&app.grower, &stead, &on("2027-03-02", play(1.5))).await;
    let answer = app.grower.post(&path(&stead, "inspections"), &on("2027-04-11", play(0.5))).await;
    answer.assert_problem(422, "invalid_request").assert_member("/findings/0/measured");
}

#[tokio::test]
async fn repairs_that_cannot_be_are_refused() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let at = path(&stead, "repairs");
    let with = |member: &str, value: Value| {
        let mut body = json!({"item": "seed_tube", "rows": [3], "repaired_on": "2027-04-01", "new_part": true});
        body[member] = value;
        body
    };
    for (member, value, pointer) in [
        ("rows", json!([9]), "/rows/0"),
        ("item", json!("closing_gap"), "/item"),
        ("item", json!("hitch_level"), "/rows"),
        ("repaired_on", json!("2027-04-21"), "/repaired_on"),
        ("notes", json!("a\u{1}"), "/notes"),
    ] {
        let answer = app.grower.post(&at, &with(member, value)).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    mend(&app.grower, &stead, "seed_tube", &[3, 4], "2027-04-01").await;
    let again = with("rows", json!([4, 5]));
    app.grower.post(&at, &again).await.assert_problem(409, "already_exists");
}

#[tokio::test]
async fn nobody_reaches_a_planter_of_others_and_who_only_reads_reports_nothing() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let theirs = tests::Farmstead::make(&app.stranger, "Elsewhere").await;
    let body = on("2027-03-12", discs(&[(1, 14.9)]));
    app.read_only.post(&path(&stead, "inspections"), &body).await.assert_problem(403, "forbidden");
    for what in ["inspections", "repairs", "wear", "wear-limits", "inspection-page"] {
        app.grower.get(&path(&theirs, what)).await.assert_problem(404, "not_found");
    }
    app.grower.post(&path(&theirs, "inspections"), &body).await.assert_problem(404, "not_found");
    let made = inspect(&app.grower, &stead, &body).await;
    let one = format!("/v1/inspections/{}", made["id"].as_str().expect("an id"));
    app.stranger.get(&one).await.assert_problem(404, "not_found");
    // A grower reports; the make-up is kept by others.
    let adopt = format!("{one}/adoption");
    app.grower.send("POST", &adopt, &[], None).await.assert_problem(403, "forbidden");
}
