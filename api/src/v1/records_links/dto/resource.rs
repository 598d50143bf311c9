//! Where the records of one kind are, and what stands where in them.

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::http::patch::present;
use crate::v1::yields::dto::GrainBasis;

macro_rules! resource {
    ($($(#[$doc:meta])* $member:ident = $example:literal;)*) => {
        /// Where the records of one kind are, and what stands where in each. `items` is a JSONPath
        /// (RFC 9535) to the records of a page; all else is a JSON Pointer (RFC 6901) into one record. What
        /// is left out is not spoken of, and stays as it is here. A preset fills in what it knows.
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
        #[serde(deny_unknown_fields)]
        #[schema(examples(json!({
            "path": "/fields", "parameters": [{"name": "limit", "value": "200"}],
            "items": "$.data[*]", "id": "/uid", "name": "/label", "parent": "/owner/id",
            "area": {"pointer": "/size", "unit": "[acr_us]"},
            "boundary": {"pointer": "/shape", "encoding": "geojson"}
        })))]
        pub struct RecordsResource {
            /// Path behind the base address, with a slash before it.
            #[schema(min_length = 1, max_length = 200, example = "/fields")]
            pub path: String,
            /// Parameters of the first request.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            #[schema(max_items = 20)]
            pub parameters: Vec<RecordsParameter>,
            /// JSONPath to the records of a page: steps by name, by number, `[*]`, or a filter over members of
            /// the record. Needed unless a preset has it.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false, min_length = 1, max_length = 200, example = "$.data[*]")]
            pub items: Option<String>,
            $(
                $(#[$doc])*
                #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
                #[schema(nullable = false, max_length = 200, example = $example)]
                pub $member: Option<String>,
            )*
            /// Where the boundary of a field stands, and how it is written: longitude and latitude on WGS 84.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub boundary: Option<RecordsBoundary>,
            /// Where the area of a field stands, and its unit.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub area: Option<RecordsMeasure>,
            /// Where the distance between the rows of a planter stands, and its unit.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub row_spacing: Option<RecordsMeasure>,
            /// Where a yield stands, grain on an area, and its unit.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub grain: Option<RecordsMeasure>,
            /// How much water all yields there count. Needed for yields.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub basis: Option<GrainBasis>,
            /// Where the water in the grain stands, and its unit; with the basis `at_moisture` only.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub moisture: Option<RecordsMeasure>,
            /// Where the area that was harvested stands, and its unit.
            #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
            #[schema(nullable = false)]
            pub harvested_area: Option<RecordsMeasure>,
        }
    };
}

resource! {
    /// Their id of the record: a text or a whole number that stays the same. Needed unless a preset has it.
    id = "/uid";
    /// Their version of the record.
    version = "/revision";
    /// When they changed the record (RFC 3339).
    updated_at = "/changed";
    /// Their id of what it belongs to: the grower of a farm or a planter, the farm of a field, the field of a
    /// yield.
    parent = "/owner/id";
    /// Name.
    name = "/label";
    /// Telephone number of a grower.
    phone = "/contact/phone";
    /// E-mail address of a grower.
    email = "/contact/email";
    /// Rows of a planter.
    rows = "/rows";
    /// Day of the harvest (RFC 3339).
    harvested_on = "/day";
    /// Crop that was harvested: our word for it, or its code of ICASA or EPPO.
    crop = "/crop";
    /// Note on a yield.
    note = "/remark";
}

/// A parameter of a request.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"name": "limit", "value": "200"})))]
pub struct RecordsParameter {
    /// Its name.
    #[schema(min_length = 1, max_length = 100, example = "limit")]
    pub name: String,
    /// Its value.
    #[schema(max_length = 500, example = "200")]
    pub value: String,
}

/// Where a number stands, and its unit: a number without one is worth nothing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"pointer": "/size", "unit": "[acr_us]"})))]
pub struct RecordsMeasure {
    /// JSON Pointer into the record.
    #[schema(min_length = 1, max_length = 200, example = "/size")]
    pub pointer: String,
    /// UCUM code of the unit that all numbers there have.
    #[schema(
        min_length = 1,
        max_length = 20,
        pattern = "^[A-Za-z0-9\\[\\]_%/*.'{}-]+$",
        example = "[acr_us]"
    )]
    pub unit: String,
}

/// How a boundary is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(example = "geojson")]
pub enum RecordsEncoding {
    /// A GeoJSON geometry (RFC 7946).
    Geojson,
    /// Well-known text, longitude first.
    Wkt,
}

/// Where a boundary stands, and how it is written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"pointer": "/shape", "encoding": "geojson"})))]
pub struct RecordsBoundary {
    /// JSON Pointer into the record.
    #[schema(min_length = 1, max_length = 200, example = "/shape")]
    pub pointer: String,
    /// How it is written.
    pub encoding: RecordsEncoding,
}

/// The resources of a records system; one at least.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(examples(json!({"growers": {
    "path": "/clients", "items": "$.data[*]", "id": "/uid", "name": "/label"
}})))]
pub struct RecordsResources {
    /// Growers.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub growers: Option<RecordsResource>,
    /// Farms.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub farms: Option<RecordsResource>,
    /// Fields.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub fields: Option<RecordsResource>,
    /// Planters.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub planters: Option<RecordsResource>,
    /// Yields.
    #[serde(default, deserialize_with = "present", skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false)]
    pub yields: Option<RecordsResource>,
}
