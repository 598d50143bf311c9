//! A practice's own figures in the place of those that ship.

use std::collections::BTreeSet;

use domain::provenance::Coefficients;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

const PATH: &str = "/v1/coefficients/opener_resistance";

fn own() -> Value {
    json!({
        "value": 620, "low": 450, "high": 900, "unit": "N",
        "source": "pulled 12 openers with a load cell, April 2027", "note": "Clay ridge."
    })
}

async fn need(app: &TestApp, recommendation: &str) -> f64 {
    let path = format!("/v1/recommendations/{recommendation}");
    let sheet = app.lead.get(&path).await.assert_status(200).json();
    sheet["settings"]["down_force"]["need"]["value"].as_f64().expect("a need")
}

#[tokio::test]
async fn an_own_figure_stands_beside_the_standard_one_and_can_be_given_up() {
    let app = TestApp::start().await;
    let before = app.advisor.get(PATH).await.assert_status(200);
    assert_eq!(before.header("etag"), "\"0.2026.4\"");
    let standard = before.json();
    assert_eq!((&standard["mark"], &standard["value"]), (&json!("assumption"), &json!(500.0)));
    assert!(standard.get("standard").is_none() && standard.get("set_by").is_none(), "{standard}");

    let set = app.advisor.put(PATH, before.header("etag"), &own()).await.assert_status(200);
    assert_eq!(set.header("etag"), "\"1.2026.4\"");
    let set = set.json();
    assert_eq!(set["mark_words"], "the practice's own figure");
    assert_eq!(
        (&set["low"], &set["value"], &set["high"]),
        (&json!(450.0), &json!(620.0), &json!(900.0))
    );
    assert_eq!(
        (&set["set_by"], &set["note"]),
        (&json!(app.advisor.account_id), &json!("Clay ridge."))
    );
    assert_eq!((&set["set_at"], &set["version"]), (&json!(tests::NOON), &json!(1)));
    assert_eq!(set["standard"]["value"], 500.0);
    assert_eq!(set["standard"]["mark"], "assumption");
    assert_eq!(app.read_only.get(PATH).await.json(), set, "all of the practice see it");
    assert_eq!(app.grower.get(PATH).await.json(), set);
    assert_eq!(app.stranger.get(PATH).await.json(), standard, "another practice does not");

    let list = app.lead.get("/v1/coefficients").await.json();
    let shown = list["items"].as_array().unwrap().iter().find(|k| k["name"] == "opener_resistance");
    assert_eq!(shown, Some(&set));
    let own_ones = json!({"mark": "own", "mark_words": "the practice's own figure", "count": 1});
    assert!(list["counts_by_mark"].as_array().unwrap().contains(&own_ones), "{list}");

    app.lead.delete(PATH).await.assert_status(204);
    app.lead.delete(PATH).await.assert_status(204);
    let after = app.lead.get(PATH).await;
    assert_eq!(after.header("etag"), "\"2.2026.4\"");
    let after = after.json();
    assert_eq!((&after["value"], &after["mark"]), (&standard["value"], &standard["mark"]));
    assert!(after.get("standard").is_none(), "{after}");
}

#[tokio::test]
async fn every_change_is_kept_with_who_and_when() {
    let app = TestApp::start().await;
    app.advisor.put(PATH, "*", &own()).await.assert_status(200);
    app.clock.advance(chrono::TimeDelta::hours(1));
    let mut second = own();
    second["value"] = json!(640);
    app.lead.put(PATH, "\"1\"", &second).await.assert_status(200);
    app.lead.delete(PATH).await.assert_status(204);
    let history = format!("{PATH}/history");
    let page = app.read_only.get(&format!("{history}?limit=2")).await.assert_status(200).json();
    let items = page["items"].as_array().unwrap();
    assert_eq!(items.len(), 2);
    assert_eq!((&items[0]["version"], &items[0]["figure"]["value"]), (&json!(1), &json!(620.0)));
    assert_eq!(
        (&items[0]["set_by"], &items[0]["set_at"]),
        (&json!(app.advisor.account_id), &json!(tests::NOON))
    );
    assert_eq!((&items[1]["version"], &items[1]["figure"]["value"]), (&json!(2), &json!(640.0)));
    assert_eq!(
        (&items[1]["set_by"], &items[1]["set_at"]),
        (&json!(app.lead.account_id), &json!("2027-04-20T13:00:00Z"))
    );
    let cursor = page["next_cursor"].as_str().unwrap();
    let rest = app.lead.get(&format!("{history}?cursor={cursor}")).await.json();
    assert_eq!(rest["items"].as_array().unwrap().len(), 1);
    assert_eq!(rest["items"][0]["version"], 3);
    assert!(rest["items"][0].get("figure").is_none(), "back to the standard: {rest}");
    assert_eq!(app.stranger.get(&history).await.json()["items"], json!([]));
}

