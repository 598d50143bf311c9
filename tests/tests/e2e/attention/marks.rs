//! Put off, come back, given to somebody.

use api::auth::role::Role;
use serde_json::json;
use tests::{Farmstead, TestApp};

use super::{advisor, lead, list, of_kind};

async fn failing(app: &TestApp, name: &str) -> (Farmstead, String) {
    let stead = Farmstead::make(&app.lead, name).await;
    stead.issue(&app.lead).await;
    let stead = stead.with_dig(&app.lead).await;
    let key = format!("dig_failed.{}", stead.recommendation);
    (stead, key)
}

#[tokio::test]
async fn what_is_put_off_comes_back_on_its_day_or_when_something_new_happens() {
    let app = TestApp::start().await;
    let (stead, key) = failing(&app, "Under water").await;
    let snooze = format!("/v1/attention/{key}/snooze");
    let later = json!({"until": "2027-04-22", "reason": "The field is under water."});
    let entry = advisor(&app).post(&snooze, &later).await.assert_status(200).json();
    assert_eq!(entry["snooze"]["until"], "2027-04-22");
    assert_eq!(entry["snooze"]["in_force"], true);
    assert!(of_kind(&lead(&app), "dig_failed").await.is_empty());
    let all = list(&lead(&app), "kind=dig_failed&include_snoozed=true").await;
    assert_eq!(all[0]["snooze"]["reason"], "The field is under water.");
    app.clock.set("2027-04-21T23:59:59Z".parse().expect("a time"));
    assert!(of_kind(&lead(&app), "dig_failed").await.is_empty());
    app.clock.set("2027-04-22T00:00:00Z".parse().expect("a time"));
    let back = of_kind(&lead(&app), "dig_failed").await;
    assert_eq!(back[0]["snooze"]["in_force"], false, "it says that it was put off");

    let later = json!({"until": "2027-05-10", "reason": "Still."});
    lead(&app).post(&snooze, &later).await.assert_status(200);
    assert!(of_kind(&lead(&app), "dig_failed").await.is_empty());
    app.clock.set("2027-04-23T12:00:00Z".parse().expect("a time"));
    let mut dig = Farmstead::dig_body();
    dig["dug_at"] = json!("2027-04-23T11:00:00Z");
    let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    lead(&app).post(&path, &dig).await.assert_status(201);
    let woken = of_kind(&lead(&app), "dig_failed").await;
    assert_eq!(
        (woken.len(), woken[0]["key"].as_str()),
        (1, Some(key.as_str())),
        "another dig wakes it"
    );

    lead(&app).post(&snooze, &later).await.assert_status(200);
    lead(&app).delete(&snooze).await.assert_status(204);
    let woken = of_kind(&lead(&app), "dig_failed").await;
    assert!(woken[0].get("snooze").is_none());
    let trail = lead(&app).get(&format!("/v1/audit-events?object_id={key}")).await.json();
    let done: Vec<&str> = trail["items"]
        .as_array()
        .expect("items")
        .iter()
        .filter_map(|it| it["operation"].as_str())
        .collect();
    assert_eq!(
        done,
        ["snooze_attention", "snooze_attention", "snooze_attention", "wake_attention"]
    );
    assert_eq!(trail["items"][0]["grower_id"], stead.grower);
}

#[tokio::test]
async fn what_is_given_to_somebody_is_his_and_nobody_elses() {
    let app = TestApp::start().await;
    let (stead, key) = failing(&app, "Given away").await;
    let mine = json!({"advisor_id": app.advisor.account_id});
    lead(&app).patch(&format!("/v1/growers/{}", stead.grower), "*", &mine).await.assert_status(200);
    let keys = |items: Vec<serde_json::Value>| -> Vec<String> {
        items.iter().filter_map(|it| it["key"].as_str().map(str::to_owned)).collect()
    };
    assert!(keys(list(&advisor(&app), "mine=true").await).contains(&key));
    assert!(!keys(list(&lead(&app), "mine=true").await).contains(&key));
    let assign = format!("/v1/attention/{key}/assign");
    let to_lead = json!({"account_id": app.lead.account_id});
    let entry = advisor(&app).post(&assign, &to_lead).await.assert_status(200).json();
    assert_eq!(entry["assigned_to"]["id"], app.lead.account_id);
    assert_eq!(entry["advisor"]["id"], app.advisor.account_id);
    assert!(!keys(list(&advisor(&app), "mine=true").await).contains(&key));
    assert!(keys(list(&lead(&app), "mine=true").await).contains(&key));
    assert!(keys(list(&advisor(&app), "").await).contains(&key), "all is all");
    lead(&app).delete(&assign).await.assert_status(204);
    assert!(keys(list(&advisor(&app), "mine=true").await).contains(&key));

    for nobody in [&app.grower, &app.stranger, &app.read_only] {
        let to = json!({"account_id": nobody.account_id});
        let refused = lead(&app).post(&assign, &to).await.assert_problem(422, "invalid_request");
        refused.assert_member("/account_id");
    }
    let setting = json!({"advisors_see": "assigned"});
    lead(&app).patch("/v1/practice", "*", &setting).await.assert_status(200);
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let to = json!({"account_id": colleague.account_id});
    let refused = lead(&app).post(&assign, &to).await.assert_problem(422, "invalid_request");
    refused.assert_member("/account_id");
    colleague.post(&assign, &to).await.assert_problem(404, "not_found");
    assert!(list(&colleague, "").await.is_empty());
}

#[tokio::test]
async fn what_is_not_on_the_list_can_not_be_put_off_and_days_are_checked() {
    let app = TestApp::start().await;
    let (stead, key) = failing(&app, "Checked").await;
    let later = json!({"until": "2027-04-22", "reason": "Later."});
    for wrong in [
        format!("dig_overdue.{}", stead.recommendation),
        format!("dig_failed.{}", stead.grower),
        "dig_failed".to_owned(),
        "anything.at-all".to_owned(),
    ] {
        let path = format!("/v1/attention/{wrong}/snooze");
        lead(&app).post(&path, &later).await.assert_problem(404, "not_found");
        lead(&app).delete(&path).await.assert_problem(404, "not_found");
    }
    let snooze = format!("/v1/attention/{key}/snooze");
    app.stranger.post(&snooze, &later).await.assert_problem(404, "not_found");
    app.read_only.post(&snooze, &later).await.assert_problem(403, "forbidden");
    for until in ["2027-04-20", "2027-04-19", "2028-04-30"] {
        let bad = json!({"until": until, "reason": "Later."});
        let refused = lead(&app).post(&snooze, &bad).await.assert_problem(422, "invalid_request");
        refused.assert_member("/until");
    }
    let bad = json!({"until": "2027-04-22", "reason": "two\nlines"});
    lead(&app)
        .post(&snooze, &bad)
        .await
        .assert_problem(422, "invalid_request")
        .assert_member("/reason");
    // The same request sent again is answered the same and stands in the trail once.
    let key_header = [("idempotency-key", "one")];
    let first =
        lead(&app).send("POST", &snooze, &key_header, Some(&later)).await.assert_status(200);
    let again =
        lead(&app).send("POST", &snooze, &key_header, Some(&later)).await.assert_status(200);
    assert_eq!(first.json(), again.json());
    let trail = lead(&app).get(&format!("/v1/audit-events?object_id={key}")).await.json();
    assert_eq!(trail["items"].as_array().expect("items").len(), 1);
}
