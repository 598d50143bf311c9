//! ISO 11783-10 task data: of one sheet, and of a grower.

use std::collections::BTreeMap;

use roxmltree::{Document, Node};
use serde_json::{Value, json};
use tests::{Farmstead, TestApp, User};

use super::{draft, goals, issue, quantity, sheet, unzipped};

/// The task file of a zip.
async fn tasks(user: &User, path: &str) -> String {
    let answer = user.get(path).await.assert_status(200);
    assert_eq!(answer.header("content-type"), "application/zip");
    unzipped(&answer.bytes).remove("TASKDATA/TASKDATA.XML").expect("a task file")
}

fn all<'a>(document: &'a Document<'a>, name: &str) -> Vec<Node<'a, 'a>> {
    document.descendants().filter(|node| node.has_tag_name(name)).collect()
}

/// DDI and value of a zone.
fn zone(document: &Document<'_>, code: &str) -> BTreeMap<String, i64> {
    let zones = all(document, "TZN");
    let zone = zones.iter().find(|it| it.attribute("A") == Some(code)).expect("a zone");
    let values = zone.children().filter(|node| node.has_tag_name("PDV"));
    values
        .map(|it| {
            let value = it.attribute("B").expect("a value").parse().expect("a whole number");
            (it.attribute("A").expect("a DDI").to_owned(), value)
        })
        .collect()
}

#[tokio::test]
async fn rates_are_there_and_other_setpoints_only_by_name() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let id = sheet(&app.advisor, &stead).await;
    let path = format!("/v1/recommendations/{id}/task-data");
    let text = tasks(&app.advisor, &path).await;
    let document = Document::parse(&text).expect("XML");
    let root = document.root_element();
    assert!(root.has_tag_name("ISO11783_TaskData"));
    for (name, value) in [("VersionMajor", "4"), ("VersionMinor", "3"), ("DataTransferOrigin", "1")]
    {
        assert_eq!(root.attribute(name), Some(value));
    }
    let inside = zone(&document, "1");
    assert_eq!(inside["000B"], 7907);
    assert!((inside["0001"] - 467_698).abs() <= 2, "{inside:?}");
    assert_eq!(inside.len(), 2);
    let outside = zone(&document, "0");
    assert_eq!(outside, BTreeMap::from([("0001".into(), 0), ("000B".into(), 0)]));
    assert!(all(&document, "DVC").is_empty(), "no machine is made up");

    let asked = "?speed_setpoint=true&depth_setpoint=true&down_force_setpoint=true";
    let text = tasks(&app.advisor, &format!("{path}{asked}")).await;
    let document = Document::parse(&text).expect("XML");
    let inside = zone(&document, "1");
    assert_eq!((inside["0038"], inside["018C"]), (51, 2235));
    let ours = app.advisor.get(&format!("/v1/recommendations/{id}?units=si")).await.json();
    let force = ours["settings"]["down_force"]["per_row"]["value"].as_f64().expect("a force");
    let written = f64::from(i32::try_from(inside["01AA"]).expect("32 bits"));
    assert!((written - force).abs() <= 0.5, "{written} and {force}");
    assert_eq!(zone(&document, "0").len(), 2, "outside only rates are 0");
    let one = tasks(&app.advisor, &format!("{path}?speed_setpoint=true")).await;
    assert_eq!(zone(&Document::parse(&one).expect("XML"), "1").len(), 3);
    app.advisor
        .get(&format!("{path}?down_force=true"))
        .await
        .assert_problem(422, "invalid_request");
    app.advisor.get(&format!("{path}?version=v2")).await.assert_problem(422, "invalid_request");
}

