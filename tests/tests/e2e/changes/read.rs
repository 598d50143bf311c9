//! Places, pages, filters, headers.

use serde_json::json;
use tests::TestApp;

use super::{all_after, end, page, text};

async fn some(app: &TestApp, count: usize) {
    for nth in 0..count {
        app.lead.create("/v1/growers", &json!({"name": format!("Grower {nth}")})).await;
    }
}

#[tokio::test]
async fn pages_follow_each_other_and_the_end_is_304_until_something_comes() {
    let app = TestApp::start().await;
    some(&app, 4).await;
    let (all, last) = all_after(&app.lead, None).await;
    assert_eq!(all.len(), 5, "the grower of the test too");
    let (mut path, mut walked) = ("/v1/changes?limit=2".to_owned(), Vec::new());
    let end = loop {
        let answer = app.lead.get(&path).await.assert_status(200);
        let body = answer.json();
        walked.extend(body["items"].as_array().expect("items").iter().cloned());
        let link = answer.header("link").to_owned();
        assert_eq!(link.is_empty(), body["more"] == false, "a link while there is more");
        let next = text(&body, "next_after");
        match link.strip_prefix('<').and_then(|it| it.strip_suffix(">; rel=\"next\"")) {
            Some(address) => {
                assert_eq!(address, format!("/v1/changes?limit=2&after={next}"));
                path = address.to_owned();
            }
            None => break format!("/v1/changes?limit=2&after={next}"),
        }
    };
    assert_eq!(walked, all);
    assert!(end.ends_with(&last));
    let quiet = app.lead.get(&end).await.assert_status(200);
    let tag = quiet.header("etag").to_owned();
    let known = [("if-none-match", tag.as_str())];
    app.lead.send("GET", &end, &known, None).await.assert_status(304);
    some(&app, 0).await;
    app.lead.create("/v1/growers", &json!({"name": "News"})).await;
    let news = app.lead.send("GET", &end, &known, None).await.assert_status(200).json();
    assert_eq!(news["items"].as_array().expect("items").len(), 1);
    assert_eq!(news["items"][0]["type"], "grower.created");
    // The same place gives the same again.
    assert_eq!(app.lead.get(&end).await.json(), news);
}

#[tokio::test]
async fn types_leave_out_and_the_place_goes_on() {
    let app = TestApp::start().await;
    let start = end(&app.lead).await;
    some(&app, 3).await;
    app.lead.create("/v1/farms", &json!({"grower_id": app.own_grower_id, "name": "A"})).await;
    some_farms(&app).await;
    let farms = page(&app.lead, Some(&start), "&types=farm.created").await;
    assert_eq!(farms["items"].as_array().expect("items").len(), 2);
    let both = page(&app.lead, Some(&start), "&types=farm.created,grower.created").await;
    assert_eq!(both["items"].as_array().expect("items").len(), 5);
    let none = page(&app.lead, Some(&start), "&types=dig_check.recorded").await;
    assert_eq!(none["items"], json!([]));
    let end = end(&app.lead).await;
    for page in [farms, both, none] {
        assert_eq!((text(&page, "next_after"), &page["more"]), (end.clone(), &json!(false)));
    }
    let one = app.lead.get(&format!("/v1/changes?limit=1&types=farm.created&after={start}")).await;
    let one = one.assert_status(200).json();
    assert_eq!(one["more"], true);
    let place = text(&one, "next_after");
    let rest = page(&app.lead, Some(&place), "").await;
    assert_eq!(rest["items"].as_array().expect("items").len(), 1, "after the first farm");
}

async fn some_farms(app: &TestApp) {
    app.lead.create("/v1/farms", &json!({"grower_id": app.own_grower_id, "name": "B"})).await;
}

#[tokio::test]
async fn a_place_that_is_none_here_is_refused() {
    let app = TestApp::start().await;
    app.stranger.create("/v1/growers", &json!({"name": "Theirs"})).await;
    let theirs = end(&app.stranger).await;
    let own = end(&app.lead).await;
    let growers = app.lead.get("/v1/growers?limit=1").await.json();
    assert!(growers["next_cursor"].is_null(), "one grower only");
    let changed = format!("{}A", &own[..own.len() - 1]);
    for wrong in [theirs.as_str(), "0", "1", "NOW", "", changed.as_str(), &"A".repeat(121)] {
        let refused = app.lead.get(&format!("/v1/changes?after={wrong}")).await;
        if wrong == changed && wrong == own {
            continue;
        }
        let entry = refused.assert_problem(422, "invalid_request").assert_member("?after");
        assert!(entry["allowed"].as_str().expect("what is taken").contains("next_after"));
    }
    for (query, pointer) in [
        ("types=field.chnged", "?types"),
        ("types=", "?types"),
        ("types=field.changed,", "?types"),
        ("limit=0", "?limit"),
        ("limit=201", "?limit"),
        ("since=now", "?since"),
    ] {
        let refused = app.lead.get(&format!("/v1/changes?{query}")).await;
        refused.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    app.nobody.get("/v1/changes").await.assert_problem(401, "unauthenticated");
}

#[tokio::test]
async fn a_place_beyond_the_end_is_refused_for_it_would_miss_what_comes() {
    let app = TestApp::start().await;
    let ahead = api::v1::changes::seal(app.practice_id, 1_000_000);
    let refused = app.lead.get(&format!("/v1/changes?after={ahead}")).await;
    refused.assert_problem(422, "invalid_request").assert_member("?after");
}

#[tokio::test]
async fn another_practice_sees_nothing_of_it() {
    let app = TestApp::start().await;
    some(&app, 2).await;
    let (theirs, _) = all_after(&app.stranger, None).await;
    assert_eq!(theirs, Vec::<serde_json::Value>::new());
}
