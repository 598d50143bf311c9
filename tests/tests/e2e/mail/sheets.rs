//! "Your sheet is ready": only to growers who agreed, with an address that shows that sheet.

use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

use super::{Receiver, address_in, app_with, assert_sound, find, path_of, read};

/// A grower with this address who agreed, or not.
async fn grower(app: &TestApp, name: &str, email: &str, agreed: bool) -> Farmstead {
    let body = json!({"name": name, "email": email});
    let grower = app.lead.create("/v1/growers", &body).await;
    if agreed {
        let path = format!("/v1/growers/{grower}/mail");
        app.lead.put(&path, "*", &json!({"sheets": true})).await.assert_status(200);
    }
    Farmstead::of_grower(&app.lead, &grower).await
}

async fn is_queued(lead: &User) -> bool {
    lead.get("/v1/jobs").await.assert_status(200).json()["items"] != json!([])
}

#[tokio::test]
async fn a_grower_who_agreed_gets_an_address_that_shows_the_sheet() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    let name = "Zoë, \"Lee\" & Sons; <b>";
    let stead = grower(&app, name, "zoe@example.org", true).await.with_sheet(&app.lead).await;
    let received = receiver.wait_for(1).await;
    assert_sound(&received[0], "zoe@example.org");
    let message = read(&received[0].raw);
    assert_eq!(message.subject(), Some("Your settings sheet for North forty is ready"));
    let to = message.to().expect("a To").first().expect("one").name.clone();
    assert_eq!(to.as_deref(), Some(name));
    let text = message.body_text(0).expect("text").into_owned();
    assert!(text.contains("The eight-row"));
    let sheet = path_of(find(&text, "http://127.0.0.1:8180/sheets/")).to_owned();
    let html = message.body_html(0).expect("HTML");
    assert!(html.contains(&sheet) && !html.contains("<script"));

    let shown = app.nobody.get(&sheet).await.assert_status(200);
    assert!(shown.header("content-type").starts_with("text/html"));
    assert!(shown.header("cache-control").contains("no-store"));
    assert_eq!(shown.header("referrer-policy"), "no-referrer");
    assert!(shown.text.contains("North forty"));
    let wrong = format!("{}x", &sheet[..sheet.len() - 1]);
    app.nobody.get(&wrong).await.assert_problem(404, "not_found");
    // Looking is not confirming.
    let path = format!("/v1/recommendations/{}", stead.recommendation);
    assert_eq!(app.lead.get(&path).await.json()["status"], "issued");

    app.clock.advance(TimeDelta::days(14));
    app.nobody.get(&sheet).await.assert_problem(404, "not_found");
}

#[tokio::test]
async fn nobody_gets_mail_who_did_not_agree_or_stopped_it() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    grower(&app, "Silent", "silent@example.org", false).await.with_sheet(&app.lead).await;
    assert!(!is_queued(&app.lead).await);
    let stead = grower(&app, "Agreed", "agreed@example.org", true).await;
    let stead = stead.with_sheet(&app.lead).await;
    let received = receiver.wait_for(1).await;
    assert_sound(&received[0], "agreed@example.org");

    let message = read(&received[0].raw);
    assert_eq!(
        message.header_raw("List-Unsubscribe-Post").map(str::trim),
        Some("List-Unsubscribe=One-Click")
    );
    let stop = path_of(&address_in(&message, "List-Unsubscribe")).to_owned();
    let mail = format!("/v1/growers/{}/mail", stead.grower);
    let page = app.nobody.get(&stop).await.assert_status(200);
    assert!(page.text.contains("<form method=\"post\">"));
    assert_eq!(app.lead.get(&mail).await.json()["sheets"], true, "reading changes nothing");
    let form = [("content-type", "application/x-www-form-urlencoded")];
    let one_click = Some("List-Unsubscribe=One-Click".to_owned());
    app.nobody.send_text("POST", &stop, &form, one_click).await.assert_status(200);
    assert_eq!(app.lead.get(&mail).await.json()["sheets"], false);

    let path = format!("/v1/recommendations/{}/revise", stead.recommendation);
    let next = app.lead.post(&path, &json!({})).await.assert_status(201).id();
    let path = format!("/v1/recommendations/{next}/issue");
    app.lead.send("POST", &path, &[("if-match", "*")], None).await.assert_status(200);
    let jobs = app.lead.get("/v1/jobs").await.json();
    assert_eq!(jobs["items"].as_array().expect("jobs").len(), 1, "{jobs}");
}

#[tokio::test]
async fn what_a_server_refuses_for_good_is_shown_to_the_lead_and_can_be_tried_again() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    let stead = grower(&app, "Moved", "gone@example.org", true).await.with_sheet(&app.lead).await;
    let path = "/v1/attention?kind=job_failed";
    let mut list = json!({"items": []});
    for _ in 0..100 {
        list = app.lead.get(path).await.assert_status(200).json();
        if list["items"] != json!([]) {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    let entry = &list["items"][0];
    assert_eq!(entry["grower"]["name"], "Moved");
    let reason = entry["reason"].as_str().expect("a reason");
    assert!(reason.contains("1 try") && reason.contains("550"), "{reason}");
    assert!(!list.to_string().contains("gone@"), "no address in it: {list}");
    let seen = app.advisor.get(path).await.assert_status(200).json();
    assert_eq!(seen["items"], json!([]), "only the lead sees it");

    let job = entry["object_path"].as_str().expect("a path");
    assert_eq!(app.lead.get(job).await.json()["status"], "dead");
    app.advisor.get(job).await.assert_problem(403, "forbidden");
    app.stranger.get(job).await.assert_problem(404, "not_found");
    let grower = format!("/v1/growers/{}", stead.grower);
    app.lead.patch(&grower, "*", &json!({"email": "here@example.org"})).await.assert_status(200);
    let retry = format!("{job}/retry");
    app.lead.send("POST", &retry, &[], None).await.assert_status(200);
    let received = receiver.wait_for(1).await;
    assert_sound(&received[0], "here@example.org");
    app.lead.send("POST", &retry, &[], None).await.assert_problem(409, "wrong_state");
    app.lead.delete(job).await.assert_problem(409, "wrong_state");
}

/// The job that failed and waits, once it does; a mail is there a moment before its job is done.
async fn put_off(app: &TestApp) -> Value {
    for _ in 0..300 {
        let jobs = app.lead.get("/v1/jobs?status=waiting").await.json();
        let waiting = jobs["items"].as_array().expect("jobs").clone();
        if let Some(failed) = waiting.into_iter().find(|job| job["last_error"].is_string()) {
            return failed;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    panic!("no job failed");
}

#[tokio::test]
async fn a_slow_and_a_failing_mail_hold_up_no_other() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    for (name, email) in [("One", "slow@example.org"), ("Two", "full@example.org")] {
        grower(&app, name, email, true).await.with_sheet(&app.lead).await;
    }
    grower(&app, "Three", "quick@example.org", true).await.with_sheet(&app.lead).await;
    let received = receiver.wait_for(1).await;
    assert_eq!(received[0].to, ["quick@example.org"], "it did not wait for the slow one");
    let received = receiver.wait_for(2).await;
    assert_eq!(received[1].to, ["slow@example.org"]);
    // The third waits for its next try.
    let failed = put_off(&app).await;
    assert_eq!(failed["attempts"], 1);
    assert!(failed["last_error"].as_str().expect("why").contains("452"), "{failed}");
    assert!(failed["next_try_at"].as_str() > Some("2027-04-20T12:00:14"), "{failed}");
    app.stop().await;
}
