//! Recommendations: from a draft to the revision that takes its place.

use api::entities::recommendations as rows;
use domain::provenance::Coefficients;
use domain::settings::{Inputs, Recommendation, recommend};
use sea_orm::EntityTrait;
use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp, User};
use uuid::Uuid;

async fn stead(app: &TestApp) -> Farmstead {
    Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await
}

fn path(id: &str) -> String {
    format!("/v1/recommendations/{id}")
}

/// A step with the `ETag` of what is there.
async fn step(user: &User, id: &str, step: &str) -> Answer {
    let etag = user.get(&path(id)).await.header("etag").to_owned();
    let whole = format!("{}/{step}", path(id));
    user.send("POST", &whole, &[("if-match", &etag)], None).await
}

async fn status(app: &TestApp, id: &str) -> Value {
    app.lead.get(&path(id)).await.assert_status(200).json()["status"].clone()
}

#[tokio::test]
async fn a_recommendation_goes_from_draft_to_superseded() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let first = &stead.recommendation;
    assert_eq!(status(&app, first).await, "draft");
    let issued = step(&app.lead, first, "issue").await.assert_status(200).json();
    assert_eq!((&issued["status"], &issued["version"]), (&json!("issued"), &json!(2)));
    assert_eq!(issued["issued_by"], app.lead.account_id);
    let seen = step(&app.grower, first, "acknowledge").await.assert_status(200).json();
    assert_eq!(seen["status"], "acknowledged");
    assert_eq!(seen["acknowledged_by"], app.grower.account_id);

    let change = json!({"goals": {"down_force": {"value": 260, "unit": "[lbf_av]"}}});
    let revise = format!("{}/revise", path(first));
    let second = app.advisor.post(&revise, &change).await.assert_status(201);
    let draft = second.json();
    assert_eq!((&draft["revision"], &draft["status"]), (&json!(2), &json!("draft")));
    assert_eq!(draft["series_id"], seen["series_id"]);
    assert_eq!(draft["replaces_id"], json!(first));
    assert_eq!(draft["goals"]["down_force"], json!({"value": 260.0, "unit": "[lbf_av]"}));
    let set = draft["settings"]["down_force"]["per_row"]["value"].as_f64().unwrap();
    assert!((set - 260.0).abs() <= 4.0, "{set} is the whole psi nearest to 260 lbf");
    assert_eq!(status(&app, first).await, "acknowledged", "the first counts until then");
    app.advisor.post(&revise, &change).await.assert_problem(409, "wrong_state");

    step(&app.advisor, &second.id(), "issue").await.assert_status(200);
    assert_eq!(status(&app, first).await, "superseded");
    assert_eq!(status(&app, &second.id()).await, "issued");
    app.advisor.post(&revise, &json!({})).await.assert_problem(409, "wrong_state");
}

#[tokio::test]
async fn steps_ask_for_the_version_and_the_right_status() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = &stead.recommendation;
    let issue = format!("{}/issue", path(id));
    app.lead.send("POST", &issue, &[], None).await.assert_problem(428, "precondition_required");
    app.lead
        .send("POST", &issue, &[("if-match", "\"7\"")], None)
        .await
        .assert_problem(412, "stale");
    step(&app.lead, id, "acknowledge").await.assert_problem(409, "wrong_state");
    let revise = format!("{}/revise", path(id));
    app.lead.post(&revise, &json!({})).await.assert_problem(409, "wrong_state");
    step(&app.lead, id, "issue").await.assert_status(200);
    step(&app.lead, id, "issue").await.assert_problem(409, "wrong_state");
    app.lead.delete(&path(id)).await.assert_problem(409, "wrong_state");
    step(&app.lead, id, "acknowledge").await.assert_status(200);
    step(&app.lead, id, "acknowledge").await.assert_problem(409, "wrong_state");

    let wanted = stead.recommendation_body(&json!({}));
    let other = app.lead.create("/v1/recommendations", &wanted).await;
    app.lead.delete(&path(&other)).await.assert_status(204);
    app.lead.get(&path(&other)).await.assert_problem(404, "not_found");
}

