//! Links by mail, where they were asked for. They are made when the mail goes out.

use serde_json::json;

use super::{Receiver, app_with, assert_sound, find, read};

#[tokio::test]
async fn a_password_link_by_mail_sets_the_password() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    let path = format!("/v1/accounts/{}/password-links/mail", app.advisor.account_id);
    app.advisor.send("POST", &path, &[], None).await.assert_problem(403, "forbidden");
    let queued = app.lead.send("POST", &path, &[], None).await.assert_status(202);
    assert!(!queued.text.contains("token"));
    let received = receiver.wait_for(1).await;
    assert_sound(&received[0], "advisor@example.org");
    let message = read(&received[0].raw);
    assert!(message.header("List-Unsubscribe").is_none(), "it was asked for");
    let text = message.body_text(0).expect("text").into_owned();
    let token = text.lines().map(str::trim).find(|line| line.len() == 43).expect("a token");
    let body = json!({"token": token, "new_password": "another long enough one"});
    app.nobody.post("/v1/password-links/redeem", &body).await.assert_status(204);
    let job = queued.json()["job_id"].as_str().expect("a job").to_owned();
    let job = app.lead.get(&format!("/v1/jobs/{job}")).await.assert_status(200);
    assert!(!job.text.contains(token) && !job.text.contains("advisor@"), "{}", job.text);
}

#[tokio::test]
async fn an_access_link_by_mail_lets_the_grower_in() {
    let receiver = Receiver::start();
    let app = app_with(&receiver).await;
    let body = json!({"grower_id": app.own_grower_id});
    app.lead.post("/v1/access-links/mail", &body).await.assert_problem(409, "wrong_state");
    let grower = format!("/v1/growers/{}", app.own_grower_id);
    let email = json!({"email": "miller@example.org"});
    app.lead.patch(&grower, "*", &email).await.assert_status(200);
    app.lead.post("/v1/access-links/mail", &body).await.assert_status(202);
    let received = receiver.wait_for(1).await;
    assert_sound(&received[0], "miller@example.org");
    let text = read(&received[0].raw).body_text(0).expect("text").into_owned();
    let url = find(&text, "http://127.0.0.1:8180/go#");
    let token = json!({"token": url.split('#').next_back()});
    let session = app.nobody.post("/v1/access-links/redeem", &token).await.assert_status(201);
    assert_eq!(session.json()["account"]["role"], "grower");
}
