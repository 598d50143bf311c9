//! Records from files: what they may look like, what is refused, and that all is taken or nothing.

use serde_json::{Value, json};
use tests::{Answer, TestApp, User};

const CSV: &[(&str, &str)] = &[("content-type", "text/csv")];

async fn csv(user: &User, query: &str, file: &str) -> Answer {
    let path = format!("/v1/imports/csv?system=office&{query}");
    user.send_text("POST", &path, CSV, Some(file.to_owned())).await
}

async fn geojson(user: &User, query: &str, file: &Value) -> Answer {
    let path = format!("/v1/imports/geojson?system=office{query}");
    let kind = [("content-type", "application/geo+json")];
    user.send_text("POST", &path, &kind, Some(file.to_string())).await
}

/// Bytes as they are, in a character set.
async fn bytes(user: &User, kind: &str, file: Vec<u8>) -> Answer {
    let path = "/v1/imports/csv?system=office&kind=growers&dry_run=true";
    user.send_bytes("POST", path, &[("content-type", kind)], file).await
}

fn counts(report: &Value) -> [u64; 6] {
    ["created", "changed", "unchanged", "waiting", "conflicts", "refused"]
        .map(|name| report["counts"][name].as_u64().expect("a number"))
}

async fn names(user: &User, list: &str) -> Vec<String> {
    let page = user.get(&format!("/v1/{list}?limit=200")).await.assert_status(200).json();
    let items = page["items"].as_array().expect("items");
    items.iter().map(|it| it["name"].as_str().expect("a name").to_owned()).collect()
}

fn square(west: f64, south: f64) -> Value {
    let (east, north) = (west + 0.01, south + 0.01);
    json!({"type": "Polygon", "coordinates":
        [[[west, south], [east, south], [east, north], [west, north], [west, south]]]})
}

fn feature(id: &str, geometry: Value, more: Value) -> Value {
    let mut properties = json!({"name": format!("Field {id}"), "farm_id": "FARM-1"});
    for (name, value) in more.as_object().expect("members") {
        properties[name] = value.clone();
    }
    json!({"type": "Feature", "id": id, "geometry": geometry, "properties": properties})
}

fn collection(features: Vec<Value>) -> Value {
    json!({"type": "FeatureCollection", "features": features})
}

/// A grower and a farm that came from the office.
async fn office(app: &TestApp) {
    let growers = csv(&app.lead, "kind=growers", "id,name\nG-1,Hill Brothers\n").await;
    assert_eq!(counts(&growers.assert_status(200).json()), [1, 0, 0, 0, 0, 0]);
    let farms = csv(&app.lead, "kind=farms", "id,name,grower_id\nFARM-1,Home,G-1\n").await;
    assert_eq!(counts(&farms.assert_status(200).json()), [1, 0, 0, 0, 0, 0]);
}