#[tokio::test]
async fn of_two_who_issue_at_once_one_wins() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let issue = format!("{}/issue", path(&stead.recommendation));
    let headers = [("if-match", "\"1\"")];
    let (one, two) = tokio::join!(
        app.lead.send("POST", &issue, &headers, None),
        app.advisor.send("POST", &issue, &headers, None)
    );
    let mut both = [one.status, two.status];
    both.sort_unstable();
    assert!(both[0] == 200 && [409, 412].contains(&both[1]), "{both:?}");
    let revise = format!("{}/revise", path(&stead.recommendation));
    let nothing = json!({});
    let (one, two) =
        tokio::join!(app.lead.post(&revise, &nothing), app.advisor.post(&revise, &nothing));
    let mut both = [one.status, two.status];
    both.sort_unstable();
    assert_eq!(both, [201, 409], "one revision 2");
}

#[tokio::test]
async fn a_grower_sees_what_was_issued_and_nothing_else() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = &stead.recommendation;
    let list = "/v1/recommendations";
    assert_eq!(app.grower.get(list).await.assert_status(200).json()["items"], json!([]));
    for path in [path(id), format!("{}/sheet", path(id))] {
        app.grower.get(&path).await.assert_problem(404, "not_found");
    }
    let acknowledge = format!("{}/acknowledge", path(id));
    let any = [("if-match", "*")];
    app.grower.send("POST", &acknowledge, &any, None).await.assert_problem(404, "not_found");
    step(&app.lead, id, "issue").await.assert_status(200);
    assert_eq!(app.grower.get(list).await.json()["items"][0]["id"], json!(id));
    for path in [path(id), format!("{}/sheet", path(id))] {
        app.grower.get(&path).await.assert_status(200);
    }
    let neighbour = Farmstead::make(&app.lead, "A neighbour").await;
    step(&app.lead, &neighbour.recommendation, "issue").await.assert_status(200);
    app.grower.get(&path(&neighbour.recommendation)).await.assert_problem(404, "not_found");
    let theirs = format!("{list}?grower_id={}", neighbour.grower);
    assert_eq!(app.grower.get(&theirs).await.json()["items"], json!([]));
    assert_eq!(app.lead.get(&theirs).await.json()["items"].as_array().unwrap().len(), 1);
    app.grower
        .post(list, &stead.recommendation_body(&json!({})))
        .await
        .assert_problem(403, "forbidden");
}

#[tokio::test]
async fn the_list_can_be_narrowed() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let other = Farmstead::make(&app.lead, "A neighbour").await;
    step(&app.lead, &other.recommendation, "issue").await.assert_status(200);
    for (filter, wanted) in [
        (format!("field_id={}", stead.field), vec![&stead.recommendation]),
        (format!("planter_id={}", other.planter), vec![&other.recommendation]),
        (format!("grower_id={}", stead.grower), vec![&stead.recommendation]),
        ("status=issued".to_owned(), vec![&other.recommendation]),
        ("season=2027".to_owned(), vec![&stead.recommendation, &other.recommendation]),
        ("season=2026".to_owned(), vec![]),
        ("status=draft&season=2027".to_owned(), vec![&stead.recommendation]),
    ] {
        let page = app.lead.get(&format!("/v1/recommendations?{filter}")).await.assert_status(200);
        let ids: Vec<_> =
            page.json()["items"].as_array().unwrap().iter().map(|it| it["id"].clone()).collect();
        assert_eq!(json!(ids), json!(wanted), "{filter}");
    }
    for bad in ["season=1999", "status=lost", "field_id=7", "units=x", "colour=red"] {
        let answer = app.lead.get(&format!("/v1/recommendations?{bad}")).await;
        let name = bad.split('=').next().unwrap();
        answer.assert_problem(422, "invalid_request").assert_member(&format!("?{name}"));
    }
}

