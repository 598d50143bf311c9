//! Records systems over TLS, as they are outside of tests.

use actix_web::HttpResponse;
use serde_json::{Value, json};
use tempfile::NamedTempFile;
use tests::TestApp;
use tests::tls::{ALWAYS, Authority, Identity, TlsFront};

use super::land::{Land, link_to, system_of};
use super::stand_in::StandIn;
use super::{Link, counts, how_many};

/// A service that trusts this authority. `localhost` may also be the address of IPv6.
async fn trusting(authority: &Authority) -> (TestApp, NamedTempFile) {
    let file = authority.file();
    let app = TestApp::start_with(|settings| {
        settings.outgoing.allow.push("::1/128".parse().expect("a network"));
        settings.outgoing.ca = Some(file.path().to_owned());
    })
    .await;
    (app, file)
}

/// The link to a system, by way of a front.
fn link_by(system: &StandIn, front: &TlsFront) -> Value {
    let mut link = link_to(system);
    let base = link["base_url"].as_str().expect("an address");
    link["base_url"] = json!(base.replace(&system.base, &front.base()));
    link
}

fn by_token(mut link: Value, front: &TlsFront) -> Value {
    link["auth"] = json!({
        "kind": "client_credentials", "token_url": format!("{}/oauth/token", front.base()),
        "client_id": "an id", "secret": "a long secret of theirs"
    });
    link
}

#[tokio::test]
async fn all_is_fetched_over_tls_the_token_too() {
    let authority = Authority::make();
    let (app, _file) = trusting(&authority).await;
    let land = Land::with(10);
    let (system, _) = system_of(land.clone()).await;
    system.answers(move |asked| match asked.path.as_str() {
        "/oauth/token" => HttpResponse::Ok().json(json!({
            "access_token": "a-token", "token_type": "Bearer", "expires_in": 600
        })),
        _ if asked.header("authorization") != "Bearer a-token" => {
            HttpResponse::Unauthorized().finish()
        }
        _ => land.answer(asked),
    });
    let front = TlsFront::start(authority.identity("localhost", ALWAYS), &system.base).await;
    let link = Link::make(&app.lead, &by_token(link_by(&system, &front), &front)).await;
    let tested = link.test().await;
    assert_eq!(tested["good"], true, "{tested}");
    let run = link.apply(&app).await;
    assert_eq!(counts(&run, "field")["created"], 10);
    assert_eq!(how_many(&app, "/v1/fields").await, 10);
    let asked = system.take();
    assert!(asked.iter().any(|it| it.path == "/oauth/token"));
    assert!(asked.iter().all(|it| it.header("host") == format!("localhost:{}", front.port)));
    system.stop().await;
}

#[tokio::test]
async fn a_certificate_that_is_not_good_ends_the_run_and_the_run_says_why() {
    let authority = Authority::make();
    let (app, _file) = trusting(&authority).await;
    let (system, _land) = system_of(Land::with(3)).await;
    let unknown = "comes from an authority that the service does not know";
    for (identity, why) in [
        (Authority::named("Another").identity("localhost", ALWAYS), unknown),
        (Identity::by_itself("localhost").0, unknown),
        (authority.identity("records.example", ALWAYS), "is for another name"),
        (authority.identity("localhost", (2000, 2020)), "has expired"),
    ] {
        let front = TlsFront::start(identity, &system.base).await;
        let link = Link::make(&app.lead, &link_by(&system, &front)).await;
        let stopped = link.stopped(&app).await;
        let tested = link.test().await;
        for stopped in [&stopped, &tested["resources"][0]["stopped"]] {
            assert_eq!(stopped["code"], "unreachable", "{stopped}");
            let said = stopped["detail"].as_str().expect("why");
            assert!(said.contains("certificate") && said.contains(why), "{said}, and not {why}");
        }
        app.lead.send("DELETE", &link.path(), &[], None).await.assert_status(204);
    }
    assert!(system.take().is_empty(), "nothing was asked of any of them");
    assert_eq!(how_many(&app, "/v1/fields").await, 0);
    system.stop().await;
}

#[tokio::test]
async fn an_id_and_a_secret_go_to_nobody_whose_certificate_is_not_good() {
    let authority = Authority::make();
    let (app, _file) = trusting(&authority).await;
    let (system, _land) = system_of(Land::with(3)).await;
    let good = TlsFront::start(authority.identity("localhost", ALWAYS), &system.base).await;
    let other = authority.identity("tokens.example", ALWAYS);
    let tokens = TlsFront::start(other, &system.base).await;
    let link = Link::make(&app.lead, &by_token(link_by(&system, &good), &tokens)).await;
    let stopped = link.stopped(&app).await;
    assert_eq!(stopped["code"], "unreachable");
    assert!(stopped["detail"].as_str().expect("why").contains("is for another name"), "{stopped}");
    assert!(system.take().is_empty());
    system.stop().await;
}

#[tokio::test]
async fn nothing_leads_from_tls_to_plain_http() {
    let authority = Authority::make();
    let (app, _file) = trusting(&authority).await;
    let land = Land::with(10);
    let (system, _) = system_of(land.clone()).await;
    let front = TlsFront::start(authority.identity("localhost", ALWAYS), &system.base).await;
    let (plain, _) = system_of(land.clone()).await;
    let link = Link::make(&app.lead, &link_by(&system, &front)).await;

    // Plain http goes there otherwise: the network is allowed.
    let there = format!("{}/api/farms", plain.base);
    let to = there.clone();
    system.answers(move |_| {
        HttpResponse::TemporaryRedirect().insert_header(("location", to.clone())).finish()
    });
    let stopped = link.stopped(&app).await;
    assert_eq!(stopped["code"], "address_refused", "{stopped}");
    let said = stopped["detail"].as_str().expect("why");
    assert!(said.contains("redirects") && said.contains("From https"), "{said}");

    let next = there.replace("127.0.0.1", "localhost");
    system.answers(move |_| HttpResponse::Ok().json(json!({"data": [], "links": {"next": next}})));
    let stopped = link.stopped(&app).await;
    assert_eq!(stopped["code"], "other_origin", "{stopped}");
    assert!(plain.take().is_empty(), "nobody went there");

    // To another path of its own it may lead.
    system.answers(move |asked| match asked.target.strip_prefix("/api/farms?old") {
        Some(_) => HttpResponse::Found().insert_header(("location", "/api/farms")).finish(),
        None => land.answer(asked),
    });
    assert_eq!(counts(&link.apply(&app).await, "field")["created"], 10);
    system.stop().await;
    plain.stop().await;
}
