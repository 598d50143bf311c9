//! ADAPT data sets: of one sheet, and of a season.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::rules::{figures, hold, list};
use super::{Story, draft, goals, quantity, sheet};

#[track_caller]
fn near(found: f64, wanted: f64) {
    // To a few parts in a million: the acre of UCUM is the old survey acre.
    assert!((found / wanted - 1.0).abs() < 5e-6, "{found} against {wanted}");
}

fn named<'a>(data: &'a Value, id: &str) -> &'a Value {
    let lists = ["/documents/recommendations", "/documents/workRecords"];
    let mut all = lists.iter().flat_map(|at| list(data, at));
    all.find(|it| it["id"]["referenceId"] == id).unwrap_or_else(|| panic!("no {id}"))
}

#[tokio::test]
async fn a_sheet_is_a_recommendation_with_its_figures_and_what_came_of_it() {
    let app = TestApp::start().await;
    let Story { stead, sheet, planting, dig, stand } =
        Story::of(&app.advisor, &app.own_grower_id).await;
    let path = format!("/v1/recommendations/{sheet}/adapt");
    let answer = app.advisor.get(&path).await.assert_status(200);
    assert_eq!(answer.header("content-type"), "application/json");
    let disposition = format!("attachment; filename=\"adapt-{sheet}.json\"");
    assert_eq!(answer.header("content-disposition"), disposition);
    let data = answer.json();
    hold(&data);
    assert_eq!(data["rootSchemaVersion"], "2.0.2");

    let told = named(&data, &sheet);
    assert_eq!(told["name"], "Settings sheet: North forty");
    assert_eq!(told["fieldIds"], json!([stead.field]));
    let operations = list(told, "/operations");
    assert_eq!(operations[0]["operationTypeCode"], "APPLICATION_SOWING_AND_PLANTING_SEEDS");
    assert_eq!(operations[0]["deviceConfiguration"]["deviceId"], stead.planter);
    let set = figures(&operations[0]);
    near(set["AppliedCountPerAreaTarget"], 79_073.722);
    near(set["SeedingDepthTarget"], 0.0508);
    near(set["Speed"], 2.2352);
    near(set["DIBBLE_RowSpacing"], 0.762);
    let ours = app.advisor.get(&format!("/v1/recommendations/{sheet}?units=si")).await.json();
    let force = &ours["settings"]["down_force"];
    for (code, pointer) in [
        ("DownforceAppliedTarget", "/per_row/value"),
        ("DIBBLE_GaugeWheelLoadLow", "/window/low/value"),
        ("DownforceMargin", "/window/aim/value"),
        ("DIBBLE_GaugeWheelLoadHigh", "/window/ceiling/value"),
    ] {
        let shown = force.pointer(pointer).and_then(Value::as_f64).expect(pointer);
        assert!((set[code] - shown).abs() <= 0.5, "{code}: {} and {shown}", set[code]);
    }
    assert_eq!(operations[1]["operationTypeCode"], "APPLICATION_FERTILIZING");
    near(figures(&operations[1])["AppliedVolumePerAreaTarget"], 46.7698);
    let notes = told["notes"].to_string();
    for words in ["Set it to", "Row cleaner: ", "Closing: ", "it dries first"] {
        assert!(notes.contains(words), "{words} is not in {notes}");
    }

    let planted = named(&data, &planting);
    assert_eq!(planted["documentCorrelations"][0]["documentRelationshipTypeCode"], "CAUSAL");
    assert_eq!(planted["documentCorrelations"][0]["originatingDocumentId"], sheet);
    let operation = &planted["operations"][0];
    assert_eq!(operation["prescribingOperationId"], operations[0]["id"]["referenceId"]);
    near(figures(operation)["AppliedCountPerAreaActual"], 34_000.0 / 0.404_687_261);
    near(figures(operation)["DIBBLE_PlantingTime"], 3.5);
    let dug = named(&data, &dig);
    assert_eq!(dug["documentCorrelations"][0]["documentRelationshipTypeCode"], "CONTEXTUAL");
    assert_eq!(dug["documentCorrelations"][0]["originatingDocumentId"], sheet);
    assert_eq!(dug["operations"][0]["operationTypeCode"], "OBSERVATION_GENERAL");
    let found = figures(&dug["operations"][0]);
    near(found["SeedingDepthActual"], 0.0254 * (1.5 * 12.0 + 1.625 * 8.0) / 20.0);
    near(found["DIBBLE_SeedsMeasured"], 20.0);
    near(found["DIBBLE_DownForcePressure"], 206_842.718_8);
    let counted = named(&data, &stand);
    assert_eq!(counted["documentCorrelations"][0]["originatingDocumentId"], planting);
    // The whole day: nobody said the hour.
    let time = &counted["timeScopes"][0];
    assert_eq!(time["dateContextCode"], "PHENOMENON_TIME");
    let at = |name: &str| {
        time[name].as_str().and_then(|at| at.parse::<chrono::DateTime<chrono::Utc>>().ok())
    };
    let day = at("end").zip(at("start")).map(|(end, start)| end - start);
    assert_eq!(day, Some(chrono::TimeDelta::days(1)), "{time}");
    // Seven plants in two hoops of 30 in.
    let ground = 2.0 * std::f64::consts::PI * (0.381_f64).powi(2);
    near(figures(&counted["operations"][0])["DIBBLE_PlantsPerArea"], 7.0 / ground * 1e4);
}