#[tokio::test]
async fn a_whole_farm_comes_from_files_and_the_second_time_nothing_changes() {
    let app = TestApp::start().await;
    office(&app).await;
    let map = collection(vec![
        feature("F-1", square(-93.62, 42.03), json!({"soil": "deep"})),
        feature("F-2", Value::Null, json!({"area_ac": 38.5})),
    ]);
    let dry = geojson(&app.lead, "&dry_run=true", &map).await.assert_status(200).json();
    assert_eq!((counts(&dry), &dry["dry_run"]), ([2, 0, 0, 0, 0, 0], &json!(true)));
    assert_eq!((&dry["ignored"], &dry["encoding"]), (&json!(["soil"]), &json!("UTF-8")));
    assert_eq!(dry["rows"][0]["place"], "/features/0");
    assert!(dry["rows"][0]["object_id"].is_null() && dry["separator"].is_null());
    assert_eq!(names(&app.lead, "fields").await, Vec::<String>::new(), "a dry run stores nothing");
    let done = geojson(&app.lead, "", &map).await.assert_status(200).json();
    assert_eq!((counts(&done), &done["dry_run"]), ([2, 0, 0, 0, 0, 0], &json!(false)));
    let field = done["rows"][0]["object_id"].as_str().expect("made").to_owned();
    let field = app.lead.get(&format!("/v1/fields/{field}")).await.assert_status(200).json();
    assert_eq!(field["boundary"], square(-93.62, 42.03));
    let again = geojson(&app.lead, "", &map).await.assert_status(200).json();
    assert_eq!((counts(&again), &again["rows"]), ([0, 0, 2, 0, 0, 0], &json!([])));
    let yields = "id;field_id;harvested_on;crop;wet_yield_bu_ac;moisture_pct\r\n\
        Y-1;F-1;2026-10-12;corn;200;15.5\r\nY-2;F-2;2026-10-01;Soybeans;60;13\r\n";
    let done = csv(&app.records_system, "kind=yields", yields).await.assert_status(200).json();
    assert_eq!((counts(&done), &done["separator"]), ([2, 0, 0, 0, 0, 0], &json!("semicolon")));
    let listed = app.lead.get("/v1/yields").await.json();
    // 200 bushels of 56 lb, 60 bushels of 60 lb.
    let grain: Vec<&Value> =
        listed["items"].as_array().expect("items").iter().map(|it| &it["grain"]["value"]).collect();
    assert_eq!(grain, [&json!(11200.0), &json!(3600.0)]);
    assert_eq!(listed["items"][0]["basis"], "at_moisture");
    let renamed = "id,name\nF-1,North forty\nF-2,Field F-2\n";
    let dry = csv(&app.lead, "kind=fields&dry_run=true", renamed).await.assert_status(200).json();
    assert_eq!(counts(&dry), [0, 1, 1, 0, 0, 0]);
    assert_eq!(dry["rows"][0]["place"], "line 2");
    assert_eq!(
        dry["rows"][0]["changes"],
        json!([{"member": "name", "from": "Field F-1", "to": "North forty"}])
    );
}

#[tokio::test]
async fn each_object_that_is_taken_is_told_and_has_its_event() {
    let app = TestApp::start().await;
    let start = app.lead.get("/v1/changes?after=now").await.json();
    let start = start["next_after"].as_str().expect("a place").to_owned();
    office(&app).await;
    csv(&app.lead, "kind=growers&dry_run=true", "id,name\nG-9,Nobody\n").await.assert_status(200);
    csv(&app.lead, "kind=growers", "id,name\nG-1,Hill Brothers\n").await.assert_status(200);
    csv(&app.lead, "kind=growers", "id,name\nG-1,Hill Sisters\n").await.assert_status(200);
    let told = app.lead.get(&format!("/v1/changes?after={start}")).await.json();
    let told: Vec<&str> = told["items"]
        .as_array()
        .expect("items")
        .iter()
        .map(|it| it["type"].as_str().expect("a type"))
        .collect();
    assert_eq!(told, ["grower.created", "farm.created", "grower.changed"]);
    let trail = app.lead.get("/v1/audit-events?operation=import_csv").await.json();
    let trail: Vec<&str> = trail["items"]
        .as_array()
        .expect("items")
        .iter()
        .map(|it| it["object_kind"].as_str().expect("a kind"))
        .collect();
    assert_eq!(trail, ["grower", "farm", "grower"]);
}

#[tokio::test]
async fn with_one_line_refused_nothing_is_taken_and_all_reasons_are_said() {
    let app = TestApp::start().await;
    let before = names(&app.lead, "growers").await;
    let file = "id,name,email\nG-1,Hill,hill@example.org\n,No id,\nG-3,,\nG-4,Dale,nonsense\nG-5,A,,,\n\
        G-6,B,b@example.org,stray\n";
    let dry = csv(&app.lead, "kind=growers&dry_run=true", file).await.assert_status(200).json();
    assert_eq!(counts(&dry), [2, 0, 0, 0, 0, 4]);
    let rows = dry["rows"].as_array().expect("rows");
    let places: Vec<(&str, &str)> = rows
        .iter()
        .map(|it| (it["place"].as_str().expect("a place"), it["outcome"].as_str().expect("one")))
        .collect();
    assert_eq!(
        places,
        [
            ("line 3", "refused"),
            ("line 4", "refused"),
            ("line 5", "refused"),
            ("line 7", "refused"),
            ("line 2", "created"),
            ("line 6", "created"),
        ],
        "what somebody must mend comes first"
    );
    let refused = csv(&app.lead, "kind=growers", file).await;
    let refused = refused.assert_problem(422, "invalid_request");
    assert!(refused.json()["detail"].as_str().expect("words").starts_with("4 of 6 records"));
    refused.assert_member("line 5, column \"email\"");
    refused.assert_member("line 7");
    assert_eq!(names(&app.lead, "growers").await, before, "nothing is half taken");
}

