//! Growers who were erased and whom their records system sends on.

use sea_orm::{ConnectionTrait, Statement};
use serde_json::{Value, json};
use tests::{Answer, TestApp};

use super::{at, batch, decide, feature, g1, id_of, many, only, put, upstream};

const LIST: &str = "/v1/record-matches";

async fn erase(app: &TestApp, grower: &str) -> Value {
    let path = format!("/v1/growers/{grower}/erasure");
    let why = json!({"reason": "Asked for by letter."});
    let answer = app.lead.send("POST", &path, &[("if-match", "*")], Some(&why)).await;
    answer.assert_status(200).json()
}

/// All that the records system has of the grower.
fn all_of_him() -> Value {
    json!({
        "growers": [{"id": "G-1", "name": "Prairie Partners", "phone": "555 0177"}],
        "farms": [{"id": "A-1", "grower": "G-1", "name": "Quagga home"}],
        "planters": [{"id": "P-1", "grower": "G-1", "name": "Quagga planter", "rows": 8}],
        "fields": {"type": "FeatureCollection", "features": [{
            "type": "Feature", "id": "F-1", "geometry": g1(),
            "properties": {"farm": "A-1", "name": "Quagga field"}
        }]},
        "yields": [{"id": "Y-1", "field": "F-1", "harvested_on": "2026-10-12", "crop": "corn",
            "basis": "dry", "grain": {"value": 8, "unit": "t/har"}}]
    })
}

/// All rows that records leave, as text.
async fn kept(app: &TestApp) -> String {
    let state = app.state();
    let mut all = String::new();
    for (table, columns) in [
        ("record_matches", "record, candidates, their_version"),
        ("external_ids", "their_id, taken"),
        ("erased_records", "mark"),
        ("growers", "name, phone"),
        ("farms", "name"),
        ("fields", "name, boundary"),
    ] {
        for column in columns.split(", ") {
            let sql = format!("SELECT CAST({column} AS TEXT) FROM {table}");
            let asked = Statement::from_string(state.db.get_database_backend(), sql);
            for row in state.db.query_all_raw(asked).await.expect("rows") {
                let text: Option<String> = row.try_get_by_index(0).expect("text");
                all.push_str(&format!("{table}.{column}: {}\n", text.unwrap_or_default()));
            }
        }
    }
    all
}

async fn assert_nothing_is_kept(app: &TestApp) {
    let rows = kept(app).await;
    for word in ["Prairie", "555 0177", "Quagga", "-93.59517"] {
        let left: Vec<&str> = rows.lines().filter(|row| row.contains(word)).collect();
        assert!(left.is_empty(), "{word} is kept: {left:?}");
    }
}

fn assert_waits_erased(answer: Answer, word: &str) {
    let problem = answer.assert_problem(409, "decision_needed").json();
    let detail = problem["detail"].as_str().expect("words");
    assert!(detail.contains("was erased here on 2027-04-20"), "{detail}");
    assert!(detail.contains(word) && detail.contains("/v1/record-matches/"), "{detail}");
}

async fn waiting(app: &TestApp) -> Vec<Value> {
    let page = app.lead.get(&format!("{LIST}?limit=200")).await.assert_status(200).json();
    page["items"].as_array().expect("items").clone()
}

/// The grower with all that is his came, and was erased. Gives the id of what is left of him.
async fn came_and_went(app: &TestApp) -> String {
    let made = batch(app, &all_of_him()).await;
    assert_eq!(made["counts"]["created"], 4, "{made}");
    let grower = made["records"][0]["object_id"].as_str().expect("made").to_owned();
    let erased = erase(app, &grower).await;
    let parts = erased["parts"].as_array().expect("parts");
    let marks = parts.iter().find(|part| part["kind"] == "erased_marks").expect("hashes");
    // Grower, farm, field, yield; and the planter, which waited for its make-up.
    assert_eq!((&marks["deleted"], &marks["kept"]), (&json!(0), &json!(5)), "{marks}");
    assert_nothing_is_kept(app).await;
    assert_eq!(waiting(app).await, Vec::<Value>::new());
    grower
}

