//! What changed since a time.

use chrono::TimeDelta;
use serde_json::json;
use tests::{Farmstead, NOON, TestApp};

use super::{growers, ids, page, walk};

async fn rename(app: &TestApp, id: &str, name: &str) {
    let path = format!("/v1/growers/{id}");
    app.lead.patch(&path, "*", &json!({"name": name})).await.assert_status(200);
}

#[tokio::test]
async fn changes_come_in_the_order_of_their_time() {
    let app = TestApp::start().await;
    app.clock.advance(TimeDelta::seconds(10));
    let made = growers(&app, &["A", "B", "C"]).await;
    app.clock.advance(TimeDelta::seconds(10));
    rename(&app, &made[1], "B2").await;
    app.clock.advance(TimeDelta::seconds(10));
    rename(&app, &made[0], "A2").await;
    let since = async |time: &str| {
        walk(&app.lead, &format!("/v1/growers?limit=2&updated_since={time}")).await
    };
    let [a, b, c] = [&made[0], &made[1], &made[2]].map(Clone::clone);
    assert_eq!(since(NOON).await, [app.own_grower_id.clone(), c.clone(), b.clone(), a.clone()]);
    assert_eq!(since("2027-04-20T12:00:10Z").await, [c, b.clone(), a.clone()]);
    assert_eq!(since("2027-04-20T12:00:10.001Z").await, [b.clone(), a.clone()]);
    assert_eq!(since("2027-04-20T14:00:20%2B02:00").await, [b, a.clone()]);
    assert_eq!(since("2027-04-20T12:00:30Z").await, [a]);
    assert_eq!(since("2027-04-20T12:00:31Z").await, Vec::<String>::new());
}

#[tokio::test]
async fn many_changes_at_one_moment_are_all_seen_once() {
    let app = TestApp::start().await;
    app.clock.advance(TimeDelta::milliseconds(1));
    let names: Vec<String> = (0..9).map(|n| format!("Grower {n}")).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let made = growers(&app, &names).await;
    let path = "/v1/growers?limit=2&updated_since=2027-04-20T12:00:00.001Z";
    assert_eq!(walk(&app.lead, path).await, made);
}

#[tokio::test]
async fn a_row_that_changes_during_a_walk_is_seen_again_and_none_is_missed() {
    let app = TestApp::start().await;
    let made = growers(&app, &["A", "B", "C", "D"]).await;
    let path = format!("/v1/growers?limit=2&updated_since={NOON}");
    let first = page(&app.lead, &path).await;
    assert_eq!(ids(&first), [app.own_grower_id.clone(), made[0].clone()]);
    app.clock.advance(TimeDelta::seconds(1));
    rename(&app, &made[0], "A2").await;
    rename(&app, &made[2], "C2").await;
    let mut rest = Vec::new();
    let mut cursor = first["next_cursor"].as_str().map(str::to_owned);
    while let Some(at) = cursor {
        let next = page(&app.lead, &format!("{path}&cursor={at}")).await;
        rest.extend(ids(&next));
        cursor = next["next_cursor"].as_str().map(str::to_owned);
    }
    assert_eq!(rest, [&made[1], &made[3], &made[0], &made[2]].map(Clone::clone));
}

#[tokio::test]
async fn a_time_that_is_none_is_refused() {
    let app = TestApp::start().await;
    for time in ["yesterday", "2027-04-20", "1", ""] {
        let answer = app.lead.get(&format!("/v1/growers?updated_since={time}")).await;
        answer.assert_problem(422, "invalid_request").assert_member("?updated_since");
    }
}

#[tokio::test]
async fn farms_fields_and_planters_are_followed_too() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    app.clock.advance(TimeDelta::seconds(5));
    for (path, id) in
        [("/v1/farms", &stead.farm), ("/v1/fields", &stead.field), ("/v1/planters", &stead.planter)]
    {
        let later = format!("{path}?updated_since=2027-04-20T12:00:05Z");
        assert!(ids(&page(&app.lead, &later).await).is_empty(), "{path}");
        let one = format!("{path}/{id}");
        app.lead.patch(&one, "*", &json!({"name": "Another"})).await.assert_status(200);
        assert_eq!(ids(&page(&app.lead, &later).await), [id.as_str()], "{path}");
        assert!(ids(&page(&app.stranger, &later).await).is_empty(), "{path}");
    }
}

#[tokio::test]
async fn each_step_of_a_sheet_is_a_change() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let since =
        |second: u32| format!("/v1/recommendations?updated_since=2027-04-20T12:00:{second:02}Z");
    let first = stead.recommendation.clone();
    assert_eq!(ids(&page(&app.lead, &since(0)).await), [first.as_str()]);
    assert!(ids(&page(&app.grower, &since(0)).await).is_empty(), "a grower sees no draft");
    app.clock.advance(TimeDelta::seconds(1));
    stead.issue(&app.lead).await;
    let seen = page(&app.grower, &since(1)).await;
    assert_eq!(ids(&seen), [first.as_str()]);
    assert_eq!(seen["items"][0]["updated_at"], "2027-04-20T12:00:01Z");
    app.clock.advance(TimeDelta::seconds(1));
    let path = format!("/v1/recommendations/{first}/acknowledge");
    app.grower.send("POST", &path, &[("if-match", "*")], None).await.assert_status(200);
    assert_eq!(ids(&page(&app.lead, &since(2)).await), [first.as_str()]);
    app.clock.advance(TimeDelta::seconds(1));
    let path = format!("/v1/recommendations/{first}/revise");
    let next = app.lead.post(&path, &json!({})).await.assert_status(201).id();
    assert_eq!(ids(&page(&app.lead, &since(3)).await), [next.as_str()]);
    app.clock.advance(TimeDelta::seconds(1));
    let second = Farmstead { recommendation: next.clone(), ..stead };
    second.issue(&app.lead).await;
    let mut both = vec![first, next];
    both.sort();
    let mut seen = ids(&page(&app.lead, &since(4)).await);
    seen.sort();
    assert_eq!(seen, both, "the one before is superseded at the same moment");
}

#[tokio::test]
async fn digs_and_decisions_are_changes() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await;
    app.clock.advance(TimeDelta::seconds(1));
    let stead = stead.with_dig(&app.grower).await;
    let digs = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    let at =
        |path: &str, second: u32| format!("{path}?updated_since=2027-04-20T12:00:{second:02}Z");
    assert_eq!(ids(&page(&app.lead, &at(&digs, 1)).await), [stead.dig_check.as_str()]);
    assert!(ids(&page(&app.lead, &at(&digs, 2)).await).is_empty());
    let list = "/v1/adjustments";
    assert_eq!(ids(&page(&app.lead, &at(list, 1)).await), [stead.adjustment.as_str()]);
    app.clock.advance(TimeDelta::seconds(1));
    assert!(ids(&page(&app.lead, &at(list, 2)).await).is_empty());
    let path = format!("/v1/adjustments/{}/decline", stead.adjustment);
    let reason = json!({"reason": "No."});
    app.lead.send("POST", &path, &[("if-match", "*")], Some(&reason)).await.assert_status(200);
    let seen = page(&app.lead, &at(list, 2)).await;
    assert_eq!(ids(&seen), [stead.adjustment.as_str()]);
    assert_eq!(seen["items"][0]["updated_at"], "2027-04-20T12:00:02Z");
}
