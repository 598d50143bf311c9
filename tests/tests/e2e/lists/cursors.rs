//! Cursors: good for their own list only, and steady while the list changes.

use serde_json::json;
use tests::{Answer, Farmstead, TestApp};

use super::{growers, ids, page, walk};

const NAMES: &[&str] = &["A", "B", "C", "D", "E", "F", "G"];

async fn cursor_of(app: &TestApp, path: &str) -> String {
    page(&app.lead, path).await["next_cursor"].as_str().expect("a next page").to_owned()
}

#[track_caller]
fn assert_refused(answer: Answer) {
    answer.assert_problem(422, "invalid_request").assert_member("?cursor");
}

#[tokio::test]
async fn a_walk_sees_each_row_once_while_others_come_and_go() {
    let app = TestApp::start().await;
    let made = growers(&app, NAMES).await;
    let first = page(&app.lead, "/v1/growers?limit=3").await;
    let mut seen = ids(&first);
    assert_eq!(seen, [app.own_grower_id.clone(), made[0].clone(), made[1].clone()]);
    // One that was seen goes, the one that the cursor names goes, one that was not seen goes, one comes.
    for gone in [&made[0], &made[1], &made[3]] {
        app.lead.delete(&format!("/v1/growers/{gone}")).await.assert_status(204);
    }
    let new = growers(&app, &["H"]).await;
    let mut cursor = first["next_cursor"].as_str().expect("more").to_owned();
    loop {
        let next = page(&app.lead, &format!("/v1/growers?limit=2&cursor={cursor}")).await;
        seen.extend(ids(&next));
        match next["next_cursor"].as_str() {
            Some(more) => cursor = more.to_owned(),
            None => break,
        }
    }
    let rest = [&made[2], &made[4], &made[5], &made[6], &new[0]];
    assert_eq!(seen[3..].iter().collect::<Vec<_>>(), rest);
}

#[tokio::test]
async fn a_cursor_is_opaque_and_refused_when_it_was_changed() {
    let app = TestApp::start().await;
    growers(&app, NAMES).await;
    let cursor = cursor_of(&app, "/v1/growers?limit=2").await;
    let url_safe = |b: u8| b.is_ascii_alphanumeric() || b == b'-' || b == b'_';
    assert!(cursor.bytes().all(url_safe), "{cursor}");
    let mut changed = vec![
        app.own_grower_id.clone(),
        String::new(),
        "x".to_owned(),
        cursor[1..].to_owned(),
        format!("{cursor}A"),
        cursor.to_uppercase(),
        "A".repeat(3000),
    ];
    for at in [0, cursor.len() / 2, cursor.len() - 1] {
        let other = if &cursor[at..=at] == "A" { "B" } else { "A" };
        changed.push(format!("{}{other}{}", &cursor[..at], &cursor[at + 1..]));
    }
    for text in changed {
        assert_refused(app.lead.get(&format!("/v1/growers?limit=2&cursor={text}")).await);
    }
    app.lead.get(&format!("/v1/growers?limit=5&cursor={cursor}")).await.assert_status(200);
}

#[tokio::test]
async fn a_cursor_of_another_list_or_filter_is_refused() {
    let app = TestApp::start().await;
    let made = growers(&app, NAMES).await;
    let id = &made[0];
    for name in ["North", "South", "West"] {
        app.lead.create("/v1/farms", &json!({"grower_id": id, "name": name})).await;
    }
    let cursor = cursor_of(&app, "/v1/growers?limit=2").await;
    let of_farms = cursor_of(&app, &format!("/v1/farms?grower_id={id}&limit=2")).await;
    let since = "updated_since=2027-04-20T12:00:00Z";
    let of_changes = cursor_of(&app, &format!("/v1/growers?limit=2&{since}")).await;
    for path in [
        format!("/v1/farms?cursor={cursor}"),
        format!("/v1/growers?name=a&cursor={cursor}"),
        format!("/v1/growers?{since}&cursor={cursor}"),
        format!("/v1/growers?cursor={of_changes}"),
        format!("/v1/growers?updated_since=2027-04-20T12:00:01Z&cursor={of_changes}"),
        format!("/v1/farms?cursor={of_farms}"),
        format!("/v1/farms?grower_id={}&cursor={of_farms}", made[1]),
    ] {
        assert_refused(app.lead.get(&path).await);
    }
    let rest = page(&app.lead, &format!("/v1/farms?cursor={of_farms}&grower_id={id}")).await;
    assert_eq!(ids(&rest).len(), 1);
}

