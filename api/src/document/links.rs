//! Links from what was made to what can be done with it, by rule.
//!
//! The answer of an operation that makes an object is linked to every operation on this object, and to
//! every list that can be narrowed down to it. What comes into being by the way, such as the
//! adjustment that a dig check proposes, is linked by its own id in the answer.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use utoipa::openapi::link::{Link, LinkBuilder};
use utoipa::openapi::path::{ParameterIn, PathItem};
use utoipa::openapi::response::Response;
use utoipa::openapi::schema::Schema;
use utoipa::openapi::{Components, OpenApi, RefOr};

use super::operations;

/// An operation that takes the id of an object.
struct Door {
    /// Where objects of this kind are: `farms`.
    collection: String,
    operation_id: String,
    /// The parameter that takes the id.
    parameter: String,
    /// Whether it wants to know which version is meant.
    if_match: bool,
}

/// Adds the links.
pub fn link(document: &mut OpenApi) {
    let OpenApi { paths, components: Some(components), .. } = document else { return };
    let paths = &mut paths.paths;
    let doors: Vec<Door> = paths.iter().flat_map(|(path, item)| doors(path, item)).collect();
    let homes: BTreeMap<String, String> = paths.iter().filter_map(home).collect();
    let makers: BTreeSet<String> = paths
        .iter()
        .filter(|(_, item)| item.post.is_some())
        .filter_map(|(path, _)| path.strip_prefix("/v1/").map(str::to_owned))
        .collect();
    for post in paths.values_mut().filter_map(|item| item.post.as_mut()) {
        let Some(RefOr::T(created)) = post.responses.responses.get_mut("201") else { continue };
        let Some(schema) = schema_of(created) else { continue };
        for member in members(components, &schema) {
            let own = member == "id";
            let collection = if own { homes.get(&schema).cloned() } else { plural(&member) };
            let Some(collection) = collection else { continue };
            if own || !makers.contains(&collection) {
                let opened = doors.iter().filter(|door| door.collection == collection);
                created.links.extend(opened.map(|door| door.link(&member)));
            }
        }
    }
}

/// The schema of the objects of a collection, and the collection, from the operation that reads one.
fn home((path, item): (&String, &PathItem)) -> Option<(String, String)> {
    let collection = path.strip_prefix("/v1/")?.strip_suffix("/{id}")?;
    match item.get.as_ref()?.responses.responses.get("200")? {
        RefOr::T(response) => Some((schema_of(response)?, collection.to_owned())),
        RefOr::Ref(_) => None,
    }
}

/// What an operation of this path takes ids of.
fn doors(path: &str, item: &PathItem) -> Vec<Door> {
    let mut parts = path.split('/').skip(2);
    let (first, second) = (parts.next().unwrap_or_default(), parts.next());
    let mut found = Vec::new();
    for operation in operations(item) {
        let all = || {
            operation.parameters.iter().flatten().filter_map(|it| match it {
                RefOr::T(parameter) => Some(parameter),
                RefOr::Ref(_) => None,
            })
        };
        let if_match = all().any(|it| it.name == "If-Match");
        let mut push = |collection: String, parameter: &str| {
            let operation_id = operation.operation_id.clone().unwrap_or_default();
            found.push(Door {
                collection,
                operation_id,
                parameter: parameter.to_owned(),
                if_match,
            });
        };
        if second == Some("{id}") {
            push(first.to_owned(), "id");
        }
        for parameter in all().filter(|it| it.parameter_in == ParameterIn::Query) {
            if let Some(collection) = plural(&parameter.name) {
                push(collection, &parameter.name);
            }
        }
    }
    found
}

/// `dig_check_id`: `dig-checks`.
fn plural(member: &str) -> Option<String> {
    Some(format!("{}s", member.strip_suffix("_id")?.replace('_', "-")))
}

/// The name of the schema of the body.
fn schema_of(response: &Response) -> Option<String> {
    let RefOr::T(content) = response.content.get("application/json")? else { return None };
    match &content.schema {
        Some(RefOr::Ref(reference)) => reference.ref_location.rsplit('/').next().map(str::to_owned),
        _ => None,
    }
}

/// The members of a schema.
fn members(components: &Components, schema: &str) -> Vec<String> {
    match components.schemas.get(schema) {
        Some(RefOr::T(Schema::Object(object))) => object.properties.keys().cloned().collect(),
        _ => Vec::new(),
    }
}

impl Door {
    fn link(&self, member: &str) -> (String, RefOr<Link>) {
        let id = Value::from(format!("$response.body#/{member}"));
        let mut link = LinkBuilder::new()
            .operation_id(self.operation_id.clone())
            .parameter(self.parameter.clone(), id);
        if self.if_match && member == "id" {
            link = link.parameter("If-Match", Value::from("$response.header.ETag"));
        }
        (self.operation_id.clone(), RefOr::T(link.build()))
    }
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use crate::routes;

    fn links(document: &Value, path: &str) -> Value {
        document["paths"][path]["post"]["responses"]["201"]["links"].clone()
    }

    #[test]
    fn what_was_made_leads_to_what_can_be_done_with_it() {
        let document = serde_json::to_value(routes::document()).expect("JSON");
        let farm = links(&document, "/v1/farms");
        let read = json!({"operationId": "get_farm", "parameters": {"id": "$response.body#/id"}});
        assert_eq!(farm["get_farm"], read);
        let change = json!({"id": "$response.body#/id", "If-Match": "$response.header.ETag"});
        assert_eq!(farm["update_farm"]["parameters"], change);
        let narrowed = json!({"farm_id": "$response.body#/id"});
        assert_eq!(farm["list_fields"]["parameters"], narrowed);
        assert!(farm.get("get_grower").is_none(), "the grower was there before");
    }

    #[test]
    fn an_id_is_not_taken_for_that_of_what_it_is_under() {
        let document = serde_json::to_value(routes::document()).expect("JSON");
        let calibration = links(&document, "/v1/planters/{id}/calibrations");
        assert!(calibration.get("get_planter").is_none(), "{calibration}");
        let dig = links(&document, "/v1/recommendations/{id}/dig-checks");
        assert!(dig.get("get_recommendation").is_none());
        assert_eq!(dig["get_dig_check"]["parameters"]["id"], "$response.body#/id");
        let accept = json!({"id": "$response.body#/adjustment_id"});
        assert_eq!(dig["accept_adjustment"]["parameters"], accept);
        let next = links(&document, "/v1/recommendations/{id}/revise");
        assert_eq!(next["issue_recommendation"]["parameters"]["id"], "$response.body#/id");
    }
}
