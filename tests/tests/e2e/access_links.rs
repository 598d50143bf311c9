//! Access links: a grower comes in without a password.

use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::{Answer, TestApp, User};

const LINKS: &str = "/v1/access-links";

/// Makes a link for a grower who has no account yet; gives its path and its token.
async fn link(app: &TestApp, grower: &str, more: Value) -> (String, String) {
    let mut body = json!({"grower_id": grower});
    for (name, value) in more.as_object().expect("members") {
        body[name] = value.clone();
    }
    let made = app.advisor.post(LINKS, &body).await.assert_status(201);
    assert_eq!(made.header("cache-control"), "no-store");
    let path = made.header("location").to_owned();
    (path, made.json()["token"].as_str().expect("a token").to_owned())
}

async fn redeem(app: &TestApp, token: &str) -> Answer {
    app.nobody.post("/v1/access-links/redeem", &json!({"token": token})).await
}

async fn session(app: &TestApp, token: &str) -> (User, Value) {
    let body = redeem(app, token).await.assert_status(201).json();
    (app.nobody.with_token(body["access_token"].as_str().expect("a token")), body)
}

async fn neighbour(app: &TestApp) -> String {
    app.lead.create("/v1/growers", &json!({"name": "The neighbours"})).await
}

#[tokio::test]
async fn a_link_opens_a_session_of_the_grower_and_no_one_else() {
    let app = TestApp::start().await;
    let grower = neighbour(&app).await;
    let (_, token) = link(&app, &grower, json!({"note": "For the phone."})).await;
    let (user, body) = session(&app, &token).await;
    assert_eq!(body["account"]["role"], "grower");
    assert_eq!(body["account"]["grower_id"], grower.as_str());
    assert!(body["account"].get("email").is_none(), "{body}");
    let growers = user.get("/v1/growers").await.assert_status(200).json();
    assert_eq!(growers["items"].as_array().map(Vec::len), Some(1));
    assert_eq!(growers["items"][0]["id"], grower.as_str());
    user.get(&format!("/v1/growers/{}", app.own_grower_id)).await.assert_status(404);
    user.get(LINKS).await.assert_problem(403, "forbidden");
    let refresh = json!({"refresh_token": body["refresh_token"]});
    app.nobody.post("/v1/sessions/refresh", &refresh).await.assert_status(200);
}

#[tokio::test]
async fn a_grower_has_one_account_however_many_links() {
    let app = TestApp::start().await;
    let grower = neighbour(&app).await;
    let mut accounts = Vec::new();
    for _ in 0..2 {
        let (_, token) = link(&app, &grower, json!({})).await;
        accounts.push(session(&app, &token).await.1["account"]["id"].clone());
    }
    assert_eq!(accounts[0], accounts[1]);
    let (_, token) = link(&app, &app.own_grower_id, json!({})).await;
    let (_, body) = session(&app, &token).await;
    assert_eq!(body["account"]["id"], app.grower.account_id.as_str(), "the one that is there");
}

#[tokio::test]
async fn the_token_is_in_the_fragment_and_is_shown_once() {
    let app = TestApp::start_with(|settings| {
        settings.public_url = "https://dibble.example.org".parse().expect("a URL");
    })
    .await;
    let body = json!({"grower_id": app.own_grower_id});
    let made = app.advisor.post(LINKS, &body).await.assert_status(201);
    let body = made.json();
    let token = body["token"].as_str().expect("a token");
    assert_eq!(body["url"], format!("https://dibble.example.org/go#{token}"));
    assert_eq!(body["link"]["status"], "works");
    assert_eq!(body["link"]["single_use"], true);
    assert_eq!(body["link"]["expires_at"], "2027-05-04T12:00:00Z");
    let one = app.advisor.get(made.header("location")).await.assert_status(200);
    assert_eq!(one.json(), body["link"]);
    let list = app.advisor.get(LINKS).await.assert_status(200);
    assert_eq!(list.json()["items"], json!([body["link"]]));
    assert!(!list.text.contains(token) && !one.text.contains(token));
}

