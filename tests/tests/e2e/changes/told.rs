//! What each write tells, and whom.

use api::auth::role::Role;
use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::{all_after, end, page, text, told_after};

async fn step(app: &TestApp, path: &str) -> Value {
    app.lead.send("POST", path, &[("if-match", "*")], None).await.assert_status(200).json()
}

#[tokio::test]
async fn land_and_planters_are_told_with_their_grower_version_and_address() {
    let app = TestApp::start().await;
    let start = end(&app.lead).await;
    let grower = app.lead.create("/v1/growers", &json!({"name": "Followed"})).await;
    let farm = app.lead.create("/v1/farms", &json!({"grower_id": grower, "name": "Home"})).await;
    let field = app.lead.create("/v1/fields", &Farmstead::field_body(&farm)).await;
    let path = format!("/v1/fields/{field}");
    app.lead.patch(&path, "\"1\"", &json!({"name": "South"})).await.assert_status(200);
    app.lead.patch(&path, "\"1\"", &json!({"name": "Late"})).await.assert_status(412);
    app.lead.delete(&path).await.assert_status(204);
    let (changes, _) = all_after(&app.lead, Some(&start)).await;
    let first = changes[0]["position"].as_i64().expect("a number");
    let wanted = [
        ("grower.created", &grower, Some(1), Some(format!("/v1/growers/{grower}"))),
        ("farm.created", &farm, Some(1), Some(format!("/v1/farms/{farm}"))),
        ("field.created", &field, Some(1), Some(path.clone())),
        ("field.changed", &field, Some(2), Some(path.clone())),
        ("field.deleted", &field, None, None),
    ];
    assert_eq!(changes.len(), wanted.len(), "{changes:?}");
    for ((change, (kind, id, version, href)), nth) in changes.iter().zip(&wanted).zip(0..) {
        assert_eq!(change["position"], first + nth);
        assert_eq!((text(change, "type").as_str(), &text(change, "object_id")), (*kind, *id));
        assert_eq!(change["grower_id"], json!(grower), "{kind}");
        assert_eq!(change["version"], version.map_or(Value::Null, |it| json!(it)), "{kind}");
        assert_eq!(change["href"], href.clone().map_or(Value::Null, Value::from), "{kind}");
        assert_eq!(change["at"], "2027-04-20T12:00:00Z");
    }
    assert_eq!(changes[2]["object_kind"], "field");
}

#[tokio::test]
async fn a_dig_tells_its_adjustment_and_a_new_sheet_what_it_supersedes() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let start = end(&app.lead).await;
    let stead = stead.with_sheet(&app.lead).await;
    let seen = format!("/v1/recommendations/{}/acknowledge", stead.recommendation);
    step(&app, &seen).await;
    let stead = stead.with_dig(&app.lead).await;
    let accept = format!("/v1/adjustments/{}/accept", stead.adjustment);
    let body = json!({"issue": true});
    let accepted =
        app.lead.send("POST", &accept, &[("if-match", "*")], Some(&body)).await.assert_status(200);
    let next = text(&accepted.json(), "next_recommendation_id");
    let sheet = &stead.recommendation;
    let wanted = [
        ("conditions_report.recorded", &stead.conditions),
        ("settings_sheet.drafted", sheet),
        ("settings_sheet.published", sheet),
        ("settings_sheet.seen", sheet),
        ("dig_check.recorded", &stead.dig_check),
        ("adjustment.proposed", &stead.adjustment),
        ("adjustment.accepted", &stead.adjustment),
        ("settings_sheet.published", &next),
        ("settings_sheet.superseded", sheet),
    ];
    let told = told_after(&app, &app.lead, &start).await;
    let wanted: Vec<_> =
        wanted.iter().map(|(kind, id)| ((*kind).to_owned(), (*id).clone())).collect();
    assert_eq!(told, wanted);
    // The same dig again is no news.
    let here = end(&app.lead).await;
    let digs = format!("/v1/recommendations/{next}/dig-checks");
    let again = app.lead.post(&digs, &Farmstead::dig_body()).await;
    assert_eq!(again.assert_status(200).id(), stead.dig_check);
    assert_eq!(told_after(&app, &app.lead, &here).await, []);
    // A revision that is issued by hand supersedes too.
    let revise = format!("/v1/recommendations/{next}/revise");
    let third = app.lead.post(&revise, &json!({})).await.assert_status(201).id();
    step(&app, &format!("/v1/recommendations/{third}/issue")).await;
    let told = told_after(&app, &app.lead, &here).await;
    let kinds: Vec<_> = told.iter().map(|(kind, id)| (kind.as_str(), id)).collect();
    assert_eq!(
        kinds,
        [
            ("settings_sheet.drafted", &third),
            ("settings_sheet.published", &third),
            ("settings_sheet.superseded", &next),
        ]
    );
}