#[tokio::test]
async fn whoever_was_erased_is_not_made_again_by_a_batch() {
    let app = TestApp::start().await;
    came_and_went(&app).await;
    let growers = many(&app, "growers").await;
    for _ in 0..2 {
        let again = batch(&app, &all_of_him()).await;
        assert_eq!(again["counts"]["waiting"], 5, "{again}");
        for record in again["records"].as_array().expect("records") {
            assert_eq!(record["erased_at"], "2027-04-20T12:00:00Z", "{record}");
            let waits = if record["kind"] == "grower" { "decision" } else { "parent" };
            assert_eq!(record["waits_for"], waits, "{record}");
        }
    }
    assert_eq!(many(&app, "growers").await, growers);
    assert_eq!((many(&app, "farms").await, many(&app, "fields").await), (0, 0));
    let list = waiting(&app).await;
    assert_eq!(list.len(), 5);
    for record in &list {
        assert_eq!((&record["version"], &record["candidates"]), (&json!(1), &json!([])));
        let says = record["says"].as_array().expect("members");
        assert!(says.iter().all(|said| said["member"] == "parent"), "{record}");
    }
    assert_nothing_is_kept(&app).await;
    // To say that look-alikes are new is no way round it, and a dry run says the same.
    for query in ["look_alikes=create", "dry_run=true"] {
        let path = format!("/v1/external/records/batch?{query}");
        let forced = app.records_system.post(&path, &all_of_him()).await.assert_status(200).json();
        assert_eq!(forced["counts"]["waiting"], 5, "{query}");
    }
    // Others come as before, also under the same id in another records system.
    let other = json!({"growers": [{"id": "G-1", "name": "Somebody else"}]});
    let path = "/v1/external/elsewhere/batch";
    let made = app.records_system.post(path, &other).await.assert_status(200).json();
    assert_eq!(made["counts"]["created"], 1, "{made}");
}

#[tokio::test]
async fn a_put_says_when_it_was_erased_and_a_person_lets_it_come_again() {
    let app = TestApp::start().await;
    came_and_went(&app).await;
    let grower = json!({"name": "Prairie Partners", "phone": "555 0177"});
    let farm = json!({"grower": "G-1", "name": "Quagga home"});
    // Before the grower is sent again, and after.
    assert_waits_erased(put(&app, "farms/A-1", &farm).await, "What the farm belongs to");
    assert_waits_erased(put(&app, "growers/G-1", &grower).await, "The grower");
    assert_waits_erased(put(&app, "farms/A-1", &farm).await, "What the farm belongs to");
    // What never came before hangs below him too, and what hangs below that.
    let new = json!({"grower": "G-1", "name": "Quagga corner"});
    assert_waits_erased(put(&app, "farms/A-2", &new).await, "What the farm belongs to");
    let field = feature(&g1(), &json!({"farm": "A-2", "name": "Quagga field"}));
    assert_waits_erased(put(&app, "fields/F-2", &field).await, "What the field belongs to");
    assert_nothing_is_kept(&app).await;

    let list = waiting(&app).await;
    assert_eq!(list.len(), 4, "{list:?}");
    let of = |kind: &str| list.iter().find(|it| it["kind"] == kind).expect(kind);
    let new = json!({"decision": "new"});
    decide(&app, LIST, of("farm"), &new).await.assert_problem(409, "wrong_state");
    let done = decide(&app, LIST, of("grower"), &new).await.assert_status(200).json();
    assert_eq!(done["record"]["outcome"], "waiting");
    assert!(done["record"].get("waits_for").is_none() && done["record"].get("object_id").is_none());
    assert_eq!(done["followed"]["waiting"], 3, "{done}");
    assert_eq!(waiting(&app).await, Vec::<Value>::new());
    decide(&app, LIST, of("grower"), &new).await.assert_problem(404, "not_found");

    let back = batch(&app, &all_of_him()).await;
    assert_eq!((&back["counts"]["created"], &back["counts"]["waiting"]), (&json!(4), &json!(1)));
    assert_eq!(only(&app, LIST).await["waits_for"], "makeup", "the planter, as any new one");
    // Erased once more, he waits once more.
    let back = app.lead.get(&at("growers/G-1")).await.assert_status(200).json();
    erase(&app, &id_of(&back["grower"])).await;
    assert_eq!(batch(&app, &all_of_him()).await["counts"]["waiting"], 5);
    assert_nothing_is_kept(&app).await;
}

#[tokio::test]
async fn whoever_was_entered_anew_is_tied_to_what_is_sent() {
    let app = TestApp::start().await;
    came_and_went(&app).await;
    batch(&app, &all_of_him()).await;
    let anew = app.lead.create("/v1/growers", &json!({"name": "Partners"})).await;
    let list = waiting(&app).await;
    let grower = list.iter().find(|it| it["kind"] == "grower").expect("the grower");
    let makeup =
        json!({"decision": "new", "makeup": tests::Farmstead::planter_body("any")["makeup"]});
    let refused = decide(&app, LIST, grower, &makeup).await;
    refused.assert_problem(422, "invalid_request").assert_member("/makeup");
    let same = json!({"decision": "same", "object_id": anew});
    let done = decide(&app, LIST, grower, &same).await.assert_status(200).json();
    assert_eq!(
        (&done["record"]["object_id"], &done["followed"]["waiting"]),
        (&json!(anew), &json!(4))
    );
    let back = batch(&app, &all_of_him()).await;
    assert_eq!((&back["counts"]["changed"], &back["counts"]["created"]), (&json!(1), &json!(3)));
    let tied = app.lead.get(&at("growers/G-1")).await.assert_status(200).json();
    assert_eq!(id_of(&tied["grower"]), anew);
    assert_eq!(tied["grower"]["name"], "Prairie Partners", "his name follows the records system");
}

