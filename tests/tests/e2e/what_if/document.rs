//! The API document as the tests of the calculations read it.

use std::collections::BTreeSet;

use serde_json::Value;
use tests::TestApp;

/// The document, as served.
pub(super) struct Document(Value);

/// A quantity of a body, with the bound that its description names.
pub(super) struct Member {
    pub pointer: String,
    pub bound: String,
    list: bool,
}

impl Member {
    /// The body with this value here, and the pointer at which it must be refused.
    pub(super) fn with(&self, body: &Value, value: f64, unit: &str) -> (Value, String) {
        let mut body = body.clone();
        let (parent, name) = self.pointer.rsplit_once('/').expect("a member");
        let parent = body.pointer_mut(parent).expect("the parent is there");
        let (new, at) = if self.list {
            let mut values = parent[name]["values"].clone();
            values[0] = Value::from(value);
            let list = serde_json::json!({"unit": unit, "values": values});
            (list, format!("{}/values/0", self.pointer))
        } else {
            (serde_json::json!({"value": value, "unit": unit}), self.pointer.clone())
        };
        parent[name] = new;
        (body, at)
    }
}

impl Document {
    pub(super) async fn of(app: &TestApp) -> Self {
        Self(app.nobody.get("/openapi.json").await.assert_status(200).json())
    }

    pub(super) fn paths_under(&self, start: &str) -> BTreeSet<String> {
        let paths = self.0["paths"].as_object().expect("paths");
        paths.keys().filter(|path| path.starts_with(start)).cloned().collect()
    }

    pub(super) fn description(&self, path: &str) -> &str {
        self.0["paths"][path]["post"]["description"].as_str().unwrap_or_default()
    }

    pub(super) fn body_example(&self, path: &str) -> &Value {
        self.example(path, &self.0["paths"][path]["post"]["requestBody"])
    }

    pub(super) fn answer_example(&self, path: &str) -> &Value {
        self.example(path, &self.0["paths"][path]["post"]["responses"]["200"])
    }

    fn example<'a>(&'a self, path: &str, part: &'a Value) -> &'a Value {
        let content = &part["content"]["application/json"];
        let own = &content["example"];
        let found =
            if own.is_null() { &self.resolved(&content["schema"])["examples"][0] } else { own };
        assert!(found.is_object(), "{path} has no example: {content}");
        found
    }

    fn body_schema(&self, path: &str) -> &Value {
        let body = &self.0["paths"][path]["post"]["requestBody"];
        self.resolved(&body["content"]["application/json"]["schema"])
    }

    /// The schema behind a `$ref`, which may stand alone in a `oneOf` or `allOf`.
    fn resolved<'a>(&'a self, schema: &'a Value) -> &'a Value {
        match referred(schema) {
            Some(name) => {
                let found = &self.0["components"]["schemas"][name];
                assert!(found.is_object(), "no schema {name}");
                found
            }
            None => schema,
        }
    }

