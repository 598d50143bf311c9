//! Conditions reports.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn with(pointer: &str, value: Value) -> Value {
    let mut body = Farmstead::conditions_body();
    let (parent, member) = pointer.rsplit_once('/').expect("a pointer");
    let members = body.pointer_mut(parent).expect("there").as_object_mut().expect("an object");
    members.insert(member.to_owned(), value);
    body
}

#[tokio::test]
async fn a_report_is_answered_as_it_was_entered() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let given = json!({
        "observed_at": "2027-04-20T10:30:00Z",
        "crop": "soybean",
        "planting_date": "2027-05-02",
        "texture": "silt_loam",
        "sand": {"value": 20.0, "unit": "%"},
        "clay": {"value": 0.18, "unit": "1"},
        "moisture": "at_capacity",
        "ball": "deforms",
        "ribbon": {"value": 55.0, "unit": "mm"},
        "soil_temperature": {"value": 9.5, "unit": "Cel"},
        "read_outside_cover": true,
        "soil_low": {"value": 280.0, "unit": "K"},
        "rain": {"value": 1.5, "unit": "cm"},
        "penetration": {"value": 1.4, "unit": "MPa"},
        "cover": {
            "species": "hairy_vetch",
            "height": {"value": 35.0, "unit": "cm"},
            "ground_cover": {"value": 80.0, "unit": "%"},
            "state": "dead_damp"
        },
        "previous_crop": "wheat",
        "previous_yield_bu_ac": 71.5,
        "residue_cover": {"value": 65.0, "unit": "%"},
        "residue_feel": "pliable",
        "notes": "Wet spot at the south end."
    });
    let made = app.advisor.post(&reports, &given).await.assert_status(201);
    assert_eq!(made.json()["observations"], given);
    assert_eq!(made.json()["created_by"], app.advisor.account_id);
    let path = made.header("location").to_owned();
    assert_eq!(path, format!("/v1/conditions/{}", made.id()));
    assert_eq!(app.grower.get(&path).await.assert_status(200).json(), made.json());
}

#[tokio::test]
async fn only_crop_and_time_are_needed() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let least = json!({"observed_at": "2027-04-20T10:30:00Z", "crop": "corn"});
    app.lead.post(&reports, &least).await.assert_status(201);
    for missing in ["observed_at", "crop"] {
        let mut body = least.clone();
        body.as_object_mut().unwrap().remove(missing);
        let answer = app.lead.post(&reports, &body).await.assert_problem(422, "invalid_request");
        answer.assert_member(&format!("/{missing}"));
    }
}

#[tokio::test]
async fn each_bad_member_is_named() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let q = |value: f64, unit: &str| json!({"value": value, "unit": unit});
    for (at, value) in [
        ("/observed_at", json!("2027-04-21T12:00:01Z")),
        ("/observed_at", json!("1999-12-31T23:59:59Z")),
        ("/observed_at", json!("-9999-04-20T10:30:00Z")),
        ("/observed_at", json!("yesterday")),
        ("/crop", json!("wheat")),
        ("/planting_date", json!("2027-02-30")),
        ("/texture", json!("mud")),
        ("/moisture", json!("Moist")),
        ("/moisture", Value::Null),
        ("/ribbon", q(-1.0, "[in_i]")),
        ("/ribbon", q(2.0, "[psi]")),
        ("/ribbon", q(2.0, "inch")),
        ("/soil_temperature", q(160.0, "[degF]")),
        ("/soil_temperature", q(10.0, "mm")),
        ("/soil_low", q(-20.0, "Cel")),
        ("/rain", q(20.0, "[in_i]")),
        ("/penetration", q(9000.0, "[psi]")),
        ("/cover/height", q(9.0, "[ft_i]")),
        ("/cover/ground_cover", q(101.0, "%")),
        ("/cover/species", json!("bamboo")),
        ("/previous_yield_bu_ac", json!(401)),
        ("/previous_yield_bu_ac", json!(-1)),
        ("/residue_cover", q(-0.1, "1")),
        ("/read_outside_cover", json!("yes")),
        ("/notes", json!("a\u{0}b")),
        ("/colour", json!("brown")),
        ("/cover/colour", json!("green")),
    ] {
        let answer = app.lead.post(&reports, &with(at, value)).await;
        answer.assert_problem(422, "invalid_request").assert_member(at);
    }
}