#[tokio::test]
async fn both_systems_of_units_say_the_same() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let us = app.lead.get(&format!("{}?units=us", path(&stead.recommendation))).await;
    let si = app.lead.get(&format!("{}?units=si", path(&stead.recommendation))).await;
    assert_ne!(us.header("etag"), si.header("etag"));
    let (us, si) = (us.json(), si.json());
    let force = "/settings/down_force";
    for (at, factor, within) in [
        (format!("{force}/per_row"), 4.448_22, 2.5),
        (format!("{force}/need"), 4.448_22, 2.5),
        (format!("{force}/window/ceiling"), 4.448_22, 2.5),
        (format!("{force}/as_box_empties/0/load"), 4.448_22, 2.5),
        (format!("{force}/set_on_planter/pressure"), 6.894_76, 4.0),
        ("/settings/depth/value".to_owned(), 25.4, 0.6),
        ("/settings/speed/value".to_owned(), 1.609_344, 0.15),
    ] {
        let value = |whole: &Value| whole.pointer(&at).unwrap()["value"].as_f64().unwrap();
        let unit = |whole: &Value| whole.pointer(&at).unwrap()["unit"].as_str().unwrap().to_owned();
        let off = (value(&us) * factor - value(&si)).abs();
        assert!(off <= within, "{at}: {} against {}", value(&us), value(&si));
        assert_ne!(unit(&us), unit(&si), "{at}");
    }
    for same in ["/trace", "/assumed", "/goals", "/cautions", "/today"] {
        assert_eq!(us.pointer(same), si.pointer(same), "{same}");
    }
}

#[tokio::test]
async fn goals_are_kept_as_entered() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let goals = json!({
        "depth": {"value": 55.0, "unit": "mm"},
        "speed": {"value": 8.5, "unit": "km/h"},
        "down_force": {"value": 1.1, "unit": "kN"},
        "closing": "two_spiked",
        "seeding": {"kind": "stand", "plants": {"value": 78_000.0, "unit": "1/har"},
            "germination": {"value": 95.0, "unit": "%"}},
        "instructions": ["Start on the west side."]
    });
    let made = app.lead.post("/v1/recommendations", &stead.recommendation_body(&goals)).await;
    let made = made.assert_status(201).json();
    assert_eq!(made["goals"], goals);
    assert_eq!(made["instructions"], json!(["Start on the west side."]));
    let depth = &made["settings"]["depth"];
    assert_eq!(depth["value"], json!({"value": 2.17, "unit": "[in_i]"}));
    assert_eq!((&depth["decided"], &depth["is_safe"]), (&json!(true), &json!(true)));
    assert!(made["settings"]["seeding"]["rate"]["value"].as_f64().unwrap() > 31_000.0);
    assert_eq!(made["settings"]["closing"]["pair"], "two_spiked");
}

#[tokio::test]
async fn each_bad_member_is_named() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let q = |value: f64, unit: &str| json!({"value": value, "unit": unit});
    let long = "x".repeat(201);
    for (at, value) in [
        ("/goals/depth", q(9.0, "[in_i]")),
        ("/goals/depth", q(-1.0, "[in_i]")),
        ("/goals/depth", q(2.0, "[lbf_av]")),
        ("/goals/depth", q(2.0, "inches")),
        ("/goals/depth/value", json!({"value": "2", "unit": "[in_i]"})),
        ("/goals/speed", q(90.0, "km/h")),
        ("/goals/down_force", q(9.0, "kN")),
        ("/goals/closing", json!("wooden")),
        ("/goals/seeding/kind", json!({"kind": "guess"})),
        ("/goals/seeding/seeds", json!({"kind": "rate", "seeds": q(3.0, "1/[acr_us]")})),
        ("/goals/seeding/germination", json!({"kind": "stand", "germination": q(0.0, "%")})),
        ("/goals/seeding/seeds", json!({"kind": "stand", "seeds": q(30_000.0, "1/[acr_us]")})),
        ("/goals/instructions/0", json!([long])),
        ("/goals/instructions/1", json!(["a", " "])),
        ("/goals/instructions", json!(["a", "b", "c", "d", "e", "f"])),
        ("/goals/colour", json!("red")),
    ] {
        let name = at.split('/').nth(2).unwrap();
        let answer = app
            .lead
            .post("/v1/recommendations", &stead.recommendation_body(&json!({name: value})))
            .await;
        answer.assert_problem(422, "invalid_request").assert_member(at);
    }
}