    /// The variant of a tagged body, or the schema itself.
    fn variant<'a>(&self, schema: &'a Value, body: &Value) -> &'a Value {
        match schema["oneOf"].as_array() {
            Some(variants) => variants
                .iter()
                .find(|variant| kind_of(variant) == body["kind"])
                .unwrap_or_else(|| panic!("no variant for {body}")),
            None => schema,
        }
    }

    /// Every quantity of a body, also those that it leaves out, with its bound.
    pub(super) fn members(&self, path: &str, body: &Value) -> Vec<Member> {
        let mut found = Vec::new();
        self.walk(self.body_schema(path), body, "", &mut |_, member| found.extend(member));
        found
    }

    /// Members that the body must have.
    pub(super) fn required(&self, path: &str, body: &Value) -> Vec<String> {
        let schema = self.variant(self.body_schema(path), body);
        let names = schema["required"].as_array().cloned().unwrap_or_default();
        names.iter().map(|name| name.as_str().expect("a name").to_owned()).collect()
    }

    /// Notes the kinds that a body shows.
    pub(super) fn note_kinds(&self, path: &str, body: &Value, seen: &mut BTreeSet<String>) {
        let schema = self.body_schema(path);
        self.walk(schema, body, "", &mut |kind, _| seen.extend(kind));
    }

    /// The kinds of all tagged parts of the bodies of these paths.
    pub(super) fn all_kinds(&self, paths: impl Iterator<Item = String>) -> BTreeSet<String> {
        let mut kinds = BTreeSet::new();
        for path in paths {
            self.collect_kinds(self.body_schema(&path), &mut kinds);
        }
        kinds
    }

    fn collect_kinds(&self, schema: &Value, kinds: &mut BTreeSet<String>) {
        let variants = schema["oneOf"].as_array();
        for variant in variants.map_or(std::slice::from_ref(schema), Vec::as_slice) {
            if variants.is_some() {
                kinds.insert(kind_of(variant).to_string());
            }
            let properties = variant["properties"].as_object();
            for property in properties.into_iter().flat_map(|all| all.values()) {
                let inner =
                    if property["items"].is_object() { &property["items"] } else { property };
                if let Some(name) = referred(inner)
                    && !is_quantity(name)
                {
                    self.collect_kinds(self.resolved(inner), kinds);
                }
            }
        }
    }

    fn walk(
        &self,
        schema: &Value,
        body: &Value,
        pointer: &str,
        note: &mut impl FnMut(Option<String>, Option<Member>),
    ) {
        if schema["oneOf"].is_array() {
            note(Some(body["kind"].to_string()), None);
        }
        let schema = self.variant(schema, body);
        for (name, property) in schema["properties"].as_object().into_iter().flatten() {
            let at = format!("{pointer}/{name}");
            let items = &property["items"];
            match (referred(property), referred(items)) {
                (Some(kind), _) if is_quantity(kind) => {
                    let list = kind == "Quantities";
                    note(None, Some(Member { bound: bound_of(&at, property), pointer: at, list }));
                }
                (Some(_), _) if body.get(name).is_some() => {
                    self.walk(self.resolved(property), &body[name], &at, note);
                }
                (_, Some(_)) if body[name].as_array().is_some_and(|list| !list.is_empty()) => {
                    let last = body[name].as_array().map_or(0, |list| list.len() - 1);
                    let at = format!("{at}/{last}");
                    self.walk(self.resolved(items), &body[name][last], &at, note);
                }
                _ => {}
            }
        }
    }
}

fn is_quantity(schema: &str) -> bool {
    matches!(schema, "Quantity" | "Quantities")
}

fn kind_of(variant: &Value) -> Value {
    let kind = &variant["properties"]["kind"];
    if kind["const"].is_string() { kind["const"].clone() } else { kind["enum"][0].clone() }
}

/// The name of the schema that is referred to.
fn referred(schema: &Value) -> Option<&str> {
    let alone = |list: &'static str| match schema[list].as_array().map(Vec::as_slice) {
        Some([only]) => only["$ref"].as_str(),
        _ => None,
    };
    let path = schema["$ref"].as_str().or_else(|| alone("oneOf")).or_else(|| alone("allOf"))?;
    path.rsplit('/').next()
}

/// The bound that a description names, as in "Bound: `row_width`."
fn bound_of(pointer: &str, property: &Value) -> String {
    let text = property["description"].as_str().unwrap_or_default();
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let named = text.split_once("Bound: `").and_then(|(_, rest)| rest.split_once('`'));
    let (name, _) = named.unwrap_or_else(|| panic!("{pointer} names no bound: {property}"));
    name.to_owned()
}

/// Fails unless both are alike, numbers to nine digits.
#[track_caller]
pub(super) fn assert_same(at: &str, live: &Value, documented: &Value) {
    match (live, documented) {
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().expect("a number"), b.as_f64().expect("a number"));
            assert!((a - b).abs() <= 1e-9 * a.abs().max(b.abs()), "{at}: {a}, documented {b}");
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{at}: {live}, documented {documented}");
            for (index, (a, b)) in a.iter().zip(b).enumerate() {
                assert_same(&format!("{at}/{index}"), a, b);
            }
        }
        (Value::Object(a), Value::Object(b)) => {
            let names =
                |o: &serde_json::Map<String, Value>| o.keys().cloned().collect::<BTreeSet<_>>();
            assert_eq!(names(a), names(b), "{at}");
            for (name, a) in a {
                assert_same(&format!("{at}/{name}"), a, &b[name]);
            }
        }
        _ => assert_eq!(live, documented, "{at}"),
    }
}
