//! The timeline of a field: complete, in order, and without drafts for the grower.

use chrono::TimeDelta;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

/// Moves the clock on, so that each step has a time of its own.
fn later(app: &TestApp) {
    app.clock.advance(TimeDelta::minutes(10));
}

async fn step(app: &TestApp, user: &User, path: &str, body: Option<Value>) -> Value {
    later(app);
    user.send("POST", path, &[("if-match", "*")], body.as_ref()).await.assert_status(200).json()
}

/// Sheet, dig, declined; dig, accepted and issued, acknowledged; then a draft.
async fn season(app: &TestApp) -> Farmstead {
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let conditions = app.lead.create(&reports, &Farmstead::conditions_body()).await;
    later(app);
    let wanted = stead.recommendation_body(&json!({"depth": {"value": 2, "unit": "[in_i]"}}));
    let recommendation = app.lead.create("/v1/recommendations", &wanted).await;
    let stead = Farmstead { conditions, recommendation, ..stead };
    later(app);
    stead.issue(&app.lead).await;
    let first = dig(app, &stead).await;
    let decline = format!("/v1/adjustments/{}/decline", first.adjustment);
    step(app, &app.advisor, &decline, Some(json!({"reason": "Dig on the ridge."}))).await;
    let second = dig(app, &first).await;
    let accept = format!("/v1/adjustments/{}/accept", second.adjustment);
    let accepted = step(app, &app.advisor, &accept, Some(json!({"issue": true}))).await;
    let next = accepted["next_recommendation_id"].as_str().expect("id").to_owned();
    let acknowledge = format!("/v1/recommendations/{next}/acknowledge");
    step(app, &app.grower, &acknowledge, None).await;
    later(app);
    app.lead.create(&format!("/v1/recommendations/{next}/revise"), &json!({})).await;
    Farmstead { recommendation: next, ..second }
}

/// A dig of the grower a minute ago.
async fn dig(app: &TestApp, stead: &Farmstead) -> Farmstead {
    use api::clock::Clock;
    later(app);
    let mut body = Farmstead::dig_body();
    body["dug_at"] = json!(app.clock.now() - TimeDelta::minutes(1));
    let path = format!("/v1/recommendations/{}/dig-checks", stead.recommendation);
    let dug = app.grower.post(&path, &body).await.assert_status(201).json();
    let id = |name: &str| dug[name].as_str().expect("an id").to_owned();
    Farmstead { dig_check: id("id"), adjustment: id("adjustment_id"), ..stead.clone() }
}

fn path(stead: &Farmstead) -> String {
    format!("/v1/fields/{}/timeline", stead.field)
}

fn kinds(page: &Value) -> Vec<&str> {
    let items = page["items"].as_array().expect("items");
    items.iter().map(|it| it["kind"].as_str().expect("a kind")).collect()
}

const GROWERS_SEASON: [&str; 14] = [
    "planter_calibrated",
    "conditions_reported",
    "recommendation_made",
    "recommendation_issued",
    "dig_checked",
    "adjustment_proposed",
    "adjustment_declined",
    "dig_checked",
    "adjustment_proposed",
    "adjustment_accepted",
    "recommendation_made",
    "recommendation_issued",
    "recommendation_superseded",
    "recommendation_acknowledged",
];

#[tokio::test]
async fn a_season_is_complete_and_in_order() {
    let app = TestApp::start().await;
    let stead = season(&app).await;
    let page = app.advisor.get(&path(&stead)).await.assert_status(200).json();
    assert_eq!(page["season"], json!(2027));
    let mut expected = GROWERS_SEASON.to_vec();
    expected.push("recommendation_made");
    assert_eq!(kinds(&page), expected);
    let items = page["items"].as_array().expect("items");
    let times: Vec<_> = items.iter().map(|it| it["at"].as_str().expect("a time")).collect();
    assert!(times.is_sorted(), "{times:?}");
    assert_eq!(items[0]["at"], "2027-04-03T00:00:00Z");
    assert_eq!(items[1]["id"], stead.conditions.as_str());
    assert_eq!(items[7]["id"], stead.dig_check.as_str());
    assert_eq!(items[8]["id"], stead.adjustment.as_str());
    assert_eq!(items[13]["id"], stead.recommendation.as_str());
    let by = |at: usize| items[at]["by_name"].as_str().expect("a name");
    assert_eq!(
        [by(0), by(3), by(4), by(5), by(6), by(12), by(13)],
        ["lead", "lead", "grower", "grower", "advisor", "advisor", "grower"]
    );

    let says = |at: usize| items[at]["summary"].as_str().expect("a summary");
    assert_eq!(says(0), "2 points: 15 to 60 psi give 120 to 420 lbf at the gauge wheels of a row.");
    assert_eq!(
        says(1),
        "Corn; silt loam; moist, the ball crumbles, a ribbon of 0.5 in; 54 °F at seed depth; \
         cereal rye, green standing, 24 in; after corn."
    );
    assert!(
        says(3).starts_with("Plant. Down force ")
            && says(3).contains(" psi. Depth 2 in, speed 5 mph."),
        "{}",
        says(3)
    );
    assert!(
        says(4).starts_with(
            "4 rows, 20 seeds: mean 1.55 in, wanted 2 in; the mean lies too shallow. Raise "
        ),
        "{}",
        says(4)
    );
    assert!(says(6).ends_with("Declined: Dig on the ridge."), "{}", says(6));
    assert_eq!(items[12]["title"], "Revision 1 superseded");
    assert_eq!(items[13]["title"], "Revision 2 acknowledged");
}

