//! What the API document says of keys.

use serde_json::Value;

/// Operations without a key: each of them is a proof of who calls, which is made anew, or ends what
/// may be ended twice.
const WITHOUT_KEY: &[&str] = &[
    "create_session",
    "refresh_session",
    "end_present_session",
    "change_own_password",
    "redeem_password_link",
    "redeem_access_link",
    "issue_token",
];

/// Every operation that writes: all but those that read and those that only work something out.
pub(super) fn writing(document: &Value) -> Vec<Value> {
    let paths = document["paths"].as_object().expect("paths");
    let operations = paths.values().flat_map(|item| item.as_object().expect("operations"));
    let writing = operations.filter(|(method, _)| *method != "get");
    let stored = writing.filter(|(_, operation)| {
        // Trying a link looks at the records system and stores nothing.
        operation["tags"][0] != "what-if" && operation["operationId"] != "test_records_link"
    });
    stored.map(|(_, operation)| operation.clone()).collect()
}

#[test]
fn every_operation_that_writes_takes_a_key_and_names_what_follows() {
    let document = serde_json::to_value(api::routes::document()).expect("JSON");
    let mut with_key = 0;
    for operation in writing(&document) {
        let id = operation["operationId"].as_str().expect("an id");
        let parameters = operation["parameters"].as_array().cloned().unwrap_or_default();
        let key = parameters.iter().find(|it| it["name"] == "Idempotency-Key");
        let Some(key) = key else {
            assert!(WITHOUT_KEY.contains(&id), "{id} takes no key");
            continue;
        };
        assert!(!WITHOUT_KEY.contains(&id), "{id} is listed without need");
        assert_eq!((&key["in"], &key["required"]), (&"header".into(), &false.into()), "{id}");
        let said = |status: &str, code: &str| {
            let text = operation["responses"][status]["description"].as_str().unwrap_or_default();
            assert!(text.contains(code), "{id} does not name {code}: {text}");
        };
        said("409", "`request_under_way`");
        said("409", "`answer_not_kept`");
        said("422", "`key_reused`");
        said("422", "`invalid_request`");
        for (status, response) in operation["responses"].as_object().expect("responses") {
            if status.starts_with('2') {
                let header = &response["headers"]["Idempotency-Replayed"];
                assert!(header["description"].is_string(), "{id} {status}");
            }
        }
        with_key += 1;
    }
    assert!(with_key >= 25, "only {with_key} operations take a key");
}