#[tokio::test]
async fn encodings_are_read_for_certain_or_not_at_all() {
    let app = TestApp::start().await;
    let file = "id,name\nG-1,Müller & Söhne\n";
    let utf_16 = |order: fn(u16) -> [u8; 2]| -> Vec<u8> {
        format!("\u{feff}{file}").encode_utf16().flat_map(order).collect()
    };
    let windows: Vec<u8> =
        file.chars().map(|letter| u8::try_from(u32::from(letter)).expect("Latin")).collect();
    for (kind, body, encoding) in [
        ("text/csv", file.as_bytes().to_vec(), "UTF-8"),
        ("text/csv", format!("\u{feff}{file}").into_bytes(), "UTF-8"),
        ("text/csv", utf_16(u16::to_le_bytes), "UTF-16LE"),
        ("text/csv", utf_16(u16::to_be_bytes), "UTF-16BE"),
        ("text/csv; charset=utf-16", utf_16(u16::to_le_bytes), "UTF-16LE"),
        ("text/csv; charset=windows-1252", windows.clone(), "windows-1252"),
        ("text/csv; charset=\"ISO-8859-1\"; header=present", windows.clone(), "windows-1252"),
    ] {
        let report = bytes(&app.lead, kind, body).await.assert_status(200).json();
        assert_eq!((&report["encoding"], counts(&report)), (&json!(encoding), [1, 0, 0, 0, 0, 0]));
    }
    for (kind, body, pointer) in [
        ("text/csv", windows.clone(), "#line=2"),
        ("text/csv; charset=utf-8", windows.clone(), "#line=2"),
        ("text/csv; charset=utf-8", utf_16(u16::to_le_bytes), ""),
        ("text/csv; charset=nonsense", windows, ""),
        ("text/csv", utf_16(u16::to_le_bytes)[2..].to_vec(), "#line=2"),
        ("text/csv", "id".encode_utf16().flat_map(u16::to_be_bytes).collect(), "#line=1"),
        ("text/csv", b"id,name\nG-1,a\x00b\n".to_vec(), "#line=2"),
    ] {
        let refused = bytes(&app.lead, kind, body).await;
        refused.assert_problem(422, "invalid_request").assert_member(pointer);
    }
}

#[tokio::test]
async fn spreadsheets_of_any_country_are_read_as_they_say() {
    let app = TestApp::start().await;
    office(&app).await;
    let comma = "id;name;farm_id;area_ha\nF-1;West;FARM-1;15,5\n";
    let read = csv(&app.lead, "kind=fields&decimal=comma", comma).await.assert_status(200).json();
    assert_eq!(counts(&read), [1, 0, 0, 0, 0, 0]);
    let field = read["rows"][0]["object_id"].as_str().expect("made");
    let field = app.lead.get(&format!("/v1/fields/{field}")).await.json();
    assert_eq!(field["entered_area"], json!({"value": 15.5, "unit": "har"}));
    let plain = csv(&app.lead, "kind=fields&dry_run=true", comma).await.assert_status(200).json();
    let why = &plain["rows"][0]["refused"][0];
    assert_eq!(why["pointer"], "line 2, column \"area_ha\"");
    assert!(why["allowed"].as_str().expect("a hint").contains("decimal=comma"), "{why}");
    for file in [
        "id,name,remark,farm_id\r\nF-2,North,\"two\r\n\"\"lines\"\", east\",FARM-1\r\n\r\n",
        "ID\tName\tFarm ID\tArea ac\nF-2\tNorth\tFARM-1\t38.5\n\t\t\t\n",
        "id,name,farm_id,area_ac,,\nF-2,North,FARM-1,38.5,,\n",
    ] {
        let read = csv(&app.lead, "kind=fields&dry_run=true", file).await.assert_status(200).json();
        assert_eq!(counts(&read), [1, 0, 0, 0, 0, 0], "{file}: {read}");
    }
}