#[tokio::test]
async fn rates_are_those_of_published_conversions() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    for (seeds, raw) in [(20_000.0, 4942), (28_000.0, 6919), (34_000.0, 8402), (36_000.0, 8896)] {
        let goals = json!({"seeding": {"kind": "rate", "seeds": quantity(seeds, "1/[acr_us]")},
            "depth": quantity(1.75, "[in_i]")});
        let id = draft(&app.advisor, &stead, &goals).await;
        let path = format!("/v1/recommendations/{id}/task-data?depth_setpoint=true");
        let text = tasks(&app.advisor, &path).await;
        let inside = zone(&Document::parse(&text).expect("XML"), "1");
        assert_eq!((inside["000B"], inside["0038"]), (raw, 44), "{seeds}");
    }
}

#[tokio::test]
async fn a_sheet_without_a_rate_is_a_task_without_zones() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let id = draft(&app.advisor, &stead, &json!({})).await;
    let answer = app.advisor.get(&format!("/v1/recommendations/{id}/task-data")).await;
    let files = unzipped(&answer.assert_status(200).bytes);
    let document = Document::parse(&files["TASKDATA/TASKDATA.XML"]).expect("XML");
    let task = all(&document, "TSK")[0];
    assert!(task.children().all(|it| !it.is_element()) && task.attribute("H").is_none());
    assert!(files["NOTES.txt"].contains("no setpoint"), "{}", files["NOTES.txt"]);
}

#[tokio::test]
async fn links_keep_our_ids_and_notes_say_what_is_not_there() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let id = sheet(&app.advisor, &stead).await;
    let path = format!("/v1/recommendations/{id}/task-data");
    let answer = app.advisor.get(&path).await.assert_status(200);
    assert_eq!(
        answer.header("content-disposition"),
        format!("attachment; filename=\"task-data-{id}.zip\"")
    );
    let files = unzipped(&answer.bytes);
    let links = Document::parse(&files["TASKDATA/LINKLIST.XML"]).expect("XML");
    let linked: BTreeMap<&str, &str> = all(&links, "LNK")
        .iter()
        .map(|it| (it.attribute("A").expect("an id"), it.attribute("B").expect("ours")))
        .collect();
    let wanted = BTreeMap::from([
        ("CTR1", stead.grower.as_str()),
        ("FRM1", &stead.farm),
        ("PFD1", &stead.field),
        ("TSK1", &id),
    ]);
    assert_eq!(linked, wanted);
    let notes = &files["NOTES.txt"];
    for words in [
        "seeding rate (DDI 000B)",
        "- depth of the seed\n",
        "- height of the coulter\n",
        "Closing: ",
    ] {
        assert!(notes.contains(words), "{words} is not in {notes}");
    }
    let asked = app.advisor.get(&format!("{path}?depth_setpoint=true")).await;
    assert!(!unzipped(&asked.bytes)["NOTES.txt"].contains("- depth of the seed\n"));

    let third = unzipped(&app.advisor.get(&format!("{path}?version=v3")).await.bytes);
    assert!(!third.contains_key("TASKDATA/LINKLIST.XML"));
    let document = Document::parse(&third["TASKDATA/TASKDATA.XML"]).expect("XML");
    let root = document.root_element();
    assert_eq!(root.attribute("VersionMajor"), Some("3"));
    assert!(root.attribute("lang").is_none() && all(&document, "AFE").is_empty());
}

fn ring(west: f64, south: f64, width: f64, north: f64) -> Value {
    // With the clock, which the form turns.
    json!([
        [west, south],
        [west, north],
        [west + width, north],
        [west + width, south],
        [west, south]
    ])
}