#[tokio::test]
async fn a_cursor_of_another_practice_is_refused_like_any_that_is_none() {
    let app = TestApp::start().await;
    growers(&app, NAMES).await;
    let cursor = cursor_of(&app, "/v1/growers?limit=2").await;
    let theirs = app.stranger.get(&format!("/v1/growers?limit=2&cursor={cursor}")).await;
    let none = app.stranger.get("/v1/growers?limit=2&cursor=none").await;
    let plain = |answer: Answer| {
        let answer = answer.assert_problem(422, "invalid_request");
        let mut entry = answer.assert_member("?cursor");
        entry["given"].take();
        (answer.json()["detail"].clone(), entry)
    };
    assert_eq!(plain(theirs), plain(none));
}

#[tokio::test]
async fn every_list_gives_cursors_that_lead_on() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await;
    let stead = stead.with_dig(&app.lead).await.with_dig(&app.lead).await;
    let dated =
        json!({"calibrated_on": "2027-04-04", "points": Farmstead::calibration_body()["points"]});
    let Farmstead { planter, field, recommendation, .. } = &stead;
    app.lead.create(&format!("/v1/planters/{planter}/calibrations"), &dated).await;
    app.lead.create(&format!("/v1/fields/{field}/conditions"), &Farmstead::conditions_body()).await;
    for path in [
        format!("/v1/planters/{planter}/calibrations?limit=1"),
        format!("/v1/fields/{field}/conditions?limit=1"),
        format!("/v1/fields/{field}/timeline?limit=1"),
        format!("/v1/recommendations/{recommendation}/dig-checks?limit=1"),
        "/v1/adjustments?limit=1".to_owned(),
    ] {
        let found = walk(&app.lead, &path).await;
        let many = walk(&app.lead, &path.replace("limit=1", "limit=200")).await;
        assert!(found.len() >= 2, "{path}: {found:?}");
        assert_eq!(found, many, "{path}");
        let cursor = cursor_of(&app, &path).await;
        assert_refused(app.lead.get(&format!("/v1/growers?cursor={cursor}")).await);
    }
}

#[tokio::test]
async fn head_of_a_list_has_its_headers_and_a_page_that_is_known_is_304() {
    let app = TestApp::start().await;
    growers(&app, NAMES).await;
    let get = app.lead.get("/v1/growers?limit=2").await.assert_status(200);
    let head = app.lead.send("HEAD", "/v1/growers?limit=2", &[], None).await.assert_status(200);
    assert_eq!(head.text, "");
    for name in ["link", "etag", "content-type"] {
        assert_eq!(head.header(name), get.header(name), "{name}");
        assert!(get.has_header(name), "{name}");
    }
    let tag = get.header("etag").to_owned();
    assert!(tag.starts_with("W/\""), "{tag}");
    let again = [("if-none-match", &*tag)];
    let same = app.lead.send("GET", "/v1/growers?limit=2", &again, None).await.assert_status(304);
    assert_eq!((&*same.text, same.header("etag")), ("", &*tag));
    assert_eq!(same.header("link"), get.header("link"));
    let wanted = [("if-match", "*")];
    let path = format!("/v1/growers/{}", app.own_grower_id);
    app.lead.send("PATCH", &path, &wanted, Some(&json!({"phone": "1"}))).await.assert_status(200);
    app.lead.send("GET", "/v1/growers?limit=2", &again, None).await.assert_status(200);
    app.stranger.send("GET", "/v1/growers?limit=2", &again, None).await.assert_status(200);
}
