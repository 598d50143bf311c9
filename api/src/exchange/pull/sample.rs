//! A record as it came, short enough to be looked at, and without our secrets.

use serde_json::{Map, Value};

/// Most characters of a text.
const TEXT: usize = 200;
/// Most entries of a list.
const LIST: usize = 5;
/// Most members of an object.
const MEMBERS: usize = 60;
/// How deep lists and objects may stand in each other.
const DEEPEST: usize = 8;
/// Most values in all.
const VALUES: usize = 300;

/// Shortens a record, and blots out secrets, wherever a records system may say them back.
pub fn shortened(record: &Value, secrets: &[String]) -> Value {
    Shortener { secrets, left: VALUES }.value(record, DEEPEST)
}

/// The text without secrets. What is shorter than a secret should be stands in many words.
pub fn blotted(text: &str, secrets: &[String]) -> String {
    let mut text = text.to_owned();
    for secret in secrets.iter().filter(|secret| secret.len() >= 4) {
        text = text.replace(secret.as_str(), "***");
    }
    text
}

struct Shortener<'a> {
    secrets: &'a [String],
    left: usize,
}

impl Shortener<'_> {
    fn value(&mut self, value: &Value, levels: usize) -> Value {
        if self.left == 0 || levels == 0 && (value.is_array() || value.is_object()) {
            return Value::from("…");
        }
        self.left -= 1;
        match value {
            Value::Null | Value::Bool(_) | Value::Number(_) => value.clone(),
            Value::String(text) => Value::from(self.text(text)),
            Value::Array(list) => self.list(list, levels - 1),
            Value::Object(members) => self.object(members, levels - 1),
        }
    }

    fn list(&mut self, list: &[Value], levels: usize) -> Value {
        let mut short: Vec<Value> = Vec::new();
        for value in list.iter().take(LIST) {
            short.push(self.value(value, levels));
        }
        if list.len() > LIST {
            short.push(Value::from(format!("… {} in all", list.len())));
        }
        short.into()
    }

    fn object(&mut self, members: &Map<String, Value>, levels: usize) -> Value {
        let mut short = Map::new();
        for (name, value) in members.iter().take(MEMBERS) {
            short.insert(self.text(name), self.value(value, levels));
        }
        short.into()
    }

    fn text(&self, text: &str) -> String {
        let mut text = blotted(text, self.secrets);
        if let Some((end, _)) = text.char_indices().nth(TEXT) {
            text.truncate(end);
            text.push('…');
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::shortened;
    use serde_json::{Value, json};

    #[test]
    fn a_record_is_shortened_and_says_no_secret() {
        let ring: Vec<Value> = (0..400).map(|n| json!([n, n])).collect();
        let record = json!({
            "name": "x".repeat(500), "shape": {"coordinates": [ring]}, "echo": "Bearer abcd-1234 abcd",
            "abcd-1234": null, "n": 1.5, "none": null
        });
        let short = shortened(&record, &["abcd-1234".to_owned(), "a".to_owned()]);
        assert_eq!(short["name"].as_str().expect("a text").chars().count(), 201);
        let shown = short["shape"]["coordinates"][0].as_array().expect("a ring");
        assert_eq!((shown.len(), &shown[5]), (6, &json!("… 400 in all")));
        assert_eq!(short["echo"], "Bearer *** abcd");
        assert!(short.get("***").is_some() && short["n"] == 1.5 && short["none"].is_null());
    }

    #[test]
    fn no_record_is_too_large_or_too_deep() {
        let deep = (0..100).fold(json!(1), |inner, _| json!([inner]));
        assert!(shortened(&deep, &[]).to_string().len() < 40);
        let wide: Value = (0..10_000).map(|n| (n.to_string(), json!([[1, 2], [3, 4]]))).collect();
        assert!(shortened(&wide, &[]).to_string().len() < 4000);
    }
}