#[tokio::test]
async fn what_it_rests_on_must_be_there_and_belong_together() {
    let app = TestApp::start().await;
    let ours = stead(&app).await;
    let neighbour = Farmstead::make(&app.lead, "A neighbour").await;
    let stranger = Farmstead::make(&app.stranger, "Their grower").await;
    let newest = format!("/v1/planters/{}/calibrations/newest", neighbour.planter);
    let calibration = app.lead.get(&newest).await.assert_status(200).id();
    for (member, id) in [
        ("planter_id", &neighbour.planter),
        ("planter_id", &stranger.planter),
        ("field_id", &stranger.field),
        ("conditions_id", &neighbour.conditions),
        ("conditions_id", &stranger.conditions),
        ("calibration_id", &calibration),
    ] {
        let mut body = ours.recommendation_body(&json!({}));
        body[member] = json!(id);
        let answer = app.lead.post("/v1/recommendations", &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(&format!("/{member}"));
    }
    let bare = Farmstead::of_grower(
        &app.lead,
        &app.lead.create("/v1/growers", &json!({"name": "New"})).await,
    )
    .await;
    let answer = app.lead.post("/v1/recommendations", &bare.recommendation_body(&json!({}))).await;
    answer.assert_problem(422, "invalid_request").assert_member("/conditions_id");
}

#[tokio::test]
async fn the_newest_conditions_are_used_unless_others_are_named() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let mut wet = Farmstead::conditions_body();
    wet["observed_at"] = json!("2027-04-20T11:30:00Z");
    wet["moisture"] = json!("at_capacity");
    wet["ball"] = json!("deforms");
    let newer = app.lead.create(&reports, &wet).await;
    let mut body = stead.recommendation_body(&json!({}));
    let now = app.lead.post("/v1/recommendations", &body).await.assert_status(201).json();
    assert_eq!((&now["conditions_id"], &now["today"]["verdict"]), (&json!(newer), &json!("stop")));
    assert!(now["calibration_id"].is_string());
    body["conditions_id"] = json!(stead.conditions);
    let then = app.lead.post("/v1/recommendations", &body).await.assert_status(201).json();
    assert_eq!(then["today"]["verdict"], "plant");
    for reason in now["today"]["because"].as_array().unwrap() {
        for member in ["text", "mark", "mark_words", "source"] {
            assert!(reason[member].as_str().is_some_and(|text| !text.is_empty()), "{reason}");
        }
    }
}

#[tokio::test]
async fn the_texture_of_the_field_stands_in_for_that_of_the_report() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let mut seen = Farmstead::conditions_body();
    seen.as_object_mut().unwrap().remove("texture");
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    app.lead.create(&reports, &seen).await;
    let with_field = stored(&app, &stead).await.0;
    assert_eq!(with_field.field.texture, Some(domain::conditions::TextureClass::SiltLoam));
    let field = format!("/v1/fields/{}", stead.field);
    app.lead.patch(&field, "*", &json!({"texture_class": null})).await.assert_status(200);
    assert_eq!(stored(&app, &stead).await.0.field.texture, None);
}

/// Makes a draft and reads what was stored, past the API.
async fn stored(app: &TestApp, stead: &Farmstead) -> (Inputs, Recommendation, String) {
    let body = stead.recommendation_body(&json!({
        "speed": {"value": 6.3, "unit": "[mi_i]/h"},
        "depth": {"value": 47, "unit": "mm"},
        "seeding": {"kind": "stand"}
    }));
    let id = app.lead.create("/v1/recommendations", &body).await;
    let practice = app.state().db.clone();
    let all = rows::Entity::find().all(&practice).await.expect("rows");
    let id = Uuid::parse_str(&id).expect("id");
    let row = all.into_iter().find(|row| row.id == id).expect("the row");
    let inputs = serde_json::from_value(row.inputs).expect("inputs");
    let result = serde_json::from_value(row.result).expect("result");
    (inputs, result, row.engine_version)
}

