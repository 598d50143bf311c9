//! Task data that comes in.

use std::io::{Cursor, Write};

use serde_json::{Value, json};
use tests::{Answer, Farmstead, TestApp, User};

use super::sheet;

const ZIP: &str = "application/zip";
const XML: &str = "application/xml";

async fn import(user: &User, query: &str, form: &str, file: &[u8]) -> Answer {
    let path = format!("/v1/imports/task-data?system=terminal{query}");
    user.send_bytes("POST", &path, &[("content-type", form)], file.to_vec()).await
}

/// A zip of one file.
fn zipped(name: &str, content: &[u8]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    let options = zip::write::SimpleFileOptions::default()
        .compression_method(zip::CompressionMethod::Deflated);
    zip.start_file(name, options).expect("a file");
    zip.write_all(content).expect("written");
    zip.finish().expect("a zip").into_inner()
}

/// Whether anything was stored.
async fn stored(user: &User) -> Vec<Value> {
    let found = user.get("/v1/growers").await.assert_status(200).json();
    found["items"].as_array().expect("items").clone()
}

#[tokio::test]
async fn what_goes_out_as_task_data_comes_in_elsewhere() {
    let app = TestApp::start().await;
    let stead = Farmstead::of_grower(&app.advisor, &app.own_grower_id).await;
    let pieces = json!({"type": "MultiPolygon", "coordinates": [
        [[[-93.62, 42.03], [-93.61, 42.03], [-93.61, 42.04], [-93.62, 42.04], [-93.62, 42.03]],
         [[-93.618, 42.032], [-93.618, 42.036], [-93.614, 42.036], [-93.614, 42.032], [-93.618, 42.032]]],
        [[[-93.6, 42.03], [-93.59, 42.03], [-93.59, 42.04], [-93.6, 42.04], [-93.6, 42.03]]]
    ]});
    let path = format!("/v1/fields/{}", stead.field);
    let change = json!({"boundary": pieces, "name": "North & \"south\" <forty>"});
    app.advisor.patch(&path, "*", &change).await.assert_status(200);
    sheet(&app.advisor, &stead).await;
    for version in ["3", "4"] {
        let path = format!("/v1/growers/{}/task-data?version=v{version}", stead.grower);
        let file = app.advisor.get(&path).await.assert_status(200).bytes;
        let dry =
            import(&app.stranger, "&dry_run=true", ZIP, &file).await.assert_status(200).json();
        assert_eq!(dry["counts"]["refused"], 0, "{dry}");
        let rows = dry["rows"].as_array().expect("rows");
        if version == "3" {
            assert_eq!(dry["counts"]["created"], 3, "{dry}");
            assert!(stored(&app.stranger).await.is_empty(), "a dry run stores nothing");
            assert!(
                rows.iter().any(|row| row["place"].as_str().is_some_and(|it| it.contains("PFD")))
            );
        }
    }
    let path = format!("/v1/growers/{}/task-data", stead.grower);
    let file = app.advisor.get(&path).await.assert_status(200).bytes;
    let done = import(&app.stranger, "", ZIP, &file).await.assert_status(200).json();
    assert_eq!(done["counts"]["created"], 3, "{done}");
    let grower = stored(&app.stranger).await;
    assert_eq!(grower[0]["name"], "Miller Brothers");
    let fields = app.stranger.get("/v1/field-features").await.assert_status(200).json();
    let field = &fields["features"][0];
    assert_eq!(field["properties"]["name"], "North & \"south\" <forty>");
    assert_eq!(field["geometry"], pieces);
    // The link list kept our id, which is theirs now.
    let theirs = json!([{"system": "terminal", "their_id": stead.field}]);
    assert_eq!(field["properties"]["external_ids"], theirs);
    let again = import(&app.stranger, "", ZIP, &file).await.assert_status(200).json();
    assert_eq!(again["counts"]["unchanged"], 3, "{again}");
}

