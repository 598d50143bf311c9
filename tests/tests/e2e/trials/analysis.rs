//! What a trial says, and what it can't.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

use super::{id, in_strips, on_rows, plot_of, reading, running};

/// Lesions on the halves of eight leaves, a published example of pairs: mean 4, SD 4.309458,
/// t = 2.625320, p = 0.0341441.
const HALVES: [(f64, f64); 8] = [
    (31.0, 18.0),
    (20.0, 17.0),
    (18.0, 14.0),
    (17.0, 11.0),
    (9.0, 10.0),
    (8.0, 7.0),
    (10.0, 5.0),
    (7.0, 6.0),
];

async fn analysis(user: &User, trial: &Value, query: &str) -> Value {
    user.get(&format!("/v1/trials/{}/analysis{query}", id(trial))).await.assert_status(200).json()
}

fn near(value: &Value, expected: f64, within: f64) {
    let value = value.as_f64().unwrap_or(f64::NAN);
    assert!((value - expected).abs() < within, "{value} against {expected}");
}

#[tokio::test]
async fn pairs_say_what_the_reference_says() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut body = in_strips(&stead, 8);
    body["design"]["responses"] = json!([
        {"kind": "other", "key": "lesions", "name": "lesions", "unit": "1", "better": "lower"}
    ]);
    let trial = running(&app.lead, &body).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    for (block, (one, two)) in (1..).zip(HALVES) {
        for (treatment, value) in [("60 lbf less", one), ("as advised", two)] {
            let plot = plot_of(&trial, block, treatment);
            app.grower
                .post(&path, &reading(plot, "lesions", "1", &[value]))
                .await
                .assert_status(201);
        }
    }
    let told = analysis(&app.grower, &trial, "?response=lesions").await;
    assert_eq!(told["responses"].as_array().expect("responses").len(), 1);
    let figures = &told["responses"][0]["figures"];
    let effect = &figures["effects"][0];
    assert_eq!(
        (&effect["treatment"], &effect["against"]),
        (&json!("60 lbf less"), &json!("as advised"))
    );
    near(&effect["difference"], 4.0, 1e-9);
    near(&effect["t"], 2.625_320, 1e-5);
    near(&effect["p"], 0.034_144_1, 1e-6);
    near(&figures["pairs"]["sd"], 4.309_458, 1e-5);
    // 4 +- 2.364624 x 4.309458 / sqrt 8
    near(&effect["low"], 4.0 - 2.364_624 * 4.309_458 / 8.0_f64.sqrt(), 1e-4);
    assert_eq!(figures["rests_on"]["error_df"], 7);
    let ninety = analysis(&app.grower, &trial, "?confidence=90").await;
    near(
        &ninety["responses"][0]["figures"]["effects"][0]["low"],
        4.0 - 1.894_579 * 4.309_458 / 8.0_f64.sqrt(),
        1e-4,
    );
    let bad = format!("/v1/trials/{}/analysis?response=yield", id(&trial));
    app.grower.get(&bad).await.assert_problem(422, "invalid_request").assert_member("?response");
    let bad = format!("/v1/trials/{}/analysis?confidence=80", id(&trial));
    app.grower.get(&bad).await.assert_problem(422, "invalid_request").assert_member("?confidence");
}

#[tokio::test]
async fn digs_in_one_plot_are_no_replications() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut body = on_rows(&stead);
    body["design"]["blocks"] = json!(1);
    let trial = running(&app.lead, &body).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    for (treatment, values) in
        [("smooth wheels", [81.0, 82.0, 80.0]), ("spiked wheels", [91.0, 93.0, 92.0])]
    {
        let plot = plot_of(&trial, 1, treatment);
        app.grower.post(&path, &reading(plot, "emergence", "%", &values)).await.assert_status(201);
    }
    let told = analysis(&app.grower, &trial, "?response=emergence").await;
    let one = &told["responses"][0];
    let effect = &one["figures"]["effects"][0];
    near(&effect["difference"], 11.0, 1e-9);
    assert!(effect.get("p").is_none() && effect.get("low").is_none(), "{effect}");
    assert_eq!(effect["reading"], "no_replication");
    assert_eq!(one["verdict"]["outcome"], "no_replication");
}

