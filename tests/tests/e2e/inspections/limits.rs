//! What the manual says, and what is judged by it.

use serde_json::{Value, json};
use tests::TestApp;

use super::{discs, inches, inspect, judged, on, path, planter};

fn limit<'a>(limits: &'a Value, item: &str) -> &'a Value {
    let all = limits["in_force"].as_array().expect("limits");
    all.iter().find(|it| it["item"] == item).unwrap_or_else(|| panic!("no {item} in {limits}"))
}

#[tokio::test]
async fn published_limits_stand_in_until_the_manual_is_entered() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let at = path(&stead, "wear-limits");
    let before = app.grower.get(&at).await.assert_status(200);
    assert!(before.header("etag").starts_with("\"0."));
    let before = before.json();
    assert_eq!((&before["version"], &before["entered"]["parts"]), (&json!(0), &json!([])));
    assert_eq!(limit(&before, "opener_diameter")["replace_at"], inches(14.5));
    let contact = limit(&before, "opener_contact");
    assert_eq!(contact["others"].as_array().expect("sources").len(), 6, "all sources are shown");
    assert!(contact["source"].as_str().expect("a source").contains("Missouri"), "{contact}");
    assert_eq!(before["without_limit"], json!(["coulter_diameter", "closing_diameter"]));

    let manual = json!({
        "blade_thickness": {"value": 3.0, "unit": "mm"},
        "parts": [
            {"item": "opener_diameter", "replace_at": inches(14.0), "source": "manual, page 88"},
            {"item": "coulter_diameter", "new_size": inches(17.0), "replace_at": inches(16.0)}
        ]
    });
    app.grower.put(&at, "\"7\"", &manual).await.assert_problem(412, "stale");
    let after = app.grower.put(&at, "\"0\"", &manual).await.assert_status(200);
    let (tag, after) = (after.header("etag").to_owned(), after.json());
    assert!(tag.starts_with("\"1."));
    assert_eq!((&after["entered"], &after["version"]), (&manual, &json!(1)));
    let own = limit(&after, "opener_diameter");
    assert_eq!((&own["from"], &own["source"]), (&json!("manual"), &json!("manual, page 88")));
    assert_eq!(own["watch_at"], inches(14.25), "where a quarter of the inch is left");
    assert_eq!(limit(&after, "opener_contact")["replace_at"], inches(2.0), "3.0 mm: 2 to 2.5 in");
    assert_eq!(limit(&after, "coulter_diameter")["replace_at"], inches(16.0));
    assert_eq!(after["without_limit"], json!(["closing_diameter"]));
    let read = app.lead.get(&at).await.assert_status(200);
    assert_eq!((read.header("etag"), &read.json()), (tag.as_str(), &after));
}

#[tokio::test]
async fn a_new_limit_judges_what_was_measured_before() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let made = inspect(&app.grower, &stead, &on("2027-03-12", discs(&[(1, 14.4)]))).await;
    assert_eq!(judged(&made, "opener_diameter", Some(1))["status"], "replace");
    let parts = format!("/v1/parts-list?planter_id={}", stead.planter);
    assert_eq!(app.lead.get(&parts).await.json()["items"][0]["count"], 2);
    let manual = json!({"parts": [{"item": "opener_diameter", "replace_at": inches(14.0)}]});
    app.grower.put(&path(&stead, "wear-limits"), "*", &manual).await.assert_status(200);
    let one = format!("/v1/inspections/{}", made["id"].as_str().expect("an id"));
    let now = app.lead.get(&one).await.json();
    assert_eq!(judged(&now, "opener_diameter", Some(1))["status"], "pass");
    assert_eq!(app.lead.get(&parts).await.json()["items"], json!([]));
    // So does a limit in the make-up, where the manual's is taken away again, and where both differ it
    // is said.
    let mut makeup = tests::Farmstead::planter_body(&stead.grower)["makeup"].clone();
    makeup["unit"]["opener"]["manual_limit"] = inches(14.45);
    let planter = format!("/v1/planters/{}", stead.planter);
    app.lead.patch(&planter, "*", &json!({"makeup": makeup})).await.assert_status(200);
    let both = app.lead.get(&path(&stead, "wear-limits")).await.json();
    assert!(
        limit(&both, "opener_diameter")["differs"]
            .as_str()
            .is_some_and(|it| it.contains("14.45 in"))
    );
    app.grower
        .put(&path(&stead, "wear-limits"), "*", &json!({"parts": []}))
        .await
        .assert_status(200);
    assert_eq!(app.lead.get(&parts).await.json()["items"][0]["count"], 2);
}

#[tokio::test]
async fn a_figure_of_the_practice_counts_where_no_manual_is_at_hand() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    inspect(&app.grower, &stead, &on("2027-03-12", discs(&[(1, 14.4)]))).await;
    let parts = format!("/v1/parts-list?planter_id={}", stead.planter);
    let figure = json!({"value": 1.0, "low": 0.9, "high": 1.1, "unit": "[in_i]", "source": "our own shop, 2026"});
    app.lead.put("/v1/coefficients/disc_wear_limit", "\"0\"", &figure).await.assert_status(200);
    assert_eq!(app.lead.get(&parts).await.json()["items"], json!([]));
    app.lead
        .send("DELETE", "/v1/coefficients/disc_wear_limit", &[("if-match", "*")], None)
        .await
        .assert_status(204);
    assert_eq!(app.lead.get(&parts).await.json()["items"][0]["count"], 2);
}

#[tokio::test]
async fn limits_that_no_part_can_reach_are_refused() {
    let app = TestApp::start().await;
    let stead = planter(&app).await;
    let at = path(&stead, "wear-limits");
    for (part, pointer) in [
        (json!({"item": "opener_diameter", "replace_at": inches(15.5)}), "/parts/0/replace_at"),
        (json!({"item": "opener_diameter", "replace_at": inches(15.0)}), "/parts/0/replace_at"),
        (json!({"item": "opener_diameter", "new_size": inches(15.0)}), "/parts/0/new_size"),
        (
            json!({"item": "coulter_diameter", "new_size": inches(16.0), "replace_at": inches(17.0)}),
            "/parts/0/replace_at",
        ),
        (
            json!({"item": "coulter_diameter", "watch_at": inches(16.0), "replace_at": inches(16.5)}),
            "/parts/0/watch_at",
        ),
        (
            json!({"item": "arm_play_vertical", "watch_at": inches(1.5), "replace_at": inches(1.0)}),
            "/parts/0/watch_at",
        ),
        (json!({"item": "closing_gap", "price_each": 3}), "/parts/0/item"),
        (json!({"item": "seed_tube", "replace_at": inches(1.0)}), "/parts/0/replace_at"),
        (json!({"item": "seed_tube", "price_each": -1}), "/parts/0/price_each"),
        (json!({"item": "seed_tube", "price_each": 12}), "/currency"),
    ] {
        let answer = app.grower.put(&at, "*", &json!({"parts": [part]})).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let twice = json!({"parts": [{"item": "seed_tube"}, {"item": "seed_tube"}]});
    let answer = app.grower.put(&at, "*", &twice).await;
    answer.assert_problem(422, "invalid_request").assert_member("/parts/1/item");
    let blade = json!({"blade_thickness": inches(3.0)});
    let answer = app.grower.put(&at, "*", &blade).await;
    answer.assert_problem(422, "invalid_request").assert_member("/blade_thickness");
    let answer = app.grower.send("PUT", &at, &[], Some(&json!({}))).await;
    answer.assert_problem(428, "precondition_required");
}