#[tokio::test]
async fn a_link_works_once_unless_it_is_made_to_work_often() {
    let app = TestApp::start().await;
    let grower = neighbour(&app).await;
    let (path, once) = link(&app, &grower, json!({})).await;
    session(&app, &once).await;
    redeem(&app, &once).await.assert_problem(401, "link_not_good");
    let used = app.advisor.get(&path).await.json();
    assert_eq!((&used["status"], &used["last_used_at"]), (&json!("used"), &json!(tests::NOON)));
    let (path, often) = link(&app, &grower, json!({"single_use": false})).await;
    session(&app, &often).await;
    session(&app, &often).await;
    assert_eq!(app.advisor.get(&path).await.json()["status"], "works");
}

#[tokio::test]
async fn of_two_who_use_a_link_at_once_one_comes_in() {
    let app = TestApp::start().await;
    let (_, token) = link(&app, &app.own_grower_id, json!({})).await;
    let (one, two) = tokio::join!(redeem(&app, &token), redeem(&app, &token));
    let mut statuses = [one.status, two.status];
    statuses.sort_unstable();
    assert_eq!(statuses, [201, 401]);
}

#[tokio::test]
async fn used_expired_revoked_and_unknown_links_get_one_answer() {
    let app = TestApp::start().await;
    let grower = neighbour(&app).await;
    let (_, used) = link(&app, &grower, json!({})).await;
    session(&app, &used).await;
    let (revoked_path, revoked) = link(&app, &grower, json!({})).await;
    app.advisor.delete(&revoked_path).await.assert_status(204);
    let soon = json!({"expires_at": "2027-04-20T12:10:00Z"});
    let (expired_path, expired) = link(&app, &grower, soon).await;
    app.clock.advance(TimeDelta::minutes(10));
    let mut said = Vec::new();
    for token in [&used, &revoked, &expired, &"A".repeat(43), "x"] {
        let mut body = redeem(&app, token).await.assert_problem(401, "link_not_good").json();
        body["request_id"].take();
        said.push(body);
    }
    assert!(said.windows(2).all(|pair| pair[0] == pair[1]), "{said:?}");
    let status = async |path: &str| app.advisor.get(path).await.json()["status"].clone();
    assert_eq!(status(&revoked_path).await, "revoked");
    assert_eq!(status(&expired_path).await, "expired");
}

#[tokio::test]
async fn revoking_a_link_ends_what_it_opened_and_nothing_else() {
    let app = TestApp::start().await;
    let grower = neighbour(&app).await;
    let (path, token) = link(&app, &grower, json!({"single_use": false})).await;
    let (_, other) = link(&app, &grower, json!({})).await;
    let (first, body) = session(&app, &token).await;
    let (second, _) = session(&app, &token).await;
    let (elsewhere, _) = session(&app, &other).await;
    first.get("/v1/growers").await.assert_status(200);
    app.advisor.delete(&path).await.assert_status(204);
    for user in [&first, &second] {
        user.get("/v1/growers").await.assert_problem(401, "unauthenticated");
    }
    let refresh = json!({"refresh_token": body["refresh_token"]});
    app.nobody.post("/v1/sessions/refresh", &refresh).await.assert_status(401);
    elsewhere.get("/v1/growers").await.assert_status(200);
    app.advisor.delete(&path).await.assert_status(204); // once more changes nothing
    assert_eq!(app.advisor.get(&path).await.json()["revoked_at"], tests::NOON);
}

#[tokio::test]
async fn a_disabled_account_is_not_let_in_by_a_link() {
    let app = TestApp::start().await;
    let (_, token) = link(&app, &app.own_grower_id, json!({})).await;
    disable(&app, &app.grower.account_id).await;
    redeem(&app, &token).await.assert_problem(401, "link_not_good");
    let body = json!({"grower_id": app.own_grower_id});
    app.advisor.post(LINKS, &body).await.assert_problem(409, "wrong_state");
}

async fn disable(app: &TestApp, account: &str) {
    use api::entities::accounts;
    use sea_orm::{ColumnTrait, EntityTrait, QueryFilter, sea_query::Expr};
    let id: uuid::Uuid = account.parse().expect("an id");
    let done = accounts::Entity::update_many()
        .col_expr(accounts::Column::DisabledAt, Expr::value(app.state().clock.now()))
        .filter(accounts::Column::Id.eq(id))
        .exec(&app.state().db)
        .await
        .expect("disabled");
    assert_eq!(done.rows_affected, 1);
}

