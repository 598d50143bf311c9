//! Where two JSON values differ.

use serde::Serialize;
use serde_json::{Map, Value};
use utoipa::ToSchema;

/// A place in which two results differ.
#[derive(Debug, PartialEq, Serialize, ToSchema)]
#[schema(examples(json!({
    "pointer": "/down_force/need/likely", "stored": "1112.05", "now": "1087.4"
})))]
pub struct Difference {
    /// JSON Pointer (RFC 6901) into the stored result.
    #[schema(example = "/down_force/need/likely")]
    pub pointer: String,
    /// What was stored, as JSON text, cut after 200 characters; absent where nothing was.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "1112.05")]
    pub stored: Option<String>,
    /// What comes out now, as JSON text, cut after 200 characters; absent where nothing does.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, example = "1087.4")]
    pub now: Option<String>,
}

/// Most characters of a value that are shown.
const LONGEST: usize = 200;

/// Every place in which `now` is not `stored`, bit for bit. A member that is `null` and one that is
/// absent say the same.
pub(super) fn differences(stored: &Value, now: &Value) -> Vec<Difference> {
    let mut found = Vec::new();
    walk(Some(stored), Some(now), "", &mut found);
    found
}

fn walk(stored: Option<&Value>, now: Option<&Value>, at: &str, found: &mut Vec<Difference>) {
    match (stored, now) {
        (Some(Value::Object(a)), Some(Value::Object(b))) => walk_members(a, b, at, found),
        (Some(Value::Array(a)), Some(Value::Array(b))) => {
            for index in 0..a.len().max(b.len()) {
                walk(a.get(index), b.get(index), &format!("{at}/{index}"), found);
            }
        }
        (stored, now) if same(stored, now) => {}
        (stored, now) => found.push(Difference {
            pointer: at.to_owned(),
            stored: stored.map(shown),
            now: now.map(shown),
        }),
    }
}

fn walk_members(
    stored: &Map<String, Value>,
    now: &Map<String, Value>,
    at: &str,
    found: &mut Vec<Difference>,
) {
    let new = now.keys().filter(|name| !stored.contains_key(*name));
    for name in stored.keys().chain(new) {
        let step = name.replace('~', "~0").replace('/', "~1");
        walk(stored.get(name), now.get(name), &format!("{at}/{step}"), found);
    }
}

fn same(stored: Option<&Value>, now: Option<&Value>) -> bool {
    match (stored.unwrap_or(&Value::Null), now.unwrap_or(&Value::Null)) {
        // A database may give a whole number without its point, and zero without its sign.
        (Value::Number(a), Value::Number(b)) => match (a.as_f64(), b.as_f64()) {
            (Some(a), Some(b)) => (a + 0.0).to_bits() == (b + 0.0).to_bits(),
            _ => a == b,
        },
        (a, b) => a == b,
    }
}

fn shown(value: &Value) -> String {
    let mut text = value.to_string();
    if let Some((end, _)) = text.char_indices().nth(LONGEST) {
        text.truncate(end);
        text.push('…');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::differences;
    use serde_json::json;

    #[test]
    fn what_is_the_same_has_none() {
        let it = json!({"a": [1.5, {"b": null}], "c": 2});
        assert_eq!(differences(&it, &it), []);
        assert_eq!(differences(&json!({"a": null, "n": 2}), &json!({"n": 2.0, "z": null})), []);
        assert_eq!(differences(&json!(0.0), &json!(-0.0)), []);
    }

    #[test]
    fn each_place_is_named_with_both_values() {
        let stored = json!({"a": [1.5, 2.5], "b/c": "x", "gone": {"d": 1}});
        let now = json!({"a": [1.5], "b/c": "y", "new": [0.1]});
        let found = differences(&stored, &now);
        let places: Vec<(&str, Option<&str>, Option<&str>)> = found
            .iter()
            .map(|it| (it.pointer.as_str(), it.stored.as_deref(), it.now.as_deref()))
            .collect();
        assert_eq!(
            places,
            [
                ("/a/1", Some("2.5"), None),
                ("/b~1c", Some("\"x\""), Some("\"y\"")),
                ("/gone", Some("{\"d\":1}"), None),
                ("/new", None, Some("[0.1]")),
            ]
        );
    }

    #[test]
    fn the_last_bit_counts() {
        let found = differences(&json!(0.1 + 0.2), &json!(0.3));
        assert_eq!(found.len(), 1);
    }
}