#[tokio::test]
async fn a_header_or_a_quote_that_can_not_be_understood_refuses_the_file() {
    let app = TestApp::start().await;
    for (kind, file, pointer) in [
        ("growers", "", "#line=1"),
        ("growers", "name\nHill\n", "#line=1"),
        ("fields", "id,name,area_ac,area_ha\nF-1,A,1,2\n", "#cell=1,4"),
        ("farms", "id,grower_id,grower\nF-1,a,b\n", "#cell=1,3"),
        ("growers", "id,name,name\nG-1,A,B\n", "#cell=1,3"),
        ("growers", "id,name\nG-1,\"Hill\nG-2,Dale\n", "#line=2"),
        ("growers", "id,name\nG-1,\"Hill\" Brothers\n", "#line=2"),
    ] {
        let refused = csv(&app.lead, &format!("kind={kind}"), file).await;
        refused.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let wrong = "id,name,area\nF-1,A,40\n";
    let read = csv(&app.lead, "kind=fields&dry_run=true", wrong).await.assert_status(200).json();
    assert_eq!(read["ignored"], json!(["area"]), "an area without a unit says nothing");
    for (query, pointer) in [
        ("system=office&kind=barns", "?kind"),
        ("system=office", "?kind"),
        ("system=Office&kind=growers", "?system"),
        ("kind=growers", "?system"),
        ("system=office&kind=growers&decimal=none", "?decimal"),
        ("system=office&kind=growers&dryrun=true", "?dryrun"),
    ] {
        let path = format!("/v1/imports/csv?{query}");
        let refused = app.lead.send_text("POST", &path, CSV, Some("id\nG-1\n".to_owned())).await;
        refused.assert_problem(422, "invalid_request").assert_member(pointer);
    }
    let path = "/v1/imports/csv?system=office&kind=growers";
    let json_body = app.lead.post(path, &json!({})).await;
    json_body.assert_problem(415, "unsupported_media_type");
}

#[tokio::test]
async fn land_that_can_not_be_meant_is_refused_with_a_hint() {
    let app = TestApp::start().await;
    office(&app).await;
    let swapped = square(42.03, -93.62);
    let swapped_east = square(40.0, -85.0);
    let bow_tie = json!({"type": "Polygon", "coordinates":
        [[[-93.62, 42.03], [-93.61, 42.04], [-93.61, 42.03], [-93.62, 42.04], [-93.62, 42.03]]]});
    let projected = square(448_000.0, 4_650_000.0);
    // The square has 0.92 km2: 227 ac, 92 ha.
    let sound = square(-93.62, 42.03);
    let cases = [
        (feature("F-1", swapped, json!({})), "swapped"),
        (feature("F-2", swapped_east, json!({})), "swapped"),
        (feature("F-3", bow_tie, json!({})), "self-intersection"),
        (feature("F-4", projected, json!({})), "no degrees"),
        (
            feature("F-5", sound.clone(), json!({"area_ac": 91.9})),
            "har would: the unit looks wrong",
        ),
        (
            feature("F-6", sound.clone(), json!({"area_ha": 227.0})),
            "[acr_us] would: the unit looks wrong",
        ),
        (
            feature("F-7", sound.clone(), json!({"area_ha": 919_000})),
            "m2 would: the unit looks wrong",
        ),
        (feature("F-8", json!({"type": "Point", "coordinates": [1, 2]}), json!({})), "no boundary"),
    ];
    let words: Vec<&str> = cases.iter().map(|(_, word)| *word).collect();
    let map = collection(cases.into_iter().map(|(feature, _)| feature).collect());
    let dry = geojson(&app.lead, "&dry_run=true", &map).await.assert_status(200).json();
    assert_eq!(counts(&dry), [0, 0, 0, 0, 0, 8]);
    let rows = dry["rows"].as_array().expect("rows");
    for (row, word) in rows.iter().zip(words) {
        let said = row["refused"].to_string();
        assert!(said.contains(word), "{word}: {said}");
        let place = row["place"].as_str().expect("a place");
        assert!(
            row["refused"][0]["pointer"].as_str().expect("a place").starts_with(place),
            "{row}"
        );
    }
    geojson(&app.lead, "", &map).await.assert_problem(422, "invalid_request");
    let rough = feature("F-9", sound, json!({"area_ac": 220}));
    let rough = geojson(&app.lead, "", &collection(vec![rough])).await.assert_status(200).json();
    assert_eq!(counts(&rough), [1, 0, 0, 0, 0, 0], "an area that is only rough is taken");
    let mut other = collection(vec![]);
    other["crs"] = json!({"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::26915"}});
    let refused = geojson(&app.lead, "", &other).await;
    refused.assert_problem(422, "invalid_request").assert_member("/crs");
}

