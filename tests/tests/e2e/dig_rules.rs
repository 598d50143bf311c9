//! The rules by which digs are judged.

use domain::dig::RULES;
use serde_json::{Value, json};
use tests::TestApp;

fn items(list: &Value) -> &Vec<Value> {
    list["items"].as_array().expect("items")
}

#[tokio::test]
async fn every_rule_is_shown_in_its_order() {
    let app = TestApp::start().await;
    let list = app.read_only.get("/v1/dig-rules").await.assert_status(200).json();
    assert_eq!(items(&list).len(), RULES.len());
    for (shown, rule) in items(&list).iter().zip(RULES) {
        assert_eq!(shown["cause"], json!(rule.cause));
        assert_eq!(shown["class"], json!(rule.class));
        assert_eq!(shown["when"], rule.when);
        assert_eq!(shown["reading"], rule.reading);
        assert_eq!(shown["check"], rule.check);
        assert_eq!(shown["change"], rule.change);
        assert_eq!(shown["size"], rule.size);
        assert_eq!(shown["mark"], json!(rule.mark));
        assert_eq!(shown["mark_words"], rule.mark.words());
        assert_eq!(shown["source"], rule.source);
    }
}

/// One row as it must read, so that table and answer can't be wrong together.
#[tokio::test]
async fn a_rule_reads_as_a_person_would_say_it() {
    let app = TestApp::start().await;
    let list = app.grower.get("/v1/dig-rules").await.assert_status(200).json();
    let w_bottom = json!({
        "cause": "discs_apart", "class": "mechanical",
        "when": "the furrow has a W bottom",
        "reading": "the discs do not touch as they should, or are worn",
        "check": "touch length with two cards", "change": "shim or replace",
        "size": "to the touch length of the manual",
        "mark": "read", "mark_words": "read in the source",
        "source": "Iowa State University. Planter pre-plant checklist, n.d."
    });
    assert!(items(&list).contains(&w_bottom), "{list}");
}

#[tokio::test]
async fn soil_and_iron_come_before_settings_and_no_rule_is_without_a_source() {
    let app = TestApp::start().await;
    let list = app.grower.get("/v1/dig-rules").await.assert_status(200).json();
    let place = |class: &str, last: bool| {
        let mut of_class = items(&list).iter().enumerate().filter(|(_, r)| r["class"] == class);
        let found = if last { of_class.next_back() } else { of_class.next() };
        found.map(|(place, _)| place).expect("a rule of each class")
    };
    let order = ["soil", "mechanical", "setting", "some_rows", "closing", "seed"];
    for pair in order.windows(2) {
        assert!(place(pair[0], true) < place(pair[1], false), "{pair:?}");
    }
    for rule in items(&list) {
        assert!(rule["source"].as_str().is_some_and(|words| !words.is_empty()), "{rule}");
        let unsourced = rule["source"] == "common practice, no source";
        assert_eq!(unsourced, rule["mark"] == "common_practice", "{rule}");
    }
}

#[tokio::test]
async fn rules_ask_for_a_caller() {
    let app = TestApp::start().await;
    app.nobody.get("/v1/dig-rules").await.assert_problem(401, "unauthenticated");
}
