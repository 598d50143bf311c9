//! What a dig says.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{depths, digs, inches, issued, near, stored};

#[tokio::test]
async fn a_dig_is_answered_with_one_change_and_its_reasons() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let sent = app.grower.post(&digs(&stead), &Farmstead::dig_body()).await.assert_status(201);
    let dig = sent.json();
    let path = format!("/v1/dig-checks/{}", sent.id());
    assert_eq!(sent.header("location"), path);
    assert_eq!(dig["recommendation_id"], stead.recommendation.as_str());
    assert_eq!(dig["created_by"], app.grower.account_id.as_str());
    let sent = Farmstead::dig_body();
    for (kept, sent) in dig["observation"]["rows"]
        .as_array()
        .expect("rows")
        .iter()
        .zip(sent["rows"].as_array().expect("rows"))
    {
        assert_eq!(kept["seed_depths"], sent["seed_depths"]);
        assert_eq!((&kept["row"], &kept["wall"]), (&sent["row"], &sent["wall"]));
    }
    assert_eq!(dig["observation"]["settings"], sent["settings"]);

    let depth = &dig["depth"];
    assert_eq!((&depth["seeds"], &depth["planter"]["rows"]), (&json!(20), &json!(4)));
    near(inches(&depth["mean"]), 1.55, 1e-9);
    assert_eq!(depth["settled"]["side"], "shallow");
    assert_eq!(depth["within"]["share"], json!(0.0), "all lie 3/8 in or more off 2 in");
    let first = &dig["findings"][0];
    assert_eq!((&first["cause"], &first["class"]), (&json!("too_little_force"), &json!("setting")));
    assert!(!first["evidence_for"].as_array().expect("list").is_empty());
    assert!(first["evidence_against"].is_array() && first["source"].is_string());

    // 30 psi on a line through 120 lbf at 15 psi and 420 lbf at 60 psi is 220 lbf.
    let change = &dig["proposal"]["change"];
    assert_eq!(change["kind"], "down_force");
    assert_eq!(change["from"], json!({"value": 220.0, "unit": "[lbf_av]"}));
    let by = change["by"]["value"].as_f64().expect("a number");
    let to = change["to"]["value"].as_f64().expect("a number");
    near(by, to - 220.0, 1e-9);
    assert!(by > 0.0 && to <= 420.0, "{to} lbf is more than the bags were calibrated for");
    assert_eq!(change["set_on_planter"]["kind"], "pressure");
    let words = dig["proposal"]["words"].as_str().expect("words");
    assert!(words.starts_with("Raise the down force on every row from 220 to "), "{words}");
    assert!(words.contains("lbf: set ") && words.ends_with(" psi."), "{words}");
    for list in ["because", "next_dig", "cautions"] {
        assert!(!dig["proposal"][list].as_array().expect("list").is_empty(), "{list}");
    }
    assert!(dig["adjustment_id"].is_string());
    let missing = dig["missing"].as_array().expect("list");
    assert!(missing.iter().any(|it| it["what"] == "depth of the lever"), "{missing:?}");
    let assumed = dig["assumed"].as_array().expect("list");
    assert!(assumed.iter().any(|it| it["what"] == "depth of the lever: as advised"), "{assumed:?}");
    assert!(dig["trace"].as_array().expect("list").len() >= 2);
    assert_eq!(app.grower.get(&path).await.json(), dig);
}

#[tokio::test]
async fn the_interval_rests_on_rows_and_not_on_seeds() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    // Row means 1.85, 1.95 and 2.05 in: mean 1.95, s 0.1, and Student's t for 2 degrees of freedom is
    // 4.303, so the half width is 4.303 x 0.1 / sqrt(3) = 0.248 in.
    let body = depths(&[
        (2, &[1.85, 1.85, 1.85, 1.85]),
        (4, &[1.95, 1.95, 1.95, 1.95]),
        (6, &[2.05, 2.05, 2.05, 2.05]),
    ]);
    let dig = app.advisor.post(&digs(&stead), &body).await.assert_status(201).json();
    let planter = &dig["depth"]["planter"];
    near(inches(&planter["mean"]), 1.95, 1e-9);
    near(inches(&planter["low"]), 1.702, 0.005);
    near(inches(&planter["high"]), 2.198, 0.005);
    assert_eq!(dig["depth"]["settled"]["settled"], json!(false), "it reaches over 1.75 in");
    assert!(dig["depth"]["settled"]["more_rows"].as_u64().expect("rows") >= 1);
    assert_eq!(dig["proposal"]["change"]["kind"], "dig_more");
}

#[tokio::test]
async fn a_part_of_a_dig_is_taken_and_says_what_is_missing() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    for rows in [
        json!([{"row": 1, "wall": "crumbly"}]),
        json!([{"row": 1, "spacings": {"unit": "[in_i]", "values": [6.0]}}]),
        json!([{"row": 8, "seed_depths": {"unit": "mm", "values": [50.0]}}, {"row": 2}]),
    ] {
        let body = json!({"dug_at": "2027-04-20T11:45:00Z", "rows": rows});
        let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
        assert_eq!(dig["proposal"]["change"]["kind"], "dig_more", "{rows}");
        assert!(dig["missing"].as_array().expect("list").len() > 5, "{rows}");
        assert!(dig.get("adjustment_id").is_none(), "nothing is to be decided: {rows}");
        assert_eq!(dig.get("depth").is_some(), rows[0].get("seed_depths").is_some());
    }
    assert_eq!(stored(&app).await, (3, 0));
}

#[tokio::test]
async fn a_good_dig_says_to_go_on() {
    let app = TestApp::start().await;
    let stead = issued(&app).await;
    let mut body =
        depths(&[(2, &[2.0, 1.95, 2.05]), (4, &[2.0, 2.05, 1.95]), (6, &[1.95, 2.0, 2.0])]);
    for row in body["rows"].as_array_mut().expect("rows") {
        row["gauge_wheels"] = json!("turn_with_effort");
    }
    let dig = app.grower.post(&digs(&stead), &body).await.assert_status(201).json();
    assert_eq!(dig["findings"], json!([]));
    assert_eq!(dig["proposal"]["change"], json!({"kind": "keep_as_is"}));
    assert_eq!(dig["depth"]["settled"]["side"], "inside");
    assert_eq!(stored(&app).await, (1, 0));
}
