//! Registering operations: in a server, in the API document, or in the table of paths.
//!
//! Every folder lists its operations once, in its `routes`. A server that starts registers them
//! without building their descriptions, which are large: the document is written by
//! `dibble openapi`, committed, and compared with the code by a test.

use actix_web::dev::HttpServiceFactory;
use actix_web::web;
use utoipa::openapi::path::{HttpMethod, Paths};
use utoipa::openapi::schema::Schema;
use utoipa::openapi::{Components, OpenApi, RefOr};
use utoipa_actix_web::OpenApiFactory;

/// Takes the operations of a folder.
pub struct Operations<'a>(Target<'a>);

enum Target<'a> {
    Server(&'a mut web::ServiceConfig),
    Document(&'a mut Described),
    Paths(&'a mut Vec<Served>),
}

/// Descriptions of operations.
#[derive(Default)]
pub struct Described {
    paths: Paths,
    schemas: Vec<(String, RefOr<Schema>)>,
}

/// A path and the methods that one operation takes on it.
#[derive(Clone)]
pub struct Served {
    /// The path, with `{name}` for its parameters.
    pub path: String,
    /// The methods.
    pub methods: Vec<HttpMethod>,
    /// The id in the API document; empty for what is not part of the API.
    pub operation_id: String,
}

impl<'a> Operations<'a> {
    /// Registers in a server.
    pub fn in_server(config: &'a mut web::ServiceConfig) -> Self {
        Self(Target::Server(config))
    }

    /// Notes descriptions.
    pub fn in_document(described: &'a mut Described) -> Self {
        Self(Target::Document(described))
    }

    /// Notes paths and methods only.
    pub fn in_paths(paths: &'a mut Vec<Served>) -> Self {
        Self(Target::Paths(paths))
    }

    /// Takes one operation.
    pub fn service<F>(&mut self, operation: F) -> &mut Self
    where
        F: HttpServiceFactory + OpenApiFactory + utoipa::Path + 'static,
    {
        match &mut self.0 {
            Target::Server(config) => {
                config.service(operation);
            }
            Target::Document(described) => {
                described.paths.merge(operation.paths());
                operation.schemas(&mut described.schemas);
            }
            Target::Paths(paths) => paths.push(Served {
                path: F::path(),
                methods: F::methods(),
                operation_id: F::operation().operation_id.unwrap_or_default(),
            }),
        }
        self
    }
}

impl Described {
    /// Names that two different schemas have: the document would hold only one of them.
    #[cfg(test)]
    pub fn clashes(&self) -> std::collections::BTreeSet<&str> {
        let mut first = std::collections::HashMap::new();
        let written = |schema| serde_json::to_value(schema).unwrap_or_default();
        let clashing = self.schemas.iter().filter(|(name, schema)| {
            let schema = written(schema);
            *first.entry(name).or_insert_with(|| schema.clone()) != schema
        });
        clashing.map(|(name, _)| name.as_str()).collect()
    }

    /// Puts the descriptions into a document, their paths under `prefix`.
    pub fn put_into(self, document: &mut OpenApi, prefix: &str) {
        let mut paths = Paths::new();
        for (path, item) in self.paths.paths {
            paths.paths.insert(format!("{prefix}{path}"), item);
        }
        document.paths.merge(paths);
        let components = document.components.get_or_insert_with(Components::new);
        components.schemas.extend(self.schemas);
    }
}
