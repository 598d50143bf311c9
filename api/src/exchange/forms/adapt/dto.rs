//! What the API document says of a data set. The schema of its members is that of the standard.

use serde::Serialize;
use serde_json::Value;
use utoipa::ToSchema;

/// A data set of the ADAPT Standard, version 2.0.2. What may stand in `catalog` and `documents` is in the
/// standard's own schema, `adapt-root-schema.json`.
#[derive(Debug, Serialize, ToSchema)]
#[serde(rename_all = "camelCase")]
#[schema(examples(json!({
    "rootSchemaVersion": "2.0.2",
    "documents": {"recommendations": [{
        "id": {"referenceId": "01964f1e-6a00-7000-8000-000000000031"},
        "name": "Settings sheet: North forty",
        "operations": [{
            "id": {"referenceId": "01964f1e-6a00-7000-8000-000000000031/planting"},
            "name": "Planting",
            "operationTypeCode": "APPLICATION_SOWING_AND_PLANTING_SEEDS",
            "variables": [{
                "id": {"referenceId": "01964f1e-6a00-7000-8000-000000000031/planting/SeedingDepthTarget"},
                "name": "Depth of the seed", "definitionCode": "SeedingDepthTarget"
            }],
            "summaryValues": [{
                "variableId": "01964f1e-6a00-7000-8000-000000000031/planting/SeedingDepthTarget",
                "valueText": "0.0508"
            }]
        }]
    }]},
    "catalog": {"fields": [{
        "id": {"referenceId": "01964f1e-6a00-7000-8000-000000000011"}, "name": "North forty"
    }]}
})))]
pub struct AdaptDataSet {
    /// The version of the standard's root schema.
    #[schema(example = "2.0.2")]
    pub root_schema_version: String,
    /// What was advised, done and found.
    #[schema(value_type = Object, example = json!({"recommendations": []}))]
    pub documents: Value,
    /// What the documents refer to.
    #[schema(value_type = Object, example = json!({"fields": []}))]
    pub catalog: Value,
}