#[tokio::test]
async fn a_grower_does_not_see_drafts() {
    let app = TestApp::start().await;
    let stead = season(&app).await;
    let page = app.grower.get(&path(&stead)).await.assert_status(200).json();
    assert_eq!(kinds(&page), GROWERS_SEASON);
    let neighbour = app.lead.create("/v1/growers", &json!({"name": "A neighbour"})).await;
    let theirs = Farmstead::of_grower(&app.lead, &neighbour).await;
    app.grower.get(&path(&theirs)).await.assert_problem(404, "not_found");
    app.stranger.get(&path(&stead)).await.assert_problem(404, "not_found");
    let empty = app.lead.get(&path(&theirs)).await.assert_status(200).json();
    assert_eq!(empty, json!({"season": 2027, "items": []}), "the year of today");
}

#[tokio::test]
async fn pages_add_up_to_the_whole() {
    let app = TestApp::start().await;
    let stead = season(&app).await;
    let whole = app.lead.get(&path(&stead)).await.assert_status(200).json();
    for limit in [1, 4, 14, 15, 200] {
        let mut next = Some(format!("{}?limit={limit}", path(&stead)));
        let mut found = Vec::new();
        while let Some(address) = next {
            let answer = app.lead.get(&address).await.assert_status(200);
            let page = answer.json();
            let items = page["items"].as_array().expect("items").clone();
            assert!(items.len() <= limit);
            found.extend(items);
            assert_eq!(page.get("next_cursor").is_some(), answer.has_header("link"));
            let link = answer.header("link");
            next =
                link.strip_prefix('<').and_then(|it| it.split_once('>')).map(|it| it.0.to_owned());
        }
        assert_eq!(json!(found), whole["items"], "{limit} a page");
    }
}

#[tokio::test]
async fn a_season_is_a_calendar_year() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let mut body = Farmstead::conditions_body();
    for seen in ["2026-01-01T00:00:00Z", "2026-12-31T23:59:59.999999Z", "2026-05-01T12:00:00Z"] {
        body["observed_at"] = json!(seen);
        app.lead.create(&reports, &body).await;
    }
    let get = |query: String| {
        let (user, path) = (app.lead.clone(), format!("{}{query}", path(&stead)));
        async move { user.get(&path).await }
    };
    let first = get("?limit=1".into()).await.assert_status(200).json();
    assert_eq!(first["season"], json!(2026), "that of the newest entry");
    assert_eq!(first["items"][0]["at"], "2026-01-01T00:00:00Z");
    app.lead.create(&reports, &Farmstead::conditions_body()).await;
    let newest = get(String::new()).await.json();
    assert_eq!((&newest["season"], kinds(&newest).len()), (&json!(2027), 1));
    // A page goes on in its own season when the next one has begun.
    let cursor = first["next_cursor"].as_str().expect("a cursor");
    let rest = get(format!("?cursor={cursor}")).await.assert_status(200).json();
    assert_eq!((&rest["season"], kinds(&rest).len()), (&json!(2026), 2));
    assert_eq!(rest["items"][0]["at"], "2026-05-01T12:00:00Z");
    let old = get("?season=2026".into()).await.json();
    assert_eq!(kinds(&old).len(), 3);
    assert_eq!(get("?season=2025".into()).await.json(), json!({"season": 2025, "items": []}));
    for (query, name) in [
        ("?season=1999", "?season"),
        ("?season=soon", "?season"),
        ("?limit=201", "?limit"),
        ("?cursor=12", "?cursor"),
        ("?units=metric", "?units"),
        ("?years=1", "?years"),
    ] {
        let answer = get(query.into()).await;
        answer.assert_problem(422, "invalid_request").assert_member(name);
    }
}

#[tokio::test]
async fn units_change_the_numbers_and_nothing_else() {
    let app = TestApp::start().await;
    let stead = season(&app).await;
    let us = app.lead.get(&path(&stead)).await.assert_status(200).json();
    let si = app.lead.get(&format!("{}?units=si", path(&stead))).await.assert_status(200).json();
    assert_eq!(kinds(&us), kinds(&si));
    let (us, si) = (us["items"].as_array().expect("items"), si["items"].as_array().expect("items"));
    for (us, si) in us.iter().zip(si) {
        for same in ["at", "kind", "id", "title", "by", "by_name"] {
            assert_eq!(us[same], si[same]);
        }
    }
    assert_eq!(
        si[0]["summary"],
        "2 points: 103 to 414 kPa give 534 to 1868 N at the gauge wheels of a row."
    );
    assert_eq!(si[1]["summary"], us[1]["summary"], "what was entered stays as entered");
    assert!(
        si[4]["summary"]
            .as_str()
            .expect("text")
            .starts_with("4 rows, 20 seeds: mean 39.4 mm, wanted 50.8 mm;")
    );
}