#[tokio::test]
async fn a_change_is_tied_to_the_version_that_was_read() {
    let app = TestApp::start().await;
    let bare = app.lead.send("PUT", PATH, &[], Some(&own())).await;
    bare.assert_problem(428, "precondition_required");
    app.lead.put(PATH, "\"0\"", &own()).await.assert_status(200);
    app.lead.put(PATH, "\"0\"", &own()).await.assert_problem(412, "stale");
    let stale = app.lead.send("DELETE", PATH, &[("if-match", "\"0\"")], None).await;
    stale.assert_problem(412, "stale");
    let tag = app.lead.get(PATH).await.header("etag").to_owned();
    app.lead.put(PATH, &tag, &own()).await.assert_status(200);
    // Given up and set again is another version: nobody takes it for the one he read.
    app.lead.delete(PATH).await.assert_status(204);
    app.lead.put(PATH, "\"2\"", &own()).await.assert_problem(412, "stale");
}

#[tokio::test]
async fn a_figure_that_is_not_fit_is_refused_member_by_member() {
    let app = TestApp::start().await;
    let refused = async |change: Value| {
        let mut body = own();
        for (name, value) in change.as_object().unwrap() {
            body[name] = value.clone();
        }
        app.lead.put(PATH, "*", &body).await.assert_problem(422, "invalid_request")
    };
    let both = refused(json!({"low": 10, "high": 4000})).await;
    let low = both.assert_member("/low");
    assert_eq!(
        (&low["given"], &low["allowed"]),
        (&json!("10 N"), &json!("73.33333333333333 to 3600 N"))
    );
    both.assert_member("/high");
    refused(json!({"low": 630})).await.assert_member("/low");
    refused(json!({"high": 610})).await.assert_member("/high");
    refused(json!({"source": "  "})).await.assert_member("/source");
    let unit = refused(json!({"unit": "[lbf_av]"})).await.assert_member("/unit");
    assert_eq!(unit["allowed"], "N");
    refused(json!({"value": "620"})).await.assert_member("/value");
    refused(json!({"colour": "red"})).await.assert_member("/colour");
    let nowhere = app.lead.put("/v1/coefficients/opener_drag", "*", &own()).await;
    nowhere.assert_problem(404, "not_found");
    for path in ["/v1/coefficients/opener_drag", "/v1/coefficients/opener_drag/history"] {
        app.lead.get(path).await.assert_problem(404, "not_found");
    }
    app.lead.delete("/v1/coefficients/opener_drag").await.assert_problem(404, "not_found");
    assert_eq!(app.lead.get(PATH).await.json()["version"], 0, "nothing was stored");
    // What was read can be sent back.
    let itself =
        json!({"value": 500, "low": 220, "high": 1200, "unit": "N", "source": "as it ships"});
    app.lead.put(PATH, "*", &itself).await.assert_status(200);
}

#[tokio::test]
async fn only_who_advises_may_change_a_figure() {
    let app = TestApp::start().await;
    for user in [&app.grower, &app.read_only] {
        user.put(PATH, "*", &own()).await.assert_problem(403, "forbidden");
        user.delete(PATH).await.assert_problem(403, "forbidden");
    }
    app.nobody.put(PATH, "*", &own()).await.assert_problem(401, "unauthenticated");
}

#[tokio::test]
async fn new_sheets_rest_on_the_figures_in_force_and_old_ones_keep_theirs() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_sheet(&app.lead).await;
    let sheet = format!("/v1/recommendations/{}", stead.recommendation);
    let before = app.lead.get(&sheet).await.json();
    let set = format!("/v1/coefficient-sets/{}", stead.coefficient_set);
    let first_set = app.grower.get(&set).await.assert_status(200).json();
    let figures = first_set["figures"].as_array().unwrap();
    assert_eq!(figures.len(), Coefficients::STANDARD.all().len());
    app.stranger.get(&set).await.assert_problem(404, "not_found");

    app.lead.put(PATH, "*", &own()).await.assert_status(200);
    assert_eq!(app.lead.get(&sheet).await.json(), before, "what was issued stays");
    let revise = format!("{sheet}/revise");
    let revised = app.lead.post(&revise, &json!({})).await.assert_status(201).json();
    assert_ne!(revised["coefficient_set_id"], before["coefficient_set_id"]);
    let id = revised["id"].as_str().unwrap();
    assert!(
        need(&app, id).await > need(&app, &stead.recommendation).await + 10.0,
        "120 N more resistance"
    );
    let steps = revised["trace"].as_array().unwrap();
    let opener = steps.iter().find(|step| step["step"] == "opener").expect("the step");
    assert_eq!((&opener["mark"], &opener["source"]), (&json!("own"), &own()["source"]));
    let second =
        format!("/v1/coefficient-sets/{}", revised["coefficient_set_id"].as_str().unwrap());
    let second = app.lead.get(&second).await.assert_status(200).json();
    let used = second["figures"].as_array().unwrap().iter();
    let changed: Vec<_> =
        used.zip(figures).filter(|(now, then)| now != then).map(|(k, _)| &k["name"]).collect();
    assert_eq!(changed, ["opener_resistance"]);

    // The same figures again are the same set.
    app.lead.delete(PATH).await.assert_status(204);
    app.lead.delete(&format!("/v1/recommendations/{id}")).await.assert_status(204);
    let again = app.lead.post(&revise, &json!({})).await.assert_status(201).json();
    assert_eq!(again["coefficient_set_id"], before["coefficient_set_id"]);
}