#[tokio::test]
async fn what_can_not_be_read_is_named_and_nothing_is_stored() {
    let app = TestApp::start().await;
    let bomb = "<?xml version=\"1.0\"?>\n<!DOCTYPE a [<!ENTITY b \"xx\"><!ENTITY c \"&b;&b;&b;&b;\">]>\n\
        <ISO11783_TaskData VersionMajor=\"4\"><CTR A=\"CTR1\" B=\"&c;\"/></ISO11783_TaskData>";
    let outside = "<!DOCTYPE a [<!ENTITY b SYSTEM \"file:///etc/hostname\">]>\
        <ISO11783_TaskData VersionMajor=\"4\"><CTR A=\"CTR1\" B=\"&b;\"/></ISO11783_TaskData>";
    let broken =
        "<ISO11783_TaskData VersionMajor=\"4\">\n<CTR A=\"CTR1\" B=\"Ann\"/>\n<PFD A=\"PFD1\">";
    let deep = format!("<ISO11783_TaskData VersionMajor=\"4\">{}", "<a>".repeat(10_000));
    for (text, line) in [(bomb, 2), (outside, 1), (broken, 3), (deep.as_str(), 1), ("no xml", 1)] {
        for (form, file) in [
            (XML, text.as_bytes().to_vec()),
            (ZIP, zipped("TASKDATA/TASKDATA.XML", text.as_bytes())),
        ] {
            let answer = import(&app.stranger, "", form, &file).await;
            let answer = answer.assert_problem(422, "invalid_request");
            answer.assert_member(&format!("#line={line}"));
            assert!(!answer.text.contains("hostname"), "{}", answer.text);
        }
    }
    // A small zip that is large when it is unpacked: spaces pack a thousandfold.
    let large = zipped("TASKDATA.XML", &vec![b' '; 20 * 1024 * 1024]);
    assert!(large.len() < 100_000);
    for file in [large, b"PK\x03\x04 no zip".to_vec(), zipped("other.txt", b"<a/>")] {
        import(&app.stranger, "", ZIP, &file).await.assert_problem(422, "invalid_request");
    }
    import(&app.stranger, "", "text/csv", b"a").await.assert_problem(415, "unsupported_media_type");
    // One bad field, and nothing of the file is taken.
    let half = "<ISO11783_TaskData VersionMajor=\"3\"><CTR A=\"CTR1\" B=\"Ann\"/>\
        <FRM A=\"FRM1\" B=\"Home\" I=\"CTR1\"/>\n<PFD A=\"PFD1\" C=\"North\" D=\"0\" F=\"FRM1\"><PLN A=\"1\">\
        <LSG A=\"1\"><PNT A=\"2\" C=\"42\" D=\"west\"/></LSG></PLN></PFD></ISO11783_TaskData>";
    let answer = import(&app.stranger, "", XML, half.as_bytes()).await;
    answer.assert_problem(422, "invalid_request").assert_member("line 2, PNT");
    assert!(stored(&app.stranger).await.is_empty());
    let path = "/v1/imports/task-data?system=terminal";
    let sent = [("content-type", XML)];
    app.read_only.send_bytes("POST", path, &sent, half.into()).await.assert_status(403);
}

#[tokio::test]
async fn xml_says_its_own_encoding_and_nothing_is_guessed() {
    let app = TestApp::start().await;
    let file = |head: &str| {
        let mut file = head.as_bytes().to_vec();
        file.extend_from_slice(
            b"<ISO11783_TaskData VersionMajor=\"3\"><CTR A=\"CTR1\" B=\"M\xfcller\"/>",
        );
        file.extend_from_slice(b"</ISO11783_TaskData>");
        file
    };
    let latin = file("<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?>");
    for (form, bytes) in [(XML, latin.clone()), (ZIP, zipped("TASKDATA.XML", &latin))] {
        let told = import(&app.stranger, "&dry_run=true", form, &bytes).await;
        let told = told.assert_status(200).json();
        assert_eq!(told["counts"]["created"], 1, "{told}");
    }
    // Without a word of it, or with one that is none, it is refused.
    for head in [
        "",
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>",
        "<?xml version=\"1.0\" encoding=\"none\"?>",
    ] {
        for (form, bytes) in [(XML, file(head)), (ZIP, zipped("TASKDATA.XML", &file(head)))] {
            let answer = import(&app.stranger, "", form, &bytes).await;
            answer.assert_problem(422, "invalid_request");
        }
    }
    assert!(stored(&app.stranger).await.is_empty());
    import(&app.stranger, "", XML, &latin).await.assert_status(200);
    assert_eq!(stored(&app.stranger).await[0]["name"], "Müller");
}

#[tokio::test]
async fn a_file_that_would_keep_the_service_busy_is_named_at_once() {
    let app = TestApp::start().await;
    let whole = |inside: &str| {
        format!("<ISO11783_TaskData VersionMajor=\"3\">{inside}</ISO11783_TaskData>").into_bytes()
    };
    let wide: Vec<String> = (0..200_000).map(|number| format!(" a{number}=\"\"")).collect();
    let wide = wide.concat();
    let rings =
        "<LSG A=\"1\"><PNT C=\"1\" D=\"1\"/></LSG><LSG A=\"2\"><PNT C=\"9\" D=\"9\"/></LSG>";
    let rings = rings.repeat(60_000);
    let field = format!("<PFD A=\"PFD1\" C=\"N\" D=\"0\"><PLN A=\"1\">{rings}</PLN></PFD>");
    for (file, at) in
        [(whole(&format!("<CTR{wide}/>")), "#line=1"), (whole(&field), "line 1, PFD/PLN")]
    {
        let begun = std::time::Instant::now();
        let answer = import(&app.stranger, "", XML, &file).await;
        answer.assert_problem(422, "invalid_request").assert_member(at);
        let took = begun.elapsed();
        assert!(took.as_secs() < 5, "{took:?}");
    }
}