#[tokio::test]
async fn half_a_season_says_what_is_there() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let nothing = analysis(&app.grower, &trial, "").await;
    assert_eq!(nothing["responses"].as_array().expect("responses").len(), 2);
    assert!(nothing["responses"][0].get("figures").is_none());
    assert!(
        nothing["responses"][0]["verdict"]["headline"].to_string().contains("No plot has a value")
    );
    let path = format!("/v1/trials/{}/plots", id(&trial));
    for (block, (smooth, spiked)) in (1..).zip([(80.0, 88.0), (84.0, 90.0), (82.0, 91.0)]) {
        for (treatment, value) in [("smooth wheels", smooth), ("spiked wheels", spiked)] {
            let plot = plot_of(&trial, block, treatment);
            app.grower
                .post(&path, &reading(plot, "emergence", "%", &[value]))
                .await
                .assert_status(201);
        }
    }
    app.grower.post(&path, &json!({"plot": 10, "lost": "washed out"})).await.assert_status(201);
    let told = analysis(&app.grower, &trial, "?response=emergence").await;
    let one = &told["responses"][0];
    assert_eq!((&one["recorded"], &told["plots"]), (&json!(6), &json!(10)));
    let cannot = one["verdict"]["cannot_conclude"].to_string();
    assert!(cannot.contains("6 of 10 plots are in (1 lost, 3 still open)"), "{cannot}");
    assert!(cannot.contains("same units"), "{cannot}");
    near(&one["figures"]["effects"][0]["difference"], 23.0 / 3.0, 1e-4);
}

#[tokio::test]
async fn what_was_planted_otherwise_is_analysed_as_planted_and_said() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = running(&app.lead, &on_rows(&stead)).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    let values = [(80.0, 90.0), (82.0, 91.0), (81.0, 93.0), (84.0, 92.0), (83.0, 91.0)];
    for (block, (smooth, spiked)) in (1..).zip(values) {
        for (treatment, value) in [("smooth wheels", smooth), ("spiked wheels", spiked)] {
            let plot = plot_of(&trial, block, treatment);
            app.grower
                .post(&path, &reading(plot, "emergence", "%", &[value]))
                .await
                .assert_status(201);
        }
    }
    let before = analysis(&app.grower, &trial, "?response=emergence").await;
    near(&before["responses"][0]["figures"]["effects"][0]["difference"], 9.4, 1e-9);
    // Block 1 was planted the other way round, block 2 got smooth wheels twice.
    for (block, laid, planted) in [
        (1, "smooth wheels", "spiked wheels"),
        (1, "spiked wheels", "smooth wheels"),
        (2, "spiked wheels", "smooth wheels"),
    ] {
        let body = json!({"plot": plot_of(&trial, block, laid), "as_planted": planted});
        app.grower.post(&path, &body).await.assert_status(201);
    }
    let told = analysis(&app.grower, &trial, "?response=emergence").await;
    let one = &told["responses"][0];
    let figures = &one["figures"];
    assert_eq!(figures["rests_on"]["plots"], 9);
    assert!(one["notices"][0].to_string().contains("block 2 holds smooth wheels 2 times"), "{one}");
    let cannot = one["verdict"]["cannot_conclude"].to_string();
    assert!(cannot.contains("3 plots were planted otherwise"), "{cannot}");
    // Blocks 1, 3, 4, 5 are whole: spiked less smooth -10, 12, 8, 8; block 2 has one treatment only.
    near(&figures["effects"][0]["difference"], 4.5, 1e-9);
}

#[tokio::test]
async fn a_layout_that_nobody_drew_is_said_in_the_verdict() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let mut body = in_strips(&stead, 4);
    body["design"]["order"] = json!("as_listed");
    body["design"].as_object_mut().expect("a design").remove("seed");
    let trial = running(&app.lead, &body).await;
    let path = format!("/v1/trials/{}/plots", id(&trial));
    for (block, (one, two)) in
        (1..).zip([(200.0, 206.0), (204.0, 209.0), (198.0, 205.0), (201.0, 208.0)])
    {
        for (treatment, value) in [("as advised", one), ("60 lbf less", two)] {
            let plot = plot_of(&trial, block, treatment);
            let body = reading(plot, "yield", "[bu_us]/[acr_us]", &[value]);
            app.grower.post(&path, &body).await.assert_status(201);
        }
    }
    let told = analysis(&app.grower, &trial, "").await;
    assert_eq!(told["randomised"], false);
    let cannot = told["responses"][0]["verdict"]["cannot_conclude"].to_string();
    assert!(cannot.contains("slope across the field"), "{cannot}");
    assert!(cannot.to_lowercase().contains("chance") || cannot.contains("random"), "{cannot}");
}