#[tokio::test]
async fn a_season_is_one_data_set_and_holds_only_what_the_caller_sees() {
    let app = TestApp::start().await;
    let own = Story::of(&app.advisor, &app.own_grower_id).await;
    let other = app.advisor.create("/v1/growers", &json!({"name": "Another"})).await;
    let other = Story::of(&app.advisor, &other).await;
    draft(&app.advisor, &own.stead, &goals()).await;
    let all = app.advisor.get("/v1/seasons/2027/adapt").await.assert_status(200).json();
    hold(&all);
    assert_eq!(list(&all, "/documents/recommendations").len(), 2, "drafts are no advice yet");
    assert_eq!(list(&all, "/documents/workRecords").len(), 6);
    assert_eq!(list(&all, "/catalog/growers").len(), 2);

    for (user, query) in [
        (&app.grower, String::new()),
        (&app.records_system, format!("?grower_id={}", own.stead.grower)),
    ] {
        let path = format!("/v1/seasons/2027/adapt{query}");
        let data = user.get(&path).await.assert_status(200).json();
        hold(&data);
        named(&data, &own.dig);
        let text = data.to_string();
        for id in [&other.sheet, &other.dig, &other.stead.grower, &other.stead.field] {
            assert!(!text.contains(id.as_str()), "{path} tells of {id}");
        }
    }
    let none = app.advisor.get("/v1/seasons/2020/adapt").await.assert_status(200).json();
    hold(&none);
    assert_eq!(none["documents"], json!({}));
    let foreign = format!("/v1/seasons/2027/adapt?grower_id={}", own.stead.grower);
    app.stranger.get(&foreign).await.assert_problem(404, "not_found");
    app.advisor.get("/v1/seasons/27/adapt").await.assert_problem(404, "not_found");
}

#[tokio::test]
async fn what_stays_of_an_erased_grower_has_no_name_in_any_form() {
    let app = TestApp::start().await;
    let Story { stead, sheet, .. } = Story::of(&app.advisor, &app.own_grower_id).await;
    let path = format!("/v1/growers/{}/erasure", stead.grower);
    let reason = json!({"reason": "Asked for by letter."});
    app.lead.send("POST", &path, &[("if-match", "*")], Some(&reason)).await.assert_status(200);
    let season = app.lead.get("/v1/seasons/2027/adapt").await.assert_status(200).json();
    hold(&season);
    named(&season, &sheet);
    for path in [
        "/v1/seasons/2027/adapt".to_owned(),
        format!("/v1/recommendations/{sheet}/adapt"),
        "/v1/field-features".to_owned(),
    ] {
        let text = app.lead.get(&path).await.assert_status(200).text;
        for name in ["Miller Brothers", "Home farm", "North forty", "The eight-row", "-93.6"] {
            assert!(!text.contains(name), "{path} tells {name}");
        }
    }
}

