//! The operations of the API document.

use api::auth::permission::{self, Granted};
use serde_json::{Value, json};
use tests::{Answer, User};

use crate::walk::world::World;

/// An id that nothing has.
pub(super) const ABSENT: &str = "01964f1e-0000-7000-8000-00000000dead";

/// An operation as the document describes it.
pub(super) struct Operation {
    pub(super) id: String,
    pub(super) method: String,
    pub(super) path: String,
    /// The example of the body: something valid.
    pub(super) body: Option<Value>,
    /// The form and the example of a body that is a file of text.
    pub(super) file: Option<(&'static str, String)>,
    /// Members of the body that refer to another object.
    pub(super) references: Vec<String>,
    /// Names of the parameters in the query.
    pub(super) query: Vec<String>,
    /// The scope that is needed; none where anyone may call.
    pub(super) scope: Option<&'static Granted>,
    /// The statuses that the document names.
    pub(super) statuses: Vec<String>,
}

impl Operation {
    /// The path with ids that nothing has.
    pub(super) fn nowhere(&self) -> String {
        self.at(|_kind| ABSENT.to_owned())
    }

    /// The path to objects of a world.
    pub(super) fn within(&self, world: &World) -> String {
        self.at(|kind| world.id_of(kind).to_owned())
    }

    /// The path, with an id for each kind that it names.
    pub(super) fn at(&self, id: impl Fn(&str) -> String) -> String {
        let mut path = self.path.clone();
        for (variable, value) in [
            ("{code}", "stale"),
            ("{name}", "opener_resistance"),
            ("{season}", "2027"),
            ("{system}", "walked"),
            ("{their_id}", "nothing"),
        ] {
            path = path.replace(variable, value);
        }
        if let Some((before, _)) = self.path.split_once("{id}") {
            path = path.replace("{id}", &id(World::kind_of_path(before)));
        }
        path = path.replace("{secret_id}", &id("client_secret"));
        path = path.replace("{delivery_id}", &id("delivery"));
        path = path.replace("{run_id}", &id("records_run"));
        path = path.replace("{entry}", &format!("dig_failed.{}", id("recommendation")));
        assert!(!path.contains('{'), "{}: {path} has a part that the walk does not know", self.id);
        path
    }

    /// The kind of the object that the path leads to; an entry of the attention list is about a sheet.
    pub(super) fn kind(&self) -> Option<&'static str> {
        if self.path.contains("{entry}") {
            return Some("recommendation");
        }
        self.path.split_once("{id}").map(|(before, _)| World::kind_of_path(before))
    }

    /// Calls it at a path.
    pub(super) async fn call(&self, user: &User, path: &str) -> Answer {
        self.call_with(user, path, self.body.as_ref()).await
    }

    /// Calls it at a path with a body of one's own.
    pub(super) async fn call_with(&self, user: &User, path: &str, body: Option<&Value>) -> Answer {
        let any = [("if-match", "*")];
        if let (Some((form, file)), None) = (&self.file, body) {
            let headers = [("if-match", "*"), ("content-type", *form)];
            return user.send_text(&self.method, path, &headers, Some(file.clone())).await;
        }
        let headers: &[(&str, &str)] = if self.method == "GET" { &[] } else { &any };
        user.send(&self.method, path, headers, body).await
    }
}

/// Forms of bodies that are files of text.
const FILES: [&str; 3] = ["text/csv", "application/xml", "application/geo+json"];

/// Every operation that the code describes.
pub(super) fn operations() -> Vec<Operation> {
    let document = serde_json::to_value(api::routes::document()).expect("JSON");
    let mut found = Vec::new();
    for (path, item) in document["paths"].as_object().expect("paths") {
        for (method, operation) in item.as_object().expect("operations") {
            found.push(read(&document, method, path, operation));
        }
    }
    assert!(found.len() > 100, "only {} operations found", found.len());
    found
}

fn read(document: &Value, method: &str, path: &str, operation: &Value) -> Operation {
    let id = operation["operationId"].as_str().expect("an id").to_owned();
    let scope = operation["security"][0]["bearer"][0].as_str();
    let named = |name| permission::named(name).unwrap_or_else(|| panic!("{id}: no scope {name}"));
    let schema = body_schema(document, operation);
    let parameters = operation["parameters"].as_array().into_iter().flatten();
    Operation {
        method: method.to_uppercase(),
        path: path.to_owned(),
        body: schema.map(|schema| schema["examples"][0].clone()),
        file: FILES.iter().find_map(|form| {
            let content = &operation["requestBody"]["content"][*form];
            if let Some(example) = content["example"].as_str() {
                return Some((*form, example.to_owned()));
            }
            let reference = content["schema"]["$ref"].as_str()?;
            let schema = document.pointer(reference.trim_start_matches('#'))?;
            Some((*form, schema["examples"][0].to_string()))
        }),
        references: schema.map(references).unwrap_or_default(),
        query: parameters
            .filter(|parameter| parameter["in"] == "query")
            .map(|parameter| parameter["name"].as_str().expect("a name").to_owned())
            .collect(),
        scope: scope.map(named),
        statuses: operation["responses"].as_object().expect("responses").keys().cloned().collect(),
        id,
    }
}

fn body_schema<'a>(document: &'a Value, operation: &Value) -> Option<&'a Value> {
    let content = &operation["requestBody"]["content"]["application/json"];
    let reference = content["schema"]["$ref"].as_str()?;
    Some(document.pointer(reference.trim_start_matches('#')).expect("a schema"))
}

/// Members whose name ends like that of an id and whose value is one.
fn references(schema: &Value) -> Vec<String> {
    let members = schema["properties"].as_object().into_iter().flatten();
    members
        .filter(|(name, member)| name.ends_with("_id") && member["format"] == json!("uuid"))
        .map(|(name, _)| name.clone())
        .collect()
}
