//! Describes the member that tells the forms of a union apart, which the generator of the API
//! document leaves without words.

use utoipa::openapi::schema::{Object, OneOf};
use utoipa::openapi::{OpenApi, RefOr, Schema};

/// Describes the tags of every union in the document.
pub fn describe(document: &mut OpenApi) {
    let Some(components) = &mut document.components else { return };
    for schema in components.schemas.values_mut() {
        if let RefOr::T(Schema::OneOf(union)) = schema {
            describe_forms(union);
        }
    }
}

fn describe_forms(union: &mut OneOf) {
    for form in &mut union.items {
        if let RefOr::T(Schema::Object(form)) = form {
            form.properties.values_mut().filter_map(word).for_each(|word| {
                word.description = Some("Tells the forms apart.".to_owned());
            });
        }
    }
}

/// A member that takes one word only and is not described.
fn word(member: &mut RefOr<Schema>) -> Option<&mut Object> {
    match member {
        RefOr::T(Schema::Object(object)) => {
            let is_word = object.enum_values.as_ref().is_some_and(|words| words.len() == 1);
            (is_word && object.description.is_none()).then_some(object)
        }
        _ => None,
    }
}
