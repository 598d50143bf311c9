//! The cover crop in reports, recommendations and on the sheet.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

fn q(value: f64, unit: &str) -> Value {
    json!({"value": value, "unit": unit})
}

/// Green rye, boot stage, clipped, to be ended two days after planting, with pests counted.
fn observed() -> Value {
    let mut body = Farmstead::conditions_body();
    let more = json!({
        "texture": "silty_clay_loam",
        "sand": q(15.0, "%"),
        "clay": q(30.0, "%"),
        "organic_carbon": q(2.1, "%"),
        "bulk_density": q(1.3, "g/cm3"),
        "water": q(26.0, "%"),
        "strength_class": "good",
        "temperature_depth": q(4.0, "[in_i]"),
        "cover": {
            "species": "cereal_rye",
            "height": q(24.0, "[in_i]"),
            "ground_cover": q(100.0, "%"),
            "state": "green_standing",
            "stage": "boot",
            "clip": {"dry": q(0.8, "[lb_av]"), "area": q(8.0, "[sft_i]")},
            "nitrogen": q(1.5, "%")
        },
        "cover_ended": "2027-04-23",
        "termination_zone": "four",
        "irrigated": false,
        "residue_spread": "even",
        "row_position": "beside_old_row",
        "pests": {"slugs_per_plant": 1.5, "armyworm": q(18.0, "%"), "cutworm": q(3.0, "%")},
        "toss": "breaks_up",
        "start_hour": 11
    });
    let members = body.as_object_mut().expect("an object");
    members.extend(more.as_object().expect("members").clone());
    body
}

#[tokio::test]
async fn every_member_is_kept_as_it_was_entered() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let mut given = observed();
    given["read_outside_cover"] = json!(false);
    // Numbers come back as doubles.
    given["soil_temperature"] = q(54.0, "[degF]");
    given["soil_low"] = q(51.0, "[degF]");
    given["previous_yield_bu_ac"] = json!(200.0);
    let made = app.advisor.post(&reports, &given).await.assert_status(201).json();
    assert_eq!(made["observations"], given);
    assert_eq!(made["contradictions"], json!([]));
}

#[tokio::test]
async fn each_bad_member_of_the_cover_is_named() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    for (at, value) in [
        ("/organic_carbon", q(21.0, "%")),
        ("/bulk_density", q(2.7, "g/cm3")),
        ("/water", q(0.5, "%")),
        ("/strength_class", json!("stony")),
        ("/temperature_depth", q(9.0, "[in_i]")),
        ("/cover/stage", json!("ripe")),
        ("/cover/nitrogen", q(9.0, "%")),
        ("/cover/clip/dry", q(-1.0, "[lb_av]")),
        ("/cover/clip/area", q(0.1, "[sft_i]")),
        ("/cover/clip", json!({"dry": q(100.0, "[lb_av]"), "area": q(8.0, "[sft_i]")})),
        ("/cover_ended", json!("2027-02-19")),
        ("/cover_ended", json!("2027-05-06")),
        ("/termination_zone", json!("five")),
        ("/irrigated", json!("yes")),
        ("/residue_spread", json!("heaps")),
        ("/row_position", json!("anywhere")),
        ("/pests/slugs_per_plant", json!(101)),
        ("/pests/armyworm", q(101.0, "%")),
        ("/pests/cutworm", q(-1.0, "%")),
        ("/pests/crows", json!(3)),
        ("/toss", json!("vanishes")),
        ("/start_hour", json!(24)),
        ("/texture_feel", json!("smooth")),
    ] {
        let mut body = observed();
        let (parent, member) = at.rsplit_once('/').expect("a pointer");
        body.pointer_mut(parent).expect("there")[member] = value;
        let pointer = if at == "/texture_feel" { "/ribbon_wetted" } else { at };
        let answer = app.lead.post(&reports, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    for missing in ["planting_date", "cover"] {
        let mut body = observed();
        body.as_object_mut().expect("an object").remove(missing);
        let answer = app.lead.post(&reports, &body).await;
        answer.assert_problem(422, "invalid_request").assert_member(&format!("/{missing}"));
    }
}

#[tokio::test]
async fn texture_by_feel_stands_in_for_a_name_and_never_beside_it() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.lead, &app.own_grower_id).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let felt = json!({
        "observed_at": "2027-04-20T10:30:00Z", "crop": "corn",
        "ribbon_wetted": q(1.5, "[in_i]"), "texture_feel": "smooth"
    });
    app.lead.post(&reports, &felt).await.assert_status(201);
    for (name, value, at) in [
        ("texture", json!("silty_clay_loam"), "/texture_feel"),
        ("ribbon_wetted", q(7.0, "[in_i]"), "/ribbon_wetted"),
    ] {
        let mut body = felt.clone();
        body[name] = value;
        app.lead
            .post(&reports, &body)
            .await
            .assert_problem(422, "invalid_request")
            .assert_member(at);
    }
    let mut alone = felt;
    alone.as_object_mut().expect("an object").remove("texture_feel");
    let answer = app.lead.post(&reports, &alone).await.assert_problem(422, "invalid_request");
    answer.assert_member("/texture_feel");
}

