//! Receivers over TLS, as they are outside of tests: who is trusted, who is not, and what is said of it.

use std::path::Path;

use api::app::{App, Config, StartError};
use api::clock::SystemClock;
use api::config::Settings;
use chrono::TimeDelta;
use serde_json::json;
use std::sync::Arc;
use tests::tls::{ALWAYS, Authority, Identity, TlsFront};
use tests::{TestApp, TestDatabase};

use super::{Hook, Receiver, change, pump};

/// A service that trusts the authorities of a file. `localhost` may also be the address of IPv6.
async fn trusting(file: &Path) -> TestApp {
    let file = file.to_owned();
    TestApp::start_with(|settings| {
        settings.outgoing.allow.push("::1/128".parse().expect("a network"));
        settings.outgoing.ca = Some(file);
    })
    .await
}

/// What is kept of the first try of a notice to this address.
async fn refused(app: &TestApp, url: &str) -> String {
    let hook = Hook::make(app, url, json!({})).await;
    change(app, &format!("Told at {url}")).await;
    pump(app).await;
    let delivery = hook.deliveries(app, "").await.remove(0);
    assert_eq!((&delivery["status"], &delivery["attempts"]), (&json!("waiting"), &json!(1)));
    assert!(delivery.get("last_status").is_none(), "nobody answered: {delivery}");
    assert!(hook.read(app).await["failing_since"].is_string());
    app.lead.send("DELETE", &hook.path(), &[], None).await.assert_status(204);
    delivery["last_error"].as_str().expect("why").to_owned()
}

#[tokio::test]
async fn a_notice_arrives_over_tls_by_name_and_by_address() {
    let authority = Authority::make();
    let file = authority.file();
    let app = trusting(file.path()).await;
    let by_name = || authority.identity("localhost", ALWAYS);
    for (identity, host, versions) in [
        (by_name(), "localhost", rustls::ALL_VERSIONS),
        (by_name(), "LOCALHOST", &[&rustls::version::TLS12]),
        (by_name(), "localhost", &[&rustls::version::TLS13]),
        (authority.identity_below("localhost", true), "localhost", rustls::ALL_VERSIONS),
        (authority.identity("127.0.0.1", ALWAYS), "127.0.0.1", rustls::ALL_VERSIONS),
    ] {
        let receiver = Receiver::start().await;
        let front = TlsFront::with_versions(identity, &receiver.url, versions).await;
        let url = format!("https://{host}:{}/notices", front.port);
        let hook = Hook::make(&app, &url, json!({"types": ["grower.created"]})).await;
        let grower = change(&app, &format!("Told at {url}")).await;
        pump(&app).await;
        let notices = receiver.take();
        assert_eq!(notices.len(), 1, "{url}");
        assert!(notices[0].is_signed_with(&hook.secret));
        assert_eq!(notices[0].json()["data"]["id"], json!(grower));
        let delivery = hook.deliveries(&app, "").await.remove(0);
        assert_eq!(delivery["status"], "delivered", "{url}: {delivery}");
        assert_eq!(delivery["last_status"], 204);
        app.lead.send("DELETE", &hook.path(), &[], None).await.assert_status(204);
    }
}

#[tokio::test]
async fn a_server_that_signed_its_certificate_itself_can_be_trusted() {
    let (identity, file) = Identity::by_itself("localhost");
    let app = trusting(file.path()).await;
    let receiver = Receiver::start().await;
    let front = TlsFront::start(identity, &receiver.url).await;
    let hook = Hook::make(&app, &format!("{}/notices", front.base()), json!({})).await;
    change(&app, "Walnut Grove").await;
    pump(&app).await;
    assert_eq!(hook.deliveries(&app, "").await[0]["status"], "delivered");
    assert_eq!(receiver.count(), 1);
}

