//! Reading JSON and query strings into types, strictly, naming what is refused.
//!
//! Beside serde's own reader this one gives the JSON Pointer of a refusal, takes no list where an
//! object is asked for, and takes `2.0` where a whole number is asked for (as JSON Schema does).

mod node;
pub mod reader;
mod refusal;

use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use super::member::BadMember;
use node::{Node, Path};
pub use refusal::Refusal;

/// Reads a JSON value as a `T`.
pub fn from_value<T: DeserializeOwned>(value: &Value) -> Result<T, Refusal> {
    T::deserialize(Node::json(value, &Path::Root)).map_err(|refusal| refusal.at(&Path::Root))
}

/// Reads a query string as a `T`. The pointer of a refusal is `?name`.
pub fn from_query<T: DeserializeOwned>(query: &str) -> Result<T, BadMember> {
    let mut pairs = Map::new();
    for (name, text) in form_urlencoded::parse(query.as_bytes()) {
        if pairs.insert(name.to_string(), Value::String(text.to_string())).is_some() {
            return Err(BadMember::new(format!("?{name}"), "This parameter is given twice."));
        }
    }
    let value = Value::Object(pairs);
    T::deserialize(Node::query(&value, &Path::Root)).map_err(|refusal| {
        let mut member = refusal.at(&Path::Root).into_member();
        member.pointer = format!("?{}", member.pointer.trim_start_matches('/'));
        member
    })
}

#[cfg(test)]
mod tests {
    use super::{from_query, from_value};
    use serde::Deserialize;
    use serde_json::{Value, json};

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Outer {
        inner: Inner,
        list: Vec<u8>,
        #[serde(default)]
        level: Option<Level>,
    }
    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Inner {
        depth: f64,
    }
    #[derive(Debug, PartialEq, Deserialize)]
    #[serde(rename_all = "snake_case")]
    enum Level {
        Low,
        High,
    }
    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Wanted {
        #[serde(default)]
        limit: Option<u16>,
        #[serde(default)]
        level: Option<Level>,
    }

    fn refused(value: &Value) -> (String, String) {
        let member = from_value::<Outer>(value).expect_err("refused").into_member();
        (member.pointer, member.allowed.unwrap_or_default())
    }

    #[test]
    fn what_fits_is_taken() {
        let whole: Outer =
            from_value(&json!({"inner": {"depth": 2}, "list": [1.0, 2], "level": "high"}))
                .expect("valid");
        assert_eq!(
            (whole.inner.depth, whole.list, whole.level),
            (2.0, vec![1, 2], Some(Level::High))
        );
    }

    #[test]
    fn each_refusal_names_its_member() {
        let with = |inner: Value, list: Value| refused(&json!({"inner": inner, "list": list})).0;
        assert_eq!(with(json!({"depth": "x"}), json!([])), "/inner/depth");
        assert_eq!(with(json!({}), json!([])), "/inner/depth");
        assert_eq!(with(json!({"depth": 1, "a/b~c": 2}), json!([])), "/inner/a~1b~0c");
        assert_eq!(with(json!({"depth": 1}), json!([1, 300])), "/list/1");
        assert_eq!(with(json!({"depth": 1}), json!([1, 1.5])), "/list/1");
        assert_eq!(with(json!({"depth": null}), json!([])), "/inner/depth");
        let (pointer, allowed) =
            refused(&json!({"inner": {"depth": 1}, "list": [], "level": "middle"}));
        assert_eq!((pointer.as_str(), allowed.as_str()), ("/level", "low, high"));
    }

    #[test]
    fn a_list_is_no_object() {
        assert_eq!(refused(&json!([{"depth": 1}, []])).0, "");
        assert_eq!(refused(&json!({"inner": [1], "list": []})).0, "/inner");
    }

    #[test]
    fn a_refused_parameter_is_named() {
        let wanted = |query| from_query::<Wanted>(query);
        assert_eq!(wanted("limit=7&level=low").expect("valid").limit, Some(7));
        assert_eq!(wanted("level=low").expect("valid").level, Some(Level::Low));
        assert_eq!(wanted("").expect("valid").limit, None);
        for (query, pointer) in [
            ("limit=many", "?limit"),
            ("limit=-1", "?limit"),
            ("limti=7", "?limti"),
            ("limit=1&limit=2", "?limit"),
            ("level=middle", "?level"),
        ] {
            assert_eq!(wanted(query).expect_err(query).pointer, pointer);
        }
    }
}
