//! What a data set of ADAPT must hold beyond its shape: references lead somewhere, codes are known, figures
//! are numbers. The whole set of rules, with the standard's files, is in `tests/exchange/forms`.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

/// Visits every object.
fn objects<'a>(value: &'a Value, visit: &mut impl FnMut(&'a serde_json::Map<String, Value>)) {
    match value {
        Value::Object(members) => {
            visit(members);
            members.values().for_each(|member| objects(member, visit));
        }
        Value::Array(members) => members.iter().for_each(|member| objects(member, visit)),
        _ => (),
    }
}

/// Fails with all that is wrong.
#[track_caller]
pub(super) fn hold(data: &Value) {
    let mut there = BTreeSet::new();
    let mut wrong = Vec::new();
    objects(data, &mut |it| {
        if let Some(id) = it.get("id").and_then(|id| id["referenceId"].as_str())
            && !there.insert(id)
        {
            wrong.push(format!("{id} stands twice"));
        }
    });
    let own: BTreeSet<&str> = list(data, "/catalog/customDataTypeDefinitions")
        .iter()
        .filter_map(|it| it["definitionCode"].as_str())
        .collect();
    let mut check = |name: &str, id: &Value| {
        let id = id.as_str().expect("text");
        if !there.contains(id) {
            wrong.push(format!("{name}: {id} is not there"));
        }
    };
    objects(data, &mut |it| {
        for (name, value) in it {
            if name == "referenceId" || name == "uniqueIds" {
                continue;
            }
            if name.ends_with("Id") {
                check(name, value);
            } else if name.ends_with("Ids") {
                value.as_array().expect("a list").iter().for_each(|id| check(name, id));
            }
        }
    });
    objects(data, &mut |it| {
        for time in ["start", "end"].iter().filter_map(|name| it.get(*name)?.as_str()) {
            if !time.ends_with('Z') {
                wrong.push(format!("{time} is not UTC"));
            }
        }
        if let Some(code) = it.get("definitionCode").and_then(Value::as_str)
            && code.contains('_')
            && !(code.starts_with("DIBBLE_") && own.contains(code))
        {
            wrong.push(format!("{code} is not defined"));
        }
        if let Some(text) = it.get("valueText").and_then(Value::as_str)
            && text.parse::<f64>().is_err()
        {
            wrong.push(format!("{text} is no number"));
        }
        for (name, value) in it {
            if value.as_array().is_some_and(Vec::is_empty) {
                wrong.push(format!("{name} is empty"));
            }
        }
    });
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A list at a pointer; empty where there is none.
pub(super) fn list<'a>(data: &'a Value, pointer: &str) -> &'a [Value] {
    data.pointer(pointer).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

/// The figures of an operation, by code.
pub(super) fn figures(operation: &Value) -> BTreeMap<String, f64> {
    let text = |value: &Value| value.as_str().expect("text").to_owned();
    let codes: BTreeMap<String, String> = list(operation, "/variables")
        .iter()
        .map(|it| (text(&it["id"]["referenceId"]), text(&it["definitionCode"])))
        .collect();
    list(operation, "/summaryValues")
        .iter()
        .map(|it| {
            let code = codes[&text(&it["variableId"])].clone();
            (code, text(&it["valueText"]).parse().expect("a number"))
        })
        .collect()
}