#[tokio::test]
async fn the_stored_inputs_give_the_stored_result_bit_for_bit() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let (inputs, result, engine) = stored(&app, &stead).await;
    let again = recommend(&inputs, &Coefficients::STANDARD);
    assert!(again == result, "the numbers differ");
    let text = |it: &Recommendation| serde_json::to_string(it).expect("json");
    let (again, result) = (text(&again), text(&result));
    let same = again.bytes().zip(result.bytes()).take_while(|(a, b)| a == b).count();
    let from = same.saturating_sub(80);
    assert!(again == result, "they part after …{}", again.get(from..same).unwrap_or_default());
    assert_eq!(engine, domain::settings::ENGINE);
}

#[tokio::test]
async fn what_was_issued_does_not_change_with_the_planter() {
    let app = TestApp::start().await;
    let stead = stead(&app).await;
    let id = &stead.recommendation;
    let issued = step(&app.lead, id, "issue").await.assert_status(200).json();
    let mut makeup = Farmstead::planter_body(&stead.grower)["makeup"].clone();
    makeup["unit"]["weight"] = json!({"value": 300, "unit": "[lbf_av]"});
    let planter = format!("/v1/planters/{}", stead.planter);
    app.lead.patch(&planter, "*", &json!({"makeup": makeup})).await.assert_status(200);
    assert_eq!(app.lead.get(&path(id)).await.json(), issued);
    let revised = app.lead.post(&format!("{}/revise", path(id)), &json!({})).await;
    let revised = revised.assert_status(201).json();
    let need = |it: &Value| it["settings"]["down_force"]["need"]["value"].as_f64().unwrap();
    assert!(
        (need(&issued) - need(&revised) - 125.0).abs() <= 1.0,
        "125 lbf more unit, as much less need"
    );
}

#[tokio::test]
async fn a_planter_that_cannot_reach_says_what_would_help() {
    let app = TestApp::start().await;
    let mut stead = stead(&app).await;
    let mut weak = Farmstead::planter_body(&stead.grower);
    weak["name"] = json!("Weak springs");
    weak["makeup"]["down_force"] = json!({"kind": "spring", "notches": [
        {"label": "1", "force": {"value": 0, "unit": "[lbf_av]"}},
        {"label": "2", "force": {"value": 50, "unit": "[lbf_av]"}}
    ]});
    stead.planter = app.lead.create("/v1/planters", &weak).await;
    let body = stead.recommendation_body(&json!({"speed": {"value": 7, "unit": "[mi_i]/h"}}));
    let told = app.lead.post("/v1/recommendations", &body).await.assert_status(201).json();
    let force = &told["settings"]["down_force"];
    assert_eq!(force["reach"]["kind"], "too_little");
    let short = force["reach"]["short_by"]["value"].as_f64().unwrap();
    let need = force["need"]["value"].as_f64().unwrap();
    assert!((need - short - 50.0).abs() <= 1.0, "{need} needed, {short} short of 50");
    assert_eq!(force["set_on_planter"], json!({"kind": "notch", "label": "2"}));
    let remedies = told["remedies"].as_array().unwrap();
    assert!(remedies[0]["what"]["text"].as_str().unwrap().starts_with("slow down"), "{remedies:?}");
    assert!(remedies.iter().any(|it| it["enough"] == json!(true)), "{remedies:?}");
    let codes: Vec<_> =
        told["cautions"].as_array().unwrap().iter().map(|it| it["code"].clone()).collect();
    assert!(
        codes.contains(&json!("springs_store_energy")) && codes.contains(&json!("manual_wins"))
    );
}