#[tokio::test]
async fn a_long_season_comes_whole() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    // More than a page of each: sheets are read 20 at a time, fields and plantings 100.
    for _ in 0..23 {
        sheet(&app.advisor, &stead).await;
    }
    for number in 0..103 {
        let body = json!({"farm_id": stead.farm, "name": format!("Field {number}"),
            "entered_area": quantity(40.0, "[acr_us]")});
        let field = app.advisor.create("/v1/fields", &body).await;
        let body = json!({"planter_id": stead.planter, "planted_on": "2027-04-19", "crop": "corn"});
        app.advisor.create(&format!("/v1/fields/{field}/plantings"), &body).await;
    }
    let data = app.advisor.get("/v1/seasons/2027/adapt").await.assert_status(200).json();
    hold(&data);
    assert_eq!(list(&data, "/documents/recommendations").len(), 23);
    assert_eq!(list(&data, "/documents/workRecords").len(), 103);
    assert_eq!(list(&data, "/catalog/fields").len(), 104);
    assert_eq!(list(&data, "/catalog/fieldBoundaries").len(), 1);
    assert_eq!(list(&data, "/catalog/cropZones").len(), 104);
}

#[tokio::test]
async fn drafts_and_sheets_of_others_are_not_found_in_any_form() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let draft = draft(&app.advisor, &stead, &goals()).await;
    for form in ["adapt", "task-data", "data-package", "sheet/pdf"] {
        let path = format!("/v1/recommendations/{draft}/{form}");
        app.advisor.get(&path).await.assert_status(200);
        app.grower.get(&path).await.assert_problem(404, "not_found");
        app.stranger.get(&path).await.assert_problem(404, "not_found");
        app.nobody.get(&path).await.assert_problem(401, "unauthenticated");
    }
    super::issue(&app.advisor, &draft).await;
    for form in ["adapt", "task-data", "data-package", "sheet/pdf"] {
        let path = format!("/v1/recommendations/{draft}/{form}");
        app.grower.get(&path).await.assert_status(200);
        app.read_only.get(&path).await.assert_status(200);
        app.stranger.get(&path).await.assert_problem(404, "not_found");
    }
    for path in [
        format!("/v1/fields/{}/geojson", stead.field),
        format!("/v1/growers/{}/task-data", stead.grower),
    ] {
        app.grower.get(&path).await.assert_status(200);
        app.stranger.get(&path).await.assert_problem(404, "not_found");
        app.nobody.get(&path).await.assert_problem(401, "unauthenticated");
    }
}

#[tokio::test]
async fn who_has_a_form_already_is_told_so_until_it_changes() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let id = sheet(&app.advisor, &stead).await;
    let (adapt, field) =
        (format!("/v1/recommendations/{id}/adapt"), format!("/v1/fields/{}/geojson", stead.field));
    let files = [
        adapt.clone(),
        format!("/v1/recommendations/{id}/task-data"),
        format!("/v1/growers/{}/task-data", stead.grower),
        field.clone(),
    ];
    for path in &files {
        let tag = app.advisor.get(path).await.assert_status(200).header("etag").to_owned();
        assert!(tag.starts_with('"'), "{path}: {tag} is a strong tag");
        let known = [("if-none-match", tag.as_str())];
        let again = app.advisor.send("GET", path, &known, None).await.assert_status(304);
        assert!(again.bytes.is_empty() && again.header("etag") == tag, "{path}");
        let other = [("if-none-match", "\"another\"")];
        app.advisor.send("GET", path, &other, None).await.assert_status(200);
    }
    let tags = [
        app.advisor.get(&adapt).await.header("etag").to_owned(),
        app.advisor.get(&field).await.header("etag").to_owned(),
    ];
    let digs = format!("/v1/recommendations/{id}/dig-checks");
    app.advisor.create(&digs, &Farmstead::dig_body()).await;
    let path = format!("/v1/fields/{}", stead.field);
    app.advisor.patch(&path, "*", &json!({"name": "South forty"})).await.assert_status(200);
    assert_ne!(app.advisor.get(&adapt).await.header("etag"), tags[0]);
    assert_ne!(app.advisor.get(&field).await.header("etag"), tags[1]);
}

#[tokio::test]
async fn a_caller_who_can_not_read_the_form_is_told_so() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let id = sheet(&app.advisor, &stead).await;
    for (path, form) in [
        (format!("/v1/recommendations/{id}/adapt"), "application/json"),
        (format!("/v1/recommendations/{id}/task-data"), "application/zip"),
        (format!("/v1/fields/{}/geojson", stead.field), "application/geo+json"),
        ("/v1/field-features".to_owned(), "application/geo+json"),
    ] {
        let told = app.advisor.send("GET", &path, &[("accept", form)], None).await;
        assert_eq!(told.assert_status(200).header("content-type"), form);
        let answer = app.advisor.send("GET", &path, &[("accept", "text/html")], None).await;
        answer.assert_status(406);
    }
}
