//! Daily temperatures by JSON.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{day, stead};

fn outcomes(taken: &Value) -> Vec<&str> {
    let days = taken["days"].as_array().expect("days");
    days.iter().filter_map(|it| it["outcome"].as_str()).collect()
}

#[tokio::test]
async fn days_are_taken_replaced_and_left_as_they_are() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/farms/{}/temperatures", stead.farm);
    let body = json!({"station": "Yard", "days": [day("2027-04-10", 72.0, 46.0), day("2027-04-12", 63.0, 42.0)]});
    let taken = app.grower.post(&path, &body).await.assert_status(200).json();
    assert_eq!(outcomes(&taken), ["taken", "taken"]);
    assert_eq!((&taken["missing"], &taken["missing_count"]), (&json!(["2027-04-11"]), &json!(1)));
    let again = app.grower.post(&path, &body).await.assert_status(200).json();
    assert_eq!(outcomes(&again), ["unchanged", "unchanged"]);
    let body = json!({"station": "Yard", "days": [
        day("2027-04-11", 70.0, 45.0), day("2027-04-12", 64.0, 42.0), day("2027-04-12", 65.0, 42.0)
    ]});
    let taken = app.grower.post(&path, &body).await.assert_status(200).json();
    assert_eq!(outcomes(&taken), ["taken", "replaced", "replaced"]);
    let details = &taken["days"];
    assert_eq!(details[1]["detail"], "it was 63 [degF] and 42 [degF], measured at Yard");
    let twice = details[2]["detail"].as_str().expect("a detail");
    assert!(twice.starts_with("the day came twice; it was 64"), "{twice}");
    assert_eq!(taken["missing"], json!([]));
    let list = app.read_only.get(&path).await.assert_status(200).json();
    let dates: Vec<&Value> =
        list["items"].as_array().expect("items").iter().map(|it| &it["date"]).collect();
    assert_eq!(dates, ["2027-04-10", "2027-04-11", "2027-04-12"]);
    assert_eq!(list["items"][2]["high"], json!({"value": 65.0, "unit": "[degF]"}));
}

#[tokio::test]
async fn what_is_expected_gives_way_to_what_was_measured() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/farms/{}/temperatures", stead.farm);
    let expected = |days: Value| json!({"kind": "expected", "station": "forecast", "days": days});
    let ahead = expected(json!([day("2027-04-19", 70.0, 50.0), day("2027-04-25", 75.0, 50.0)]));
    let taken = app.grower.post(&path, &ahead).await.assert_status(200).json();
    assert_eq!(outcomes(&taken), ["taken", "taken"]);
    let measured = json!({"days": [day("2027-04-19", 68.0, 48.0)]});
    let taken = app.grower.post(&path, &measured).await.assert_status(200).json();
    assert_eq!(outcomes(&taken), ["replaced"]);
    let taken = app.grower.post(&path, &ahead).await.assert_status(200).json();
    assert_eq!(outcomes(&taken), ["refused", "unchanged"]);
    let kept = app.lead.get(&format!("{path}?kind=measured")).await.json();
    assert_eq!(kept["items"][0]["low"], json!({"value": 48.0, "unit": "[degF]"}));
    let ahead = json!({"days": [day("2027-04-25", 75.0, 50.0)]});
    let answer = app.grower.post(&path, &ahead).await;
    answer.assert_problem(422, "invalid_request").assert_member("/days/0/date");
}

#[tokio::test]
async fn what_can_not_be_is_refused_by_member() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/farms/{}/temperatures", stead.farm);
    let in_kelvin = json!({"date": "2027-04-10", "high": {"value": 300, "unit": "mm"}, "low": {"value": 280, "unit": "K"}});
    for (days, pointer) in [
        (json!([]), "/days"),
        (json!([day("2027-04-10", 40.0, 60.0)]), "/days/0/low"),
        (json!([day("2027-04-10", 60.0, 40.0), day("2027-04-11", 400.0, 40.0)]), "/days/1/high"),
        (json!([day("1999-04-10", 60.0, 40.0)]), "/days/0/date"),
        (json!([in_kelvin]), "/days/0/high"),
    ] {
        let answer = app.lead.post(&path, &json!({"days": days})).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let list = app.lead.get(&path).await.assert_status(200).json();
    assert_eq!(list["items"], json!([]), "of a refused request nothing is kept");
    let other = Farmstead::make(&app.lead, "Other").await;
    let strange = format!("/v1/farms/{}/temperatures", other.farm);
    app.grower.get(&strange).await.assert_status(404);
    let body = json!({"days": [day("2027-04-10", 60.0, 40.0)]});
    app.grower.post(&strange, &body).await.assert_status(404);
    app.read_only.post(&path, &body).await.assert_status(403);
}

#[tokio::test]
async fn pages_walk_the_days_in_order() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let path = format!("/v1/farms/{}/temperatures", stead.farm);
    let days: Vec<Value> =
        (1..=7).rev().map(|date| day(&format!("2027-04-{date:02}"), 60.0, 40.0)).collect();
    app.lead.post(&path, &json!({"days": days})).await.assert_status(200);
    let mut next = format!("{path}?limit=3&from=2027-04-02");
    let mut seen = Vec::new();
    loop {
        let page = app.lead.get(&next).await.assert_status(200).json();
        for item in page["items"].as_array().expect("items") {
            seen.push(item["date"].as_str().expect("a day").to_owned());
        }
        match page["next_cursor"].as_str() {
            Some(cursor) => next = format!("{path}?limit=3&from=2027-04-02&cursor={cursor}"),
            None => break,
        }
    }
    let expected: Vec<String> = (2..=7).map(|date| format!("2027-04-{date:02}")).collect();
    assert_eq!(seen, expected);
    let wrong = format!("{path}?limit=3&cursor=AAAA");
    app.lead.get(&wrong).await.assert_problem(422, "invalid_request").assert_member("?cursor");
}