#[tokio::test]
async fn the_recommendation_tells_what_the_cover_asks_for() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    app.advisor.post(&reports, &observed()).await.assert_status(201);
    let wanted = stead.recommendation_body(&json!({}));
    let made = app.advisor.post("/v1/recommendations", &wanted).await.assert_status(201).json();
    let cover = &made["cover"];
    // 0.8 lb from 8 sq ft are 4,356 lb/ac; 1.5 % of it are 65 lb/ac of nitrogen.
    assert_eq!(cover["dry_matter"]["likely"], q(4360.0, "[lb_av]/[acr_us]"));
    assert_eq!(cover["nitrogen_in_tops"]["likely"], q(65.0, "[lb_av]/[acr_us]"));
    assert_eq!(cover["tie_up"], "likely");
    assert_eq!(cover["starter"]["low"], q(50.0, "[lb_av]/[acr_us]"));
    assert_eq!(cover["termination"]["latest"], "2027-04-26");
    assert_eq!(cover["termination"]["verdict"], "in_time");
    assert_eq!(cover["days_from_end_to_planting"], -2);
    assert_eq!(cover["green_bridge"], "some");
    let levels: Vec<&Value> =
        made["pests"].as_array().expect("a list").iter().map(|it| &it["level"]).collect();
    assert_eq!(levels, ["act", "look_again", "below"]);
    let assumed = made["assumed"].as_array().expect("a list");
    assert!(assumed.iter().any(|it| it["used"].as_str().unwrap().contains("as read at 4.0 in")));
    let id = made["id"].as_str().expect("an id");
    let page = app.advisor.get(&format!("/v1/recommendations/{id}/sheet")).await.text;
    assert!(page.contains("50 to 70 lb/ac beside the row"), "{page}");
    assert!(page.contains("cutworm") || page.contains("Cutworm"));
    let si = app.advisor.get(&format!("/v1/recommendations/{id}?units=si")).await.json();
    assert_eq!(si["cover"]["starter"]["low"], q(56.0, "kg/har"));
}

#[tokio::test]
async fn a_field_without_cover_has_no_such_part() {
    let app = TestApp::start().await;
    let stead =
        Farmstead::of_grower(&app.lead, &app.own_grower_id).await.with_draft(&app.lead).await;
    let reports = format!("/v1/fields/{}/conditions", stead.field);
    let bare = json!({"observed_at": "2027-04-20T10:40:00Z", "crop": "corn"});
    app.advisor.post(&reports, &bare).await.assert_status(201);
    let wanted = stead.recommendation_body(&json!({}));
    let made = app.advisor.post("/v1/recommendations", &wanted).await.assert_status(201).json();
    assert!(made.get("cover").is_none());
    assert_eq!((&made["pests"], &made["contradictions"]), (&json!([]), &json!([])));
}