#[tokio::test]
async fn what_begins_like_a_formula_is_kept_and_guarded_on_the_way_out() {
    let app = TestApp::start().await;
    let file = "id,name\nG-1,=HYPERLINK(\"\"evil\"\")\nG-2,+1\nG-3,-2\nG-4,@SUM(A1)\n";
    let quoted = "id,name\nG-1,\"=HYPERLINK(\"\"evil\"\")\"\nG-2,+1\nG-3,-2\nG-4,@SUM(A1)\n";
    let refused = csv(&app.lead, "kind=growers&dry_run=true", file).await.assert_status(200).json();
    assert_eq!(counts(&refused)[5], 0, "{refused}");
    let done = csv(&app.lead, "kind=growers", quoted).await.assert_status(200).json();
    assert_eq!(counts(&done), [4, 0, 0, 0, 0, 0]);
    let names = names(&app.lead, "growers").await;
    for name in ["=HYPERLINK(\"evil\")", "+1", "-2", "@SUM(A1)"] {
        assert!(names.contains(&name.to_owned()), "{name} is kept as it is: {names:?}");
    }
}

#[tokio::test]
async fn the_same_id_twice_is_taken_once_or_refused() {
    let app = TestApp::start().await;
    let same = "id,name\nG-1,Hill\nG-1,Hill\n";
    let read = csv(&app.lead, "kind=growers&dry_run=true", same).await.assert_status(200).json();
    assert_eq!(counts(&read)[0], 1, "{read}");
    let other = "id,name\nG-1,Hill\nG-1,Dale\n";
    let read = csv(&app.lead, "kind=growers&dry_run=true", other).await.assert_status(200).json();
    assert!(counts(&read)[5] >= 1, "{read}");
    csv(&app.lead, "kind=growers", other).await.assert_problem(422, "invalid_request");
}

#[tokio::test]
async fn a_file_has_an_end() {
    let app = TestApp::start().await;
    let lines = |count: usize| -> String {
        std::iter::once("id,name\n".to_owned())
            .chain((0..count).map(|nth| format!("G-{nth},Grower {nth}\n")))
            .collect()
    };
    let refused = csv(&app.lead, "kind=growers", &lines(10_001)).await;
    refused.assert_problem(422, "invalid_request").assert_member("#line=10002");
    let large = "x".repeat(16 * 1024 * 1024 + 1);
    let refused = csv(&app.lead, "kind=growers", &large).await;
    refused.assert_problem(413, "body_too_large");
    // More than another body may have.
    let note = "n".repeat(300);
    let wide: String = std::iter::once("id,name,remark\n".to_owned())
        .chain((0..5_000).map(|nth| format!("G-{nth},Grower {nth},{note}\n")))
        .collect();
    let read = csv(&app.lead, "kind=growers&dry_run=true", &wide).await.assert_status(200).json();
    assert_eq!(counts(&read), [5_000, 0, 0, 0, 0, 0]);
}

