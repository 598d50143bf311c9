//! The accounts of a practice, and one's own.

mod lead;
mod manage;
mod passwords;

use serde_json::json;
use tests::TestApp;

#[tokio::test]
async fn name_and_units_can_be_changed_and_nothing_else() {
    let app = TestApp::start().await;
    let before = app.grower.get("/v1/accounts/me").await.assert_status(200).json();
    assert_eq!(before["units"], "us");
    assert_eq!(before["grower_id"], app.own_grower_id.as_str());
    let change = json!({"display_name": " Jo ", "units": "si"});
    let answer = app.grower.send("PATCH", "/v1/accounts/me", &[], Some(&change)).await;
    let after = answer.assert_status(200).json();
    assert_eq!((&after["display_name"], &after["units"]), (&json!("Jo"), &json!("si")));
    assert_eq!(app.grower.get("/v1/accounts/me").await.json(), after);
    for (change, pointer) in [
        (json!({"role": "lead"}), "/role"),
        (json!({"units": "metric"}), "/units"),
        (json!({"display_name": ""}), "/display_name"),
        (json!({"display_name": null}), "/display_name"),
    ] {
        let answer = app.grower.send("PATCH", "/v1/accounts/me", &[], Some(&change)).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}