#[tokio::test]
async fn a_grower_learns_of_his_own_and_of_no_draft() {
    let app = TestApp::start().await;
    let (start, own) = (end(&app.grower).await, app.own_grower_id.clone());
    let stead = Farmstead::of_grower(&app.lead, &own).await.with_draft(&app.lead).await;
    Farmstead::make(&app.lead, "Somebody else").await;
    let figure = "/v1/practice";
    let seen = json!({"advisors_see": "assigned"});
    app.lead.patch(figure, "*", &seen).await.assert_status(200);
    let draft = format!("/v1/recommendations/{}", stead.recommendation);
    app.lead.delete(&draft).await.assert_status(204);
    let stead = stead.with_draft(&app.lead).await;
    stead.issue(&app.lead).await;
    let (changes, place) = all_after(&app.grower, Some(&start)).await;
    let kinds: Vec<String> = changes.iter().map(|it| text(it, "type")).collect();
    assert_eq!(
        kinds,
        [
            "farm.created",
            "field.created",
            "planter.created",
            "calibration.recorded",
            "conditions_report.recorded",
            "conditions_report.recorded",
            "settings_sheet.published",
        ]
    );
    assert!(changes.iter().all(|it| it["grower_id"] == json!(own)));
    // Not even when asked for; and the place is that of the whole feed.
    let asked = page(&app.grower, Some(&start), "&types=settings_sheet.drafted").await;
    assert_eq!((&asked["items"], &asked["more"]), (&json!([]), &json!(false)));
    assert_eq!(place, end(&app.lead).await);
    let followed = page(&app.lead, Some(&start), "&types=settings_sheet.drafted").await;
    assert_eq!(followed["items"].as_array().expect("items").len(), 3);
}

#[tokio::test]
async fn an_assigned_advisor_learns_of_his_growers_only() {
    let app = TestApp::start().await;
    let colleague = app.someone("colleague", Role::Advisor, None).await;
    let seen = json!({"advisors_see": "assigned"});
    app.lead.patch("/v1/practice", "*", &seen).await.assert_status(200);
    let start = end(&app.advisor).await;
    let own = app.advisor.create("/v1/growers", &json!({"name": "Mine"})).await;
    let theirs = colleague.create("/v1/growers", &json!({"name": "Theirs"})).await;
    let figure = app.lead.get("/v1/coefficients/opener_resistance").await.json();
    let figure = json!({"value": figure["value"], "low": figure["low"], "high": figure["high"],
        "unit": figure["unit"], "source": "pulled"});
    app.lead.put("/v1/coefficients/opener_resistance", "*", &figure).await.assert_status(200);
    let ids = async |user| -> Vec<String> {
        told_after(&app, user, &start).await.into_iter().map(|(_, id)| id).collect()
    };
    assert_eq!(ids(&app.advisor).await, std::slice::from_ref(&own));
    assert_eq!(ids(&colleague).await, std::slice::from_ref(&theirs));
    let all = ids(&app.records_system).await;
    assert_eq!(all, [own, theirs, "opener_resistance".to_owned()]);
    assert_eq!(ids(&app.read_only).await, all);
}

#[tokio::test]
async fn an_erasure_is_told_and_what_was_told_before_stays() {
    let app = TestApp::start().await;
    let start = end(&app.lead).await;
    let stead = Farmstead::make(&app.lead, "To be erased").await;
    let (before, place) = all_after(&app.lead, Some(&start)).await;
    let path = format!("/v1/growers/{}/erasure", stead.grower);
    let reason = json!({"reason": "Asked for by letter."});
    let erased =
        app.lead.send("POST", &path, &[("if-match", "*")], Some(&reason)).await.assert_status(200);
    let parts = erased.json();
    let changes =
        parts["parts"].as_array().expect("parts").iter().find(|it| it["kind"] == "changes");
    assert_eq!(changes.expect("a part")["kept"], json!(before.len()));
    assert_eq!(
        told_after(&app, &app.lead, &place).await,
        [("grower.erased".to_owned(), stead.grower.clone())]
    );
    let (again, _) = all_after(&app.lead, Some(&start)).await;
    assert_eq!(again[..before.len()], before[..]);
}

#[tokio::test]
async fn who_comes_in_is_told_to_nobody() {
    let app = TestApp::start().await;
    let start = end(&app.lead).await;
    app.lead.post("/v1/access-links", &json!({"grower_id": app.own_grower_id})).await;
    let client = json!({"name": "Office", "role": "read_only", "scopes": ["read"]});
    app.lead.post("/v1/machine-clients", &client).await.assert_status(201);
    let mail = format!("/v1/growers/{}/export", app.own_grower_id);
    app.lead.get(&mail).await.assert_status(200);
    app.lead.send("POST", "/v1/calendar-feeds", &[], Some(&json!({}))).await.assert_status(201);
    assert_eq!(told_after(&app, &app.lead, &start).await, []);
}