#[tokio::test]
async fn a_certificate_that_is_not_good_is_refused_and_it_is_said_why() {
    let authority = Authority::make();
    let file = authority.file();
    let app = trusting(file.path()).await;
    let receiver = Receiver::start().await;
    let unknown = "comes from an authority that the service does not know";
    for (identity, why) in [
        (Authority::named("Another").identity("localhost", ALWAYS), unknown),
        // It only calls itself like the one that is trusted.
        (Authority::make().identity("localhost", ALWAYS), "was not signed by the authority"),
        (Identity::by_itself("localhost").0, unknown),
        (authority.identity_below("localhost", false), "those between are not sent along"),
        (authority.identity("records.example", ALWAYS), "is for another name"),
        (authority.identity("127.0.0.1", ALWAYS), "is for another name"),
        (authority.identity("localhost", (2000, 2020)), "has expired"),
        (authority.identity("localhost", (2800, 2900)), "is not valid yet"),
    ] {
        let front = TlsFront::start(identity, &receiver.url).await;
        let said = refused(&app, &format!("{}/notices", front.base())).await;
        assert!(said.starts_with("No safe connection: the certificate"), "{said}");
        assert!(said.contains(why), "{said}, and not {why}");
    }
    // A server that speaks no TLS, and a port where nobody is.
    let plain = receiver.url.replace("http://127.0.0.1", "https://localhost");
    let said = refused(&app, &plain).await;
    assert!(said.contains("speaks no TLS"), "{said}");
    let nobody = tokio::net::TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let port = nobody.local_addr().expect("an address").port();
    drop(nobody);
    let said = refused(&app, &format!("https://localhost:{port}/")).await;
    assert!(said.contains("nobody answers"), "{said}");
    assert_eq!(receiver.count(), 0, "nothing was said to any of them");
}

#[tokio::test]
async fn without_the_setting_the_authority_is_unknown_and_once_it_is_known_all_arrives() {
    let authority = Authority::make();
    let app = TestApp::start_with(|settings| {
        settings.outgoing.allow.push("::1/128".parse().expect("a network"));
    })
    .await;
    let receiver = Receiver::start().await;
    let front = TlsFront::start(authority.identity("localhost", ALWAYS), &receiver.url).await;
    let hook = Hook::make(&app, &format!("{}/notices", front.base()), json!({})).await;
    change(&app, "Walnut Grove").await;
    pump(&app).await;
    let why = hook.deliveries(&app, "").await[0]["last_error"].clone();
    // A computer without any list of authorities can't use https at all.
    let why = why.as_str().expect("why");
    assert!(why.contains("authority") || why.contains("no certificates of authorities"), "{why}");
    assert_eq!(receiver.count(), 0);

    // The operator adds it and starts again.
    let file = authority.file();
    let mut settings = app.state().settings.clone();
    settings.outgoing.ca = Some(file.path().to_owned());
    app.clock.advance(TimeDelta::hours(1));
    let config = Config::with_clock(settings, app.clock.clone());
    let again = App::state(&config).await.expect("it starts");
    api::notices::deliver_all_due(&again).await.expect("delivered");
    assert_eq!(hook.deliveries(&app, "").await[0]["status"], "delivered");
    assert_eq!(receiver.count(), 1);
}

#[tokio::test]
async fn a_service_does_not_start_with_a_file_that_is_of_no_use() {
    let database = TestDatabase::make().await;
    let folder = tempfile::tempdir().expect("a folder");
    let (missing, words) = (folder.path().join("missing.pem"), folder.path().join("words.pem"));
    std::fs::write(&words, "not a certificate").expect("written");
    for (path, why) in [(missing, "can't be read"), (words, "holds no certificate")] {
        let mut settings = Settings::on(database.url.clone());
        settings.outgoing.ca = Some(path.clone());
        let error = App::build(Config::with_clock(settings, Arc::new(SystemClock))).await;
        let error = error.expect_err("it does not start");
        assert!(matches!(error, StartError::Authorities(_)), "{error:?}");
        let said = error.to_string();
        let name = path.display().to_string();
        assert!(said.contains(why) && said.contains(&name), "{said}");
        assert!(said.contains("DIBBLE_OUTGOING_CA"), "{said}");
    }
}