#[tokio::test]
async fn a_key_does_it_once_and_only_those_who_connect_may() {
    let app = TestApp::start().await;
    let path = "/v1/imports/csv?system=office&kind=growers";
    let keyed = [("content-type", "text/csv"), ("idempotency-key", "file-1")];
    let file = Some("id,name\nG-1,Hill\n".to_owned());
    let first = app.lead.send_text("POST", path, &keyed, file.clone()).await.assert_status(200);
    let again = app.lead.send_text("POST", path, &keyed, file.clone()).await.assert_status(200);
    assert_eq!((again.header("idempotency-replayed"), &again.text), ("true", &first.text));
    for user in [&app.advisor, &app.grower, &app.read_only] {
        let refused = user.send_text("POST", path, CSV, file.clone()).await;
        refused.assert_problem(403, "forbidden");
    }
    let theirs = csv(&app.stranger, "kind=growers", "id,name\nG-1,Hill\n").await;
    assert_eq!(counts(&theirs.assert_status(200).json()), [1, 0, 0, 0, 0, 0], "a world of its own");
}

#[tokio::test]
async fn a_file_does_not_bring_back_whoever_was_erased() {
    let app = TestApp::start().await;
    office(&app).await;
    let ours = app.lead.get("/v1/external/office/growers/G-1").await.assert_status(200).json();
    let path = format!("/v1/growers/{}/erasure", ours["grower"]["id"].as_str().expect("an id"));
    let why = json!({"reason": "Asked for by letter."});
    let erased = app.lead.send("POST", &path, &[("if-match", "*")], Some(&why)).await;
    erased.assert_status(200);

    let growers = "id,name\nG-1,Hill Brothers\nG-2,Valley\n";
    let dry = csv(&app.lead, "kind=growers&dry_run=true", growers).await.assert_status(200).json();
    assert_eq!((counts(&dry), &dry["rows"][0]["place"]), ([1, 0, 0, 1, 0, 0], &json!("line 2")));
    assert_eq!(dry["rows"][0]["erased_at"], "2027-04-20T12:00:00Z", "{dry}");
    let done = csv(&app.lead, "kind=growers", growers).await.assert_status(200).json();
    assert_eq!(counts(&done), [1, 0, 0, 1, 0, 0], "he keeps nobody else back");
    // His farm, under his id, and a field on it; then a line that the office never sent before.
    let farms = "id,name,grower_id\nFARM-1,Home,G-1\nFARM-2,Hill corner,G-1\nFARM-3,Low,G-2\n";
    let done = csv(&app.lead, "kind=farms", farms).await.assert_status(200).json();
    assert_eq!(counts(&done), [1, 0, 0, 2, 0, 0], "{done}");
    let map = collection(vec![feature("F-1", square(-93.62, 42.03), json!({}))]);
    let done = geojson(&app.lead, "", &map).await.assert_status(200).json();
    assert_eq!(
        (counts(&done), &done["rows"][0]["waits_for"]),
        ([0, 0, 0, 1, 0, 0], &json!("parent"))
    );
    assert!(!names(&app.lead, "growers").await.contains(&"Hill Brothers".to_owned()));
    assert_eq!(names(&app.lead, "farms").await, ["Low"]);
    let waiting = app.lead.get("/v1/record-matches").await.assert_status(200);
    assert!(!waiting.text.contains("Hill"), "nothing that the file says is kept: {}", waiting.text);

    let waiting = waiting.json();
    let of = |it: &&Value| it["kind"] == "grower";
    let grower = waiting["items"].as_array().expect("items").iter().find(of).expect("the grower");
    let path = format!("/v1/record-matches/{}/decision", grower["id"].as_str().expect("an id"));
    let new = json!({"decision": "new"});
    let lifted = app.lead.send("POST", &path, &[("if-match", "\"1\"")], Some(&new)).await;
    assert_eq!(lifted.assert_status(200).json()["followed"]["waiting"], 3);
    let done = csv(&app.lead, "kind=growers", growers).await.assert_status(200).json();
    assert_eq!(counts(&done), [1, 0, 1, 0, 0, 0]);
    let done = csv(&app.lead, "kind=farms", farms).await.assert_status(200).json();
    assert_eq!(counts(&done), [2, 0, 1, 0, 0, 0]);
    let done = geojson(&app.lead, "", &map).await.assert_status(200).json();
    assert_eq!(counts(&done), [1, 0, 0, 0, 0, 0]);
}
