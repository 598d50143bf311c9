//! Where the days of a practice begin, and on which day its seasons do.

use api::auth::role::Role;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

use super::{dig, report};

/// The lead, signed in at the time of the clock.
fn lead(app: &TestApp) -> User {
    app.signed_in_now(&app.lead, Role::Lead)
}

fn at(app: &TestApp, time: &str) {
    app.clock.set(time.parse().expect("a time"));
}

async fn set(app: &TestApp, settings: &Value) {
    lead(app).patch("/v1/practice", "*", settings).await.assert_status(200);
}

#[tokio::test]
async fn the_lead_says_where_the_practice_is_and_when_its_seasons_start() {
    let app = TestApp::start().await;
    let before = app.lead.get("/v1/practice").await.json();
    assert_eq!((&before["time_zone"], &before["season_starts"]), (&json!("UTC"), &json!("01-01")));
    let south = json!({"time_zone": "America/Argentina/Buenos_Aires", "season_starts": "07-01"});
    app.advisor.patch("/v1/practice", "*", &south).await.assert_problem(403, "forbidden");
    let now = app.lead.patch("/v1/practice", "\"1\"", &south).await.assert_status(200).json();
    assert_eq!(now["time_zone"], "America/Argentina/Buenos_Aires");
    assert_eq!(now["season_starts"], "07-01");
    assert_eq!(now["advisors_see"], "all", "what is absent stays");
    let bad = json!({"time_zone": "Chicago", "season_starts": "02-30"});
    let refused = app.lead.patch("/v1/practice", "*", &bad).await;
    let refused = refused.assert_problem(422, "invalid_request");
    assert_eq!(refused.assert_member("/time_zone")["given"], "Chicago");
    assert_eq!(refused.assert_member("/season_starts")["given"], "02-30");
    assert_eq!(app.lead.get("/v1/practice").await.json(), now);
    let strangers = app.stranger.get("/v1/practice").await.json();
    assert_eq!(strangers["time_zone"], "UTC", "another practice has its own");
}

#[tokio::test]
async fn a_southern_season_crosses_the_year_in_lists_timeline_and_seed_order() {
    let app = TestApp::start().await;
    // 20 April 2027: with seasons from July it belongs to that which ends in 2027.
    let stead = Farmstead::of_grower(&lead(&app), &app.own_grower_id).await;
    let stead = stead.with_sheet(&lead(&app)).await;
    at(&app, "2027-10-05T12:00:00Z");
    set(&app, &json!({"season_starts": "07-01"})).await;
    let later = stead.clone().with_draft(&lead(&app)).await;
    later.issue(&lead(&app)).await;
    let listed = |season: i32| {
        let path = format!("/v1/recommendations?season={season}");
        let lead = lead(&app);
        async move { lead.get(&path).await.assert_status(200).json()["items"].clone() }
    };
    let (of_2027, of_2028) = (listed(2027).await, listed(2028).await);
    assert_eq!(of_2027.as_array().expect("a list").len(), 1);
    assert_eq!(of_2027[0]["id"], stead.recommendation);
    assert_eq!(of_2028[0]["id"], later.recommendation);

    let path = format!("/v1/fields/{}/timeline", stead.field);
    let newest = lead(&app).get(&path).await.assert_status(200).json();
    assert_eq!(newest["season"], 2028, "October 2027 belongs to the season that ends in 2028");
    let of = |timeline: &Value, id: &str| timeline["items"].to_string().contains(id);
    assert!(of(&newest, &later.recommendation) && !of(&newest, &stead.recommendation));
    let before = lead(&app).get(&format!("{path}?season=2027")).await.assert_status(200).json();
    assert!(!of(&before, &later.recommendation) && of(&before, &stead.recommendation));

    let order = format!("/v1/planters/{}/seed-order", stead.planter);
    assert_eq!(lead(&app).get(&order).await.assert_status(200).json()["season"], 2028);
}

#[tokio::test]
async fn a_page_of_the_timeline_goes_on_in_its_season() {
    let app = TestApp::start().await;
    set(&app, &json!({"season_starts": "07-01"})).await;
    let stead = Farmstead::of_grower(&lead(&app), &app.own_grower_id).await;
    let stead = stead.with_sheet(&lead(&app)).await;
    let path = format!("/v1/fields/{}/timeline?limit=1", stead.field);
    let first = lead(&app).get(&path).await.assert_status(200).json();
    let cursor = first["next_cursor"].as_str().expect("more").to_owned();
    at(&app, "2027-10-05T12:00:00Z");
    stead.clone().with_draft(&lead(&app)).await;
    let next = lead(&app).get(&format!("{path}&cursor={cursor}")).await.assert_status(200).json();
    assert_eq!((&first["season"], &next["season"]), (&json!(2027), &json!(2027)));
}

#[tokio::test]
async fn what_was_stored_is_counted_to_the_new_seasons_at_once() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&lead(&app), &app.own_grower_id).await;
    // The sheet is issued on New Year's Eve at 22:00 in Chicago: New Year in UTC.
    at(&app, "2027-01-01T04:00:00Z");
    let mut conditions = Farmstead::conditions_body();
    conditions["observed_at"] = json!("2027-01-01T03:00:00Z");
    let path = format!("/v1/fields/{}/conditions", stead.field);
    lead(&app).create(&path, &conditions).await;
    let wanted = stead.recommendation_body(&json!({"depth": {"value": 2, "unit": "[in_i]"}}));
    let id = lead(&app).create("/v1/recommendations", &wanted).await;
    let stead = Farmstead { recommendation: id, ..stead };
    stead.issue(&lead(&app)).await;
    dig(&lead(&app), &stead, "2027-01-01T04:00:00Z", true).await;
    let resistance = format!("/v1/planters/{}/resistance", stead.planter);
    let dug_in = |season: i32| {
        let (lead, path) = (lead(&app), format!("{resistance}?season={season}"));
        async move { lead.get(&path).await.assert_status(200).json() }
    };
    let here = |known: &Value| known["classes"][0]["fields"][0]["digs"]["here_this_season"].clone();
    assert_eq!(report(&lead(&app), 2027, "").await["about"]["digs"], 1);
    assert_eq!(here(&dug_in(2027).await), 1);

    set(&app, &json!({"time_zone": "America/Chicago"})).await;
    let (of_2026, of_2027) =
        (report(&lead(&app), 2026, "").await, report(&lead(&app), 2027, "").await);
    assert_eq!((&of_2026["about"]["digs"], &of_2027["about"]["digs"]), (&json!(1), &json!(0)));
    assert_eq!(of_2026["recommendations"]["issued"], 1);
    assert_eq!(of_2026["about"]["time_zone"], "America/Chicago");
    assert_eq!(of_2026["weeks"][0]["starts"], "2026-12-28", "the week of 31 December there");
    at(&app, "2027-01-02T12:00:00Z");
    assert_eq!(here(&dug_in(2026).await), 1, "lessons too");
    assert_eq!(here(&dug_in(2027).await), 0);

    set(&app, &json!({"time_zone": "Pacific/Auckland", "season_starts": "07-01"})).await;
    let seasons = lead(&app).get("/v1/seasons").await.assert_status(200).json();
    assert_eq!(seasons["items"].as_array().expect("a list").len(), 1);
    assert_eq!(seasons["items"][0]["season"], 2027);
    assert_eq!(seasons["items"][0]["first_day"], "2026-07-01");
    assert_eq!(seasons["items"][0]["last_day"], "2027-06-30");
    assert_eq!(report(&lead(&app), 2027, "").await["about"]["digs"], 1);
}
