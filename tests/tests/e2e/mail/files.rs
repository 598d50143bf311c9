//! Without a server mail goes into files, and none is lost.

use serde_json::json;
use tests::{Farmstead, TestApp};

use super::read;

#[tokio::test]
async fn mail_is_a_file_when_there_is_no_server() {
    let folder = tempfile::TempDir::new().expect("a folder");
    let dir = folder.path().join("out");
    let into = dir.clone();
    let app = TestApp::start_with(|settings| {
        settings.job_seconds = 1;
        settings.mail.dir = Some(into);
    })
    .await;
    let body = json!({"name": "Filed", "email": "filed@example.org"});
    let grower = app.lead.create("/v1/growers", &body).await;
    let agreed = json!({"sheets": true});
    app.lead.put(&format!("/v1/growers/{grower}/mail"), "*", &agreed).await.assert_status(200);
    let stead = Farmstead::of_grower(&app.lead, &grower).await;
    stead.with_sheet(&app.lead).await;
    for _ in 0..100 {
        if app.lead.get("/v1/jobs?status=done").await.json()["items"] != json!([]) {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    let files: Vec<_> = std::fs::read_dir(&dir).expect("the folder").flatten().collect();
    assert_eq!(files.len(), 1, "one whole file, nothing half written");
    let path = files[0].path();
    assert_eq!(path.extension().and_then(|it| it.to_str()), Some("eml"));
    let raw = std::fs::read(path).expect("a file");
    let message = read(&raw);
    assert_eq!(
        message.to().expect("To").first().expect("one").address.as_deref(),
        Some("filed@example.org")
    );
}

#[tokio::test]
async fn a_folder_that_can_not_be_written_loses_no_mail() {
    let folder = tempfile::TempDir::new().expect("a folder");
    let blocked = folder.path().join("file");
    std::fs::write(&blocked, "in the way").expect("a file");
    let into = blocked.clone();
    let app = TestApp::start_with(|settings| {
        settings.job_seconds = 1;
        settings.mail.dir = Some(into);
    })
    .await;
    let path = format!("/v1/accounts/{}/password-links/mail", app.advisor.account_id);
    app.lead.send("POST", &path, &[], None).await.assert_status(202);
    let mut job = json!({});
    for _ in 0..100 {
        job = app.lead.get("/v1/jobs").await.json()["items"][0].clone();
        if job["last_error"].is_string() {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    assert_eq!((job["status"].as_str(), job["attempts"].as_i64()), (Some("waiting"), Some(1)));
    std::fs::remove_file(&blocked).expect("out of the way");
    app.clock.advance(chrono::TimeDelta::minutes(2));
    for _ in 0..100 {
        if blocked.join(format!("{}.eml", job["id"].as_str().expect("an id"))).exists() {
            return;
        }
        tokio::time::sleep(std::time::Duration::from_millis(100)).await;
    }
    panic!("the mail is lost");
}