/// When a practice sets its own figure.
#[derive(Clone, Copy, PartialEq)]
enum Sets {
    Never,
    BeforeTheSheet,
    AfterTheSheet,
}

/// A dig, where one dig may move the down force as far as the figures say, or by 25 lbf as the practice has it.
async fn dig(sets: Sets) -> (TestApp, Farmstead, Value) {
    let app = TestApp::start().await;
    let path = "/v1/coefficients/largest_learned_step";
    let most = json!({"value": 111.2, "low": 111.2, "high": 111.2, "unit": "N", "source": "rule of the house"});
    if sets == Sets::BeforeTheSheet {
        app.lead.put(path, "*", &most).await.assert_status(200);
    }
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let stead = stead.with_sheet(&app.lead).await;
    if sets == Sets::AfterTheSheet {
        app.lead.put(path, "*", &most).await.assert_status(200);
    }
    let stead = stead.with_dig(&app.lead).await;
    let found = app.lead.get(&format!("/v1/dig-checks/{}", stead.dig_check)).await.json();
    (app, stead, found["proposal"]["change"].clone())
}

#[tokio::test]
async fn a_dig_is_held_against_the_figures_of_its_sheet() {
    let (_, _, never) = dig(Sets::Never).await;
    let (_, _, before) = dig(Sets::BeforeTheSheet).await;
    let (app, stead, after) = dig(Sets::AfterTheSheet).await;
    assert_eq!(never["kind"], "down_force", "{never}");
    assert_ne!(before["to"], never["to"], "the figure counts when the sheet was made with it");
    assert_eq!(after, never);
    // The sheet that follows is a new one: it rests on the figures in force.
    let accept = format!("/v1/adjustments/{}/accept", stead.adjustment);
    let done = app.lead.send("POST", &accept, &[("if-match", "*")], Some(&json!({}))).await;
    let done = done.assert_status(200).json();
    let next = done["next_recommendation_id"].as_str().unwrap();
    let next = app.lead.get(&format!("/v1/recommendations/{next}")).await.json();
    assert_ne!(next["coefficient_set_id"], json!(stead.coefficient_set));
}

#[tokio::test]
async fn every_calculation_rests_on_the_figures_in_force() {
    let app = TestApp::start().await;
    for k in Coefficients::STANDARD.all() {
        let own = json!({
            "value": k.value, "low": k.low, "high": k.high, "unit": k.unit, "source": "our own"
        });
        let path = format!("/v1/coefficients/{}", k.name);
        app.lead.put(&path, "\"0\"", &own).await.assert_status(200);
    }
    let list = app.lead.get("/v1/coefficients").await.json();
    assert_eq!(list["counts_by_mark"].as_array().unwrap().len(), 1, "all are the practice's own");
    let document = app.nobody.get("/openapi.json").await.json();
    let mut seen = BTreeSet::new();
    for (path, item) in document["paths"].as_object().unwrap() {
        let Some(schema) = path
            .starts_with("/v1/what-if/")
            .then(|| &item["post"]["requestBody"]["content"]["application/json"]["schema"]["$ref"])
            .and_then(Value::as_str)
        else {
            continue;
        };
        let body = &document.pointer(schema.trim_start_matches('#')).unwrap()["examples"][0];
        for body in with_less(body) {
            let answer = app.grower.post(path, &body).await;
            if answer.status != 200 {
                continue;
            }
            for k in answer.json()["defaults"].as_array().into_iter().flatten() {
                assert_eq!(
                    (&k["mark"], &k["source"]),
                    (&json!("own"), &json!("our own")),
                    "{path}"
                );
                seen.insert(k["name"].as_str().unwrap().to_owned());
            }
        }
    }
    assert!(seen.len() >= 12, "only these stood in: {seen:?}");
}

/// A body, and the same without one of its members, so that coefficients stand in.
fn with_less(body: &Value) -> Vec<Value> {
    let mut bodies = vec![body.clone()];
    for name in body.as_object().unwrap().keys() {
        let mut less = body.clone();
        less.as_object_mut().unwrap().remove(name);
        bodies.push(less);
    }
    bodies
}