#[tokio::test]
async fn links_of_another_practice_are_not_there() {
    let app = TestApp::start().await;
    let (path, token) = link(&app, &app.own_grower_id, json!({})).await;
    app.stranger.get(&path).await.assert_problem(404, "not_found");
    app.stranger.delete(&path).await.assert_problem(404, "not_found");
    let ours = json!({"grower_id": app.own_grower_id});
    app.stranger.post(LINKS, &ours).await.assert_problem(404, "not_found");
    let filtered = format!("{LINKS}?grower_id={}", app.own_grower_id);
    for path in [LINKS, &filtered] {
        assert_eq!(app.stranger.get(path).await.assert_status(200).json()["items"], json!([]));
    }
    session(&app, &token).await; // nothing was changed
}

#[tokio::test]
async fn the_list_is_of_one_grower_when_asked() {
    let app = TestApp::start().await;
    let grower = neighbour(&app).await;
    link(&app, &app.own_grower_id, json!({})).await;
    let (path, _) = link(&app, &grower, json!({})).await;
    let list = app.advisor.get(&format!("{LINKS}?grower_id={grower}")).await.json();
    assert_eq!(list["items"], json!([app.advisor.get(&path).await.json()]));
    assert_eq!(app.lead.get(LINKS).await.json()["items"].as_array().map(Vec::len), Some(2));
}

#[tokio::test]
async fn what_a_link_can_not_be_is_refused_by_name() {
    let app = TestApp::start().await;
    let grower = &app.own_grower_id;
    for (body, pointer) in [
        (json!({}), "/grower_id"),
        (json!({"grower_id": grower, "note": "a\u{0}b"}), "/note"),
        (json!({"grower_id": grower, "expires_at": "2027-04-20T12:00:00Z"}), "/expires_at"),
        (json!({"grower_id": grower, "expires_at": "2027-07-19T12:00:01Z"}), "/expires_at"),
        (json!({"grower_id": grower, "token": "mine"}), "/token"),
    ] {
        let answer = app.advisor.post(LINKS, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let empty = app.nobody.post("/v1/access-links/redeem", &json!({})).await;
    empty.assert_problem(422, "invalid_request").assert_member("/token");
    for user in [&app.grower, &app.read_only] {
        let answer = user.post(LINKS, &json!({"grower_id": grower})).await;
        answer.assert_problem(403, "forbidden");
    }
}

#[tokio::test]
async fn a_network_that_tries_many_links_has_to_wait() {
    let app = TestApp::start().await;
    for _ in 0..app.state().settings.network_tries {
        redeem(&app, "x").await.assert_problem(401, "link_not_good");
    }
    let waits = redeem(&app, "x").await.assert_problem(429, "too_many_requests");
    assert_eq!(waits.header("retry-after"), "900");
}

#[tokio::test]
async fn the_page_a_link_leads_to_uses_what_the_api_has_and_takes_scripts_from_nowhere_else() {
    let app = TestApp::start().await;
    let (_, token) = link(&app, &neighbour(&app).await, json!({})).await;
    let made = app.advisor.get(LINKS).await.assert_status(200).json();
    assert!(made["items"][0].get("token").is_none(), "{made}");
    let page = app.nobody.get("/go").await.assert_status(200);
    assert_eq!(page.header("content-type"), "text/html; charset=utf-8");
    assert_eq!(page.header("cache-control"), "no-store");
    assert_eq!(page.header("referrer-policy"), "no-referrer");
    let policy = page.header("content-security-policy");
    assert!(policy.contains("script-src 'self';"), "{policy}");
    for part in ["/go/style.css", "/go/script.js"] {
        assert!(page.text.contains(part), "{part}");
    }
    let script = app.nobody.get("/go/script.js").await.assert_status(200).text.clone();
    let document = app.nobody.get("/openapi.json").await.assert_status(200).json();
    let paths: Vec<String> = script
        .split(['"', '`', '?'])
        .filter(|text| text.starts_with("/v1/"))
        .map(|text| text.replace("${sheet.id}", "{id}"))
        .collect();
    assert!(paths.len() >= 8, "{paths:?}");
    for path in paths {
        assert!(document["paths"].get(&path).is_some(), "{path} is no path of the API");
    }
    session(&app, &token).await;
}