#[tokio::test]
async fn boundaries_keep_pieces_and_holes() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let boundary = json!({"type": "MultiPolygon", "coordinates": [
        [ring(-93.62, 42.03, 0.01, 42.04), ring(-93.618, 42.032, 0.004, 42.036)],
        [ring(-93.60, 42.03, 0.01, 42.04)]
    ]});
    let path = format!("/v1/fields/{}", stead.field);
    app.advisor.patch(&path, "*", &json!({"boundary": boundary})).await.assert_status(200);
    let id = sheet(&app.advisor, &stead).await;
    let path = format!("/v1/recommendations/{id}/task-data");
    for (query, polygons) in [("", 2), ("?version=v3", 1)] {
        let text = tasks(&app.advisor, &format!("{path}{query}")).await;
        let document = Document::parse(&text).expect("XML");
        assert_eq!(all(&document, "PLN").len(), polygons, "{query}");
        let kinds: Vec<_> = all(&document, "LSG").iter().map(|it| it.attribute("A")).collect();
        assert_eq!(kinds, [Some("1"), Some("2"), Some("1")], "{query}");
        let points = all(&document, "PNT");
        assert_eq!(points.len(), 15);
        assert_eq!(points[0].attribute("C"), Some("42.030000000"), "latitude first");
        assert_eq!(points[0].attribute("D"), Some("-93.620000000"));
    }
    let path = format!("/v1/fields/{}", stead.field);
    app.advisor.patch(&path, "*", &json!({"boundary": null})).await.assert_status(200);
    let text = tasks(&app.advisor, &format!("/v1/recommendations/{id}/task-data")).await;
    let document = Document::parse(&text).expect("XML");
    assert!(all(&document, "PLN").is_empty());
    // 40 acres, as entered.
    assert_eq!(all(&document, "PFD")[0].attribute("D"), Some("161875"));
}

#[tokio::test]
async fn names_are_cut_kept_apart_and_escaped() {
    let app = TestApp::start().await;
    let odd = "The <long> \"field\" & 'creek' at the bend 🌽🌽, ";
    let grower = app.advisor.create("/v1/growers", &json!({"name": "Müller & Söhne <GbR>"})).await;
    let stead = Farmstead::of_grower(&app.advisor, &grower).await;
    for (number, end) in ["north", "south", "west"].iter().enumerate() {
        let body = json!({"farm_id": stead.farm, "name": format!("{odd}{end}")});
        let field = app.advisor.create("/v1/fields", &body).await;
        if number == 0 {
            let there = Farmstead { field, ..stead.clone() };
            let id = draft(&app.advisor, &there, &goals()).await;
            issue(&app.advisor, &id).await;
        }
    }
    let answer = app.advisor.get(&format!("/v1/growers/{grower}/task-data")).await;
    let files = unzipped(&answer.assert_status(200).bytes);
    let document = Document::parse(&files["TASKDATA/TASKDATA.XML"]).expect("XML");
    assert_eq!(all(&document, "CTR")[0].attribute("B"), Some("Müller & Söhne <GbR>"));
    let names: Vec<&str> =
        all(&document, "PFD").iter().map(|it| it.attribute("C").expect("a name")).collect();
    assert_eq!(
        names,
        [
            "North forty",
            "The <long> \"field\" & 'creek' at",
            "The <long> \"field\" & 'creek' (2)",
            "The <long> \"field\" & 'creek' (3)"
        ]
    );
    assert_eq!(all(&document, "TSK")[0].attribute("B"), Some("Plant The <long> \"field\" & 'cree"));
    assert!(
        files["NOTES.txt"].contains(&format!("{odd}south -> The <long> \"field\" & 'creek' (2)"))
    );
}

#[tokio::test]
async fn a_growers_file_has_all_fields_and_the_newest_sheets_in_force() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let path = format!("/v1/growers/{}/task-data", stead.grower);
    let text = tasks(&app.grower, &path).await;
    let document = Document::parse(&text).expect("XML");
    assert_eq!((all(&document, "PFD").len(), all(&document, "TSK").len()), (1, 0));
    draft(&app.advisor, &stead, &goals()).await;
    sheet(&app.advisor, &stead).await;
    let newest = sheet(&app.advisor, &stead).await;
    let answer = app.grower.get(&path).await.assert_status(200);
    let files = unzipped(&answer.bytes);
    let document = Document::parse(&files["TASKDATA/TASKDATA.XML"]).expect("XML");
    assert_eq!(all(&document, "TSK").len(), 1, "drafts and older sheets are no tasks");
    assert!(files["TASKDATA/LINKLIST.XML"].contains(&newest));
}
