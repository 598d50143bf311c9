//! Events of what records systems say, and of what people decide about it.

use serde_json::{Value, json};
use tests::{Farmstead, TestApp};

use super::audit::Trail;

/// Records by their ids, one of each kind, a batch, decisions, and ids that are forgotten.
pub(super) async fn records(trail: &mut Trail<'_>, app: &TestApp) {
    let user = &app.records_system;
    let at = |what: &str| format!("/v1/external/audited/{what}");
    let grower = json!({"name": "Audited grower"});
    let (made, event) = trail.says(user, "put_external_grower", &at("growers/G"), &grower).await;
    assert_eq!((event.object_kind.as_str(), event.changed), ("grower", None));
    let grower = made.json()["grower"]["id"].as_str().expect("an id").to_owned();
    assert_eq!(event.object_id, grower);
    assert_eq!(event.grower_id.map(|id| id.to_string()), Some(grower.clone()));
    let farm = |name: &str| json!({"grower": "G", "name": name});
    trail.says(user, "put_external_farm", &at("farms/A"), &farm("Home")).await;
    let (_, event) = trail.says(user, "put_external_farm", &at("farms/A"), &farm("House")).await;
    assert_eq!((event.object_kind.as_str(), event.changed), ("farm", Some(json!(["name"]))));
    let field =
        json!({"type": "Feature", "geometry": null, "properties": {"farm": "A", "name": "North"}});
    trail.says(user, "put_external_field", &at("fields/F"), &field).await;
    let makeup = Farmstead::planter_body(&grower)["makeup"].clone();
    let planter = json!({"grower": "G", "name": "Eight", "makeup": makeup});
    trail.says(user, "put_external_planter", &at("planters/P"), &planter).await;
    let harvest = json!({"field": "F", "harvested_on": "2026-10-12", "crop": "corn", "basis": "dry",
        "grain": {"value": 8, "unit": "t/har"}});
    trail.says(user, "put_external_yield", &at("yields/Y"), &harvest).await;
    let batch = json!({"farms": [{"id": "B", "grower": "G", "name": "Batch"}]});
    let (_, event) = trail.says(user, "put_external_batch", &at("batch"), &batch).await;
    assert_eq!(event.object_kind, "farm");
    decisions(trail, app, &grower).await;
    for (kind, path) in [
        ("yield", "yields/Y"),
        ("planter", "planters/P"),
        ("field", "fields/F"),
        ("farm", "farms/A"),
        ("grower", "growers/G"),
    ] {
        let operation = format!("delete_external_{kind}");
        let (_, event) = trail.says(user, &operation, &at(path), &Value::Null).await;
        assert_eq!(event.object_kind, "external_id");
    }
}

async fn decisions(trail: &mut Trail<'_>, app: &TestApp, grower: &str) {
    let put = async |path: &str, body: &Value| {
        let path = format!("/v1/external/decided/{path}");
        app.records_system.send("PUT", &path, &[], Some(body)).await
    };
    // It says what is there, so only the decision itself is an event.
    put("growers/G", &json!({"name": "Audited grower"})).await.assert_status(409);
    trail.goes_on().await;
    let waiting = app.lead.get("/v1/record-matches").await.assert_status(200).json();
    let id = waiting["items"][0]["id"].as_str().expect("an id").to_owned();
    let path = format!("/v1/record-matches/{id}/decision");
    let same = json!({"decision": "same", "object_id": grower});
    let (_, event) = trail.says(&app.lead, "decide_record_match", &path, &same).await;
    assert_eq!((event.object_kind, event.object_id), ("record_match".to_owned(), id));

    let ours = json!({"name": "Audited, ours"});
    app.lead.patch(&format!("/v1/growers/{grower}"), "*", &ours).await.assert_status(200);
    put("growers/G", &json!({"name": "Audited, theirs"})).await.assert_status(409);
    trail.goes_on().await;
    let list = format!("/v1/record-conflicts?grower_id={grower}");
    let conflicts = app.lead.get(&list).await.assert_status(200).json();
    let id = conflicts["items"][0]["id"].as_str().expect("an id").to_owned();
    let path = format!("/v1/record-conflicts/{id}/decision");
    let keep = json!({"keep": "ours"});
    let (_, event) = trail.says(&app.lead, "decide_record_conflict", &path, &keep).await;
    assert_eq!((event.object_kind, event.object_id), ("record_conflict".to_owned(), id));
}