#[tokio::test]
async fn a_refusal_names_value_range_and_reason_all_at_once() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let mut body = with("/ribbon", json!({"value": 200, "unit": "mm"}));
    body["rain"] = json!({"value": -1, "unit": "mm"});
    let answer = app.lead.post(&reports, &body).await.assert_problem(422, "invalid_request");
    let ribbon = answer.assert_member("/ribbon");
    assert_eq!(ribbon["given"], "200 mm");
    assert_eq!(ribbon["allowed"], "0 to 152.4 mm");
    assert_eq!(ribbon["why"], "a longer ribbon breaks by its own weight");
    answer.assert_member("/rain");
    let unit = with("/rain", json!({"value": 1, "unit": "[psi]"}));
    let answer = app.lead.post(&reports, &unit).await;
    let rain = answer.assert_member("/rain");
    assert!(rain["allowed"].as_str().unwrap().contains("[in_i]"), "{rain}");
    // JSON has no NaN; a number beyond a double is no number either.
    let text = body.to_string().replace("200,", "1e999,");
    let headers = [("content-type", "application/json")];
    let answer = app.lead.send_text("POST", &reports, &headers, Some(text)).await;
    assert!(matches!(answer.status, 400 | 422), "{}", answer.text);
}

#[tokio::test]
async fn sand_and_clay_must_make_the_texture() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let soil = |texture: Option<&str>, sand: Option<f64>, clay: Option<f64>| {
        let mut body = json!({"observed_at": "2027-04-20T10:30:00Z", "crop": "corn"});
        for (name, share) in [("sand", sand), ("clay", clay)] {
            if let Some(share) = share {
                body[name] = json!({"value": share, "unit": "%"});
            }
        }
        if let Some(texture) = texture {
            body["texture"] = json!(texture);
        }
        body
    };
    let clayey = soil(Some("sand"), Some(20.0), Some(60.0));
    let answer = app.lead.post(&reports, &clayey).await.assert_problem(422, "invalid_request");
    let texture = answer.assert_member("/texture");
    assert_eq!(
        (texture["given"].as_str(), texture["allowed"].as_str()),
        (Some("sand"), Some("clay"))
    );
    for (body, pointer) in [
        (soil(None, Some(20.0), None), "/clay"),
        (soil(None, None, Some(20.0)), "/sand"),
        (soil(None, Some(60.0), Some(60.0)), "/clay"),
        (soil(None, Some(-1.0), Some(60.0)), "/sand"),
    ] {
        app.lead
            .post(&reports, &body)
            .await
            .assert_problem(422, "invalid_request")
            .assert_member(pointer);
    }
    for body in [
        soil(Some("clay"), Some(20.0), Some(60.0)),
        soil(None, Some(57.0), Some(7.0)),
        soil(Some("clay"), None, None),
    ] {
        app.lead.post(&reports, &body).await.assert_status(201);
    }
}

#[tokio::test]
async fn the_newest_is_the_last_seen_and_history_is_kept() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let newest = format!("{reports}/newest");
    app.lead.get(&newest).await.assert_problem(404, "not_found");
    let mut ids = Vec::new();
    for time in ["2027-04-18T08:00:00Z", "2027-04-20T11:00:00Z", "2027-04-19T08:00:00Z"] {
        ids.push(app.lead.create(&reports, &with("/observed_at", json!(time))).await);
    }
    assert_eq!(app.grower.get(&newest).await.assert_status(200).id(), ids[1]);
    let page = app.grower.get(&format!("{reports}?limit=2")).await.assert_status(200).json();
    let seen: Vec<_> =
        page["items"].as_array().unwrap().iter().map(|it| it["id"].clone()).collect();
    assert_eq!(seen, [json!(ids[0]), json!(ids[1])]);
    let cursor = page["next_cursor"].as_str().unwrap();
    let rest = app.grower.get(&format!("{reports}?limit=2&cursor={cursor}")).await.json();
    assert_eq!(rest["items"][0]["id"], json!(ids[2]));
    assert!(rest.get("next_cursor").is_none());
    app.grower.post(&reports, &Farmstead::conditions_body()).await.assert_problem(403, "forbidden");
}
