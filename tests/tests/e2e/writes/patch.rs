//! Every `PATCH` of the document tells a member that is absent from one that is `null`.

use serde_json::{Value, json};
use tests::{CATALOGUE, Farmstead, TestApp};

use crate::stands::planted;
use crate::trials::on_rows;

/// Members that say when and in which version; they move with every change.
const MOVING: &[&str] = &["version", "updated_at"];

fn settled(object: &Value) -> Value {
    let mut object = object.clone();
    for name in MOVING {
        object.as_object_mut().expect("an object").remove(*name);
    }
    object
}

fn takes_null(schema: &Value) -> bool {
    let types = &schema["type"];
    let listed =
        types == "null" || types.as_array().is_some_and(|list| list.iter().any(|it| it == "null"));
    let forms = schema["oneOf"].as_array().or_else(|| schema["anyOf"].as_array());
    listed || forms.is_some_and(|list| list.iter().any(takes_null))
}

#[tokio::test]
async fn null_empties_or_is_refused_and_absent_leaves() {
    let app = TestApp::start().await;
    let stead = Farmstead::make(&app.lead, "Patched").await;
    let client = json!({"name": "Patched", "role": "read_only", "scopes": ["read"]});
    let client = app.lead.post("/v1/machine-clients", &client).await.assert_status(201).json();
    let client = client["client"]["id"].as_str().expect("an id").to_owned();
    let hook = json!({"name": "Patched", "url": "http://127.0.0.1:9/notices"});
    let hook = app.lead.post("/v1/webhooks", &hook).await.assert_status(201).json();
    let hook = hook["webhook"]["id"].as_str().expect("an id").to_owned();
    let link = json!({"name": "Patched", "system": "patched", "base_url": "http://127.0.0.1:9/api",
        "auth": {"kind": "none"}, "preset": "ogc_features", "paging": {"kind": "links"},
        "changes": {"kind": "etag"}, "run_every_hours": 24,
        "resources": {"growers": {"path": "/growers", "items": "$.features[*]", "id": "/id", "name": "/name"}}});
    let link = app.lead.create("/v1/records-links", &link).await;
    let planting = planted(&app.lead, &stead, "2027-04-10").await;
    let trial = app.lead.create("/v1/trials", &on_rows(&stead)).await;
    let harvest = json!({"harvested_on": "2026-10-12", "crop": "corn", "basis": "dry",
        "grain": {"value": 8, "unit": "t/har"}});
    let harvest = app.lead.create(&format!("/v1/fields/{}/yields", stead.field), &harvest).await;
    let document = serde_json::to_value(api::routes::document()).expect("JSON");
    let (mut emptied, mut refused, mut walked) = (0, 0, Vec::new());
    for (path, item) in document["paths"].as_object().expect("paths") {
        let operation = &item["patch"];
        if operation.is_null() {
            continue;
        }
        let kind = CATALOGUE.iter().find(|(known, _)| known == path).map(|(_, kind)| *kind);
        let at = match kind {
            None if path == "/v1/accounts/{id}" => {
                format!("/v1/accounts/{}", app.advisor.account_id)
            }
            None if path == "/v1/machine-clients/{id}" => format!("/v1/machine-clients/{client}"),
            None if path == "/v1/records-links/{id}" => format!("/v1/records-links/{link}"),
            None if path == "/v1/webhooks/{id}" => format!("/v1/webhooks/{hook}"),
            None if path == "/v1/plantings/{id}" => format!("/v1/plantings/{planting}"),
            None if path == "/v1/yields/{id}" => format!("/v1/yields/{harvest}"),
            None if path == "/v1/trials/{id}" => format!("/v1/trials/{trial}"),
            Some("grower") => format!("/v1/growers/{}", app.own_grower_id),
            Some(kind) => path.replace("{id}", stead.id_of(kind).expect("an object")),
            None if !path.contains('{') => path.clone(),
            None => panic!("{path}: which object is that?"),
        };
        walked.push(path.clone());
        let content = operation["requestBody"]["content"].as_object().expect("content");
        let reference = content["application/json"]["schema"]["$ref"].as_str().expect("a name");
        let schema = document.pointer(reference.trim_start_matches('#')).expect("a schema");
        if path == "/v1/growers/{id}" {
            let full = json!({"phone": "555 0100", "email": "m@example.org", "notes": "x",
                "advisor_id": app.advisor.account_id});
            app.lead.patch(&at, "*", &full).await.assert_status(200);
        }
        let send = async |body: &Value| {
            app.lead.send("PATCH", &at, &[("if-match", "*")], Some(body)).await
        };
        let before = app.lead.get(&at).await.assert_status(200).json();
        send(&json!({})).await.assert_status(200);
        let after = app.lead.get(&at).await.json();
        assert_eq!(settled(&after), settled(&before), "{path}: absent leaves what is there");
        for (name, member) in schema["properties"].as_object().expect("members") {
            let answer = send(&json!({name: null})).await;
            if takes_null(member) {
                answer.assert_status(200);
                let now = app.lead.get(&at).await.json();
                assert!(now[name].is_null(), "{path}: {name} is emptied: {now}");
                emptied += 1;
            } else {
                let answer = answer.assert_problem(422, "invalid_request");
                answer.assert_member(&format!("/{name}"));
                refused += 1;
            }
        }
    }
    assert!(emptied >= 6 && refused >= 5, "{emptied} emptied, {refused} refused: {walked:?}");
}