#[tokio::test]
async fn a_farm_that_went_to_another_grower_waits_by_itself() {
    let app = TestApp::start().await;
    came_and_went(&app).await;
    put(&app, "growers/G-2", &json!({"name": "Second"})).await.assert_status(201);
    let sold = json!({"grower": "G-2", "name": "Quagga home"});
    assert_waits_erased(put(&app, "farms/A-1", &sold).await, "The farm");
    let waits = only(&app, LIST).await;
    assert_eq!((&waits["kind"], &waits["waits_for"]), (&json!("farm"), &json!("decision")));
    decide(&app, LIST, &waits, &json!({"decision": "new"})).await.assert_status(200);
    put(&app, "farms/A-1", &sold).await.assert_status(201);
    // That says nothing of the grower.
    let grower = json!({"name": "Prairie Partners"});
    assert_waits_erased(put(&app, "growers/G-1", &grower).await, "The grower");
}

#[tokio::test]
async fn what_waited_below_him_goes_with_him() {
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    // A record that may be he, and what waits below it; nobody knows yet whose that is.
    let records = &app.records_system;
    let like = json!({"name": "PRAIRIE PARTNERS", "phone": "555 0177"});
    let path = "/v1/external/office/growers/K-1";
    records.send("PUT", path, &[], Some(&like)).await.assert_problem(409, "decision_needed");
    let body = json!({
        "farms": [{"id": "KF-1", "grower": "K-1", "name": "Quagga home"}],
        "fields": {"type": "FeatureCollection", "features": [{"type": "Feature", "id": "KS-1",
            "geometry": g1(), "properties": {"farm": "KF-1", "name": "Quagga field"}}]}
    });
    let path = "/v1/external/office/batch";
    let below = records.post(path, &body).await.assert_status(200).json();
    assert_eq!(below["counts"]["waiting"], 2, "{below}");
    assert!(kept(&app).await.contains("Quagga"));
    erase(&app, &grower).await;
    assert_nothing_is_kept(&app).await;
    assert_eq!(waiting(&app).await, Vec::<Value>::new());
    let mut all = body.clone();
    all["growers"] = json!([{"id": "K-1", "name": "PRAIRIE PARTNERS"}]);
    let again = records.post(path, &all).await.assert_status(200).json();
    assert_eq!(again["counts"]["waiting"], 3, "{again}");
    assert_nothing_is_kept(&app).await;
}

#[tokio::test]
async fn what_was_planned_before_an_erasure_is_not_done_after_it() {
    use api::auth::Scope;
    use api::auth::role::Role;
    use api::exchange::intake::{
        Beside, By, Columns, Incoming, Kind, Parent, Place, Source, System, apply, plan,
    };
    let app = TestApp::start().await;
    let (grower, _) = upstream(&app).await;
    let state = app.state();
    let source = Source {
        system: System::parse("/system", "records").expect("a name"),
        today: "2027-04-20".parse().expect("a day"),
        beside: Beside::Waits,
    };
    let place = Place::new("/farms/0", &std::sync::Arc::new(Columns::default()));
    let mut farm = Incoming::new(Kind::Farm, place);
    farm.their_id = Some("A-2".to_owned());
    farm.said.name = Some("Quagga corner".to_owned());
    farm.said.parent = Some(Parent::Theirs("G-1".to_owned()));
    let scope = Scope::of_practice(app.practice_id);
    let planned = plan(&state.db, scope, &source, vec![farm]).await.expect("a plan");
    assert_eq!(planned.counts().created, 1);
    erase(&app, &grower).await;
    let actor = api::writes::Actor {
        practice_id: app.practice_id,
        account_id: app.lead.account_id.parse().expect("an id"),
        role: Role::Lead,
        client_id: None,
    };
    let by = By { actor, operation: "test".to_owned(), request_id: String::new() };
    let tx = api::db::begin(&state.db).await.expect("a transaction");
    let refused = apply(&tx, state, &by, planned).await.expect_err("it is planned anew");
    assert_eq!(refused.code(), api::http::ProblemCode::Stale);
    tx.rollback().await.expect("rolled back");
    assert_nothing_is_kept(&app).await;
}
