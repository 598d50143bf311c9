//! Figures of an operation: a variable and its one summary value each.

use serde_json::{Map, Value, json};

use super::definitions::Definition;
use super::ids;

/// Figures of an operation.
#[derive(Debug)]
pub(super) struct Figures {
    operation: String,
    variables: Vec<Value>,
    values: Vec<Value>,
}

impl Figures {
    /// None yet.
    pub(super) fn of(operation: &str) -> Self {
        Self { operation: operation.to_owned(), variables: Vec::new(), values: Vec::new() }
    }

    /// A figure in SI, where it is known.
    pub(super) fn put(&mut self, definition: Definition, figure: Option<f64>) -> &mut Self {
        self.put_of(definition, figure, None)
    }

    /// The rate of a product.
    pub(super) fn put_of(
        &mut self,
        definition: Definition,
        figure: Option<f64>,
        product: Option<&str>,
    ) -> &mut Self {
        let Some(figure) = figure.filter(|it| it.is_finite()) else { return self };
        let id = format!("{}/{}", self.operation, definition.code);
        let mut variable = Map::new();
        variable.insert("id".into(), ids::local(&id));
        variable.insert("name".into(), definition.name.into());
        variable.insert("definitionCode".into(), definition.code.into());
        if let Some(product) = product {
            variable.insert("productId".into(), product.into());
        }
        self.variables.push(variable.into());
        self.values.push(json!({"variableId": id, "valueText": definition.text(figure)}));
        self
    }

    /// Into the operation.
    pub(super) fn finish(self, operation: &mut Map<String, Value>) {
        if !self.variables.is_empty() {
            operation.insert("variables".into(), self.variables.into());
            operation.insert("summaryValues".into(), self.values.into());
        }
    }
}
