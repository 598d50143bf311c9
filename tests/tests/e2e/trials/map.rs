//! The page that hangs in the cab.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{id, in_strips, on_rows};

#[tokio::test]
async fn the_map_shows_every_plot_row_and_caution() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let trial = app.lead.post("/v1/trials", &on_rows(&stead)).await.assert_status(201).json();
    let path = format!("/v1/trials/{}/map", id(&trial));
    let page = app.lead.get(&path).await.assert_status(200);
    assert_eq!(page.header("content-type"), "text/html; charset=utf-8");
    for words in [
        "Spiked wheels on two rows",
        "Miller Brothers",
        "North forty",
        "The eight-row",
        "smooth wheels",
        "DRAFT",
        "seed 2027",
        "6 T",
        "emergence, %",
        "reach under the planter",
        "Drawn from the seed",
    ] {
        assert!(page.text.contains(words), "no {words}");
    }
    let plots = trial["layout"]["plots"].as_array().expect("plots");
    for plot in plots {
        let number = format!(">{}</text>", plot["plot"]);
        assert!(page.text.contains(&number), "no plot {number}");
    }
    app.grower.get(&path).await.assert_problem(404, "not_found");
    let start = format!("/v1/trials/{}/start", id(&trial));
    app.lead.send("POST", &start, &[("if-match", "*")], None).await.assert_status(200);
    let seen = app.grower.get(&path).await.assert_status(200);
    assert!(!seen.text.contains("DRAFT"));
}

#[tokio::test]
async fn strips_have_their_arrows_and_nothing_runs() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let hostile = "<script>alert(1)</script>\"'&";
    let mut body = in_strips(&stead, 5);
    body["name"] = json!(hostile);
    body["design"]["treatments"][1]["name"] = json!("<img src=x onerror=alert(1)>");
    body["design"]["question"] = json!(hostile);
    let trial = app.lead.post("/v1/trials", &body).await.assert_status(201).json();
    let page = app.lead.get(&format!("/v1/trials/{}/map", id(&trial))).await.assert_status(200);
    assert_eq!(page.text.matches('↑').count(), 5);
    assert_eq!(page.text.matches('↓').count(), 5);
    let low = page.text.to_lowercase();
    assert!(!low.contains("<script") && !low.contains("<img"), "{low}");
    let policy = page.header("content-security-policy");
    assert!(policy.starts_with("default-src 'none'; style-src 'nonce-"), "{policy}");
}
